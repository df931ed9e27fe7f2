package main

import (
	"strconv"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/moment"
)

// whenHelp explains the --at flag.
const whenHelp = `when it happened: "2026-03-05 18:30", "yesterday 18:00", "day 5" (of the brew), "2h ago"; ` +
	`now, or as it was, if left out`

// batchTime is parseWhen for an event of a batch. "Day 5" counts from the start of
// the brew, the oldest ancestor, as the ledger shows it: a jar split off on day 10
// gets its tea on day 10.1. A date alone is that of the batch itself.
func (e *env) batchTime(n *trials.Notebook, b trials.Batch, text string) (time.Time, error) {
	return e.readMoment(text, moment.Clock{Now: e.now(), Start: b.StartedAt, Brew: n.Index().Root(b).StartedAt})
}

// parseWhen reads a time as people write it. Start is the moment that "day 5"
// counts from, or the zero time.
func (e *env) parseWhen(text string, start time.Time) (time.Time, error) {
	return e.readMoment(text, moment.Clock{Now: e.now(), Start: start})
}

// readMoment reads text and remarks what was taken that was not typed.
func (e *env) readMoment(text string, c moment.Clock) (time.Time, error) {
	r, err := moment.Parse(text, c)
	for _, note := range r.Notes {
		e.taken(note)
	}
	if r.ToCome {
		e.remark("note: %s is still to come", r.At.In(c.Now.Location()).Format("2006-01-02 15:04"))
	}
	return r.At, err
}

// atoi reads a whole number, 0 when it is none.
func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

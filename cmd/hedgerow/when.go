package main

import (
	"strconv"
	"strings"
	"time"

	"hedgerow/trials"
)

// whenHelp explains the --at flag.
const whenHelp = `when it happened: "2026-03-05", "2026-03-05 18:30", "day 5" (of the brew), "2h ago"; now if left out`

// batchTime is parseWhen for an event of a batch. "Day 5" counts from the start of
// the brew, the oldest ancestor, as the ledger shows it: a jar split off on day 10
// gets its tea on day 10.1. A date alone is that of the batch itself.
func (e *env) batchTime(n *trials.Notebook, b trials.Batch, text string) (time.Time, error) {
	if strings.HasPrefix(strings.TrimSpace(text), "day ") {
		return e.parseWhen(text, n.Index().Root(b).StartedAt)
	}
	return e.parseWhen(text, b.StartedAt)
}

// parseWhen reads a time as people write it. Start is the moment that "day 5"
// counts from, or the zero time. A date without a time means noon,
// but on the day the batch began it means the moment it began, so that the
// order of events stays right.
func (e *env) parseWhen(text string, start time.Time) (time.Time, error) {
	now := e.now()
	text = strings.TrimSpace(text)
	switch {
	case text == "" || text == "now":
		return now.UTC(), nil
	case strings.HasSuffix(text, " ago"):
		return timeAgo(now, strings.TrimSuffix(text, " ago"))
	case strings.HasPrefix(text, "day "):
		return dayOf(text, start)
	}
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02 15:04",
		"2006-01-02T15:04"} {
		if t, err := time.ParseInLocation(layout, text, now.Location()); err == nil {
			return t.UTC(), nil
		}
	}
	day, err := time.ParseInLocation(time.DateOnly, text, now.Location())
	if err != nil {
		return time.Time{}, trials.Refuse(`write 2026-03-05, "2026-03-05 18:30", "day 5" or "2h ago"`,
			"time %q cannot be read", text)
	}
	if local := start.In(now.Location()); !start.IsZero() && day.Format(time.DateOnly) == local.Format(time.DateOnly) {
		return start.UTC(), nil
	}
	return day.Add(12 * time.Hour).UTC(), nil
}

// dayOf reads "day 5", counted from start.
func dayOf(text string, start time.Time) (time.Time, error) {
	n, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimPrefix(text, "day ")), 64)
	if err != nil || n < 0 || n > 10000 || start.IsZero() {
		return time.Time{}, trials.Refuse(`write "day 5", counted from the start of the brew`, "time %q cannot be read", text)
	}
	return start.Add(time.Duration(n * 24 * float64(time.Hour))).UTC(), nil
}

// timeAgo reads the duration of "2h ago".
func timeAgo(now time.Time, text string) (time.Time, error) {
	minutes, err := parseMinutes(text)
	if err != nil {
		return time.Time{}, err
	}
	return now.Add(-time.Duration(minutes * float64(time.Minute))).UTC(), nil
}

// atoi reads a whole number, 0 when it is none.
func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

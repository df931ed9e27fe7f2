package phones

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"

	"hedgerow/trials"
)

// step is one glass on the way through the evening.
type step struct {
	Number int
	State  string // one of the step words
	At     string // when it was sent, empty if that is not known
	Link   string
	Code   string
}

// The states of a step, as they are shown.
const (
	stepSent = "sent"
	stepNow  = "now"
	stepOpen = "open"
)

// steps are all glasses of a taster in their order.
type steps []step

// way lists the glasses of a taster; now is the index of the one in hand, or -1.
func (v *Evening) way(x visit, now int) steps {
	sent := v.sentGlasses(x.n, x.taster.ID)
	list := make(steps, len(x.order))
	for i, s := range x.order {
		list[i] = step{Number: i + 1, State: stepOpen, Link: x.path(strconv.Itoa(i + 1)), Code: x.called(s)}
		if at, ok := sent[s.ID]; ok {
			list[i].State = stepSent
			if !at.IsZero() {
				list[i].At = v.clock(at)
			}
		}
	}
	if now >= 0 {
		list[now].State = stepNow
	}
	return list
}

// called is how a glass is called: by its code, or, in a tasting that is not blind, by its beer.
func (x visit) called(s trials.Serving) string {
	if !x.tasting.Blind {
		if b, ok := x.n.BatchByID(s.BatchID); ok && !s.Repeat {
			return b.Name
		}
	}
	return s.Code
}

// next is the number of the first open glass after so many, else of the first open one
// at all, else 0.
func (s steps) next(after int) int {
	first := 0
	for _, g := range s {
		if g.State != stepOpen {
			continue
		}
		if g.Number > after {
			return g.Number
		}
		if first == 0 {
			first = g.Number
		}
	}
	return first
}

// sentCount is how many glasses were sent.
func (s steps) sentCount() int {
	count := 0
	for _, g := range s {
		if g.State == stepSent {
			count++
		}
	}
	return count
}

// choice is one button of a question.
type choice struct {
	Value, Text string
	Chosen      bool
}

// asked is one question with its buttons.
type asked struct {
	ID, Field, Legend string
	After             string // id of the question that makes this one needless when nobody can tell
	Choices           []choice
	Tell              choice // "cannot tell"
	Ends              []string
	Fault             string
	Class             string // of the row: how many buttons it holds
}

// topic is what is asked under one heading.
type topic struct {
	Title     string
	Questions []asked
}

// glassPage is what is asked about one glass.
type glassPage struct {
	Title              string
	Taster, Tasting    string
	Number, Count      int
	Code               string
	Way                steps
	Sent               string // when it was sent before, empty if it was not
	Faults             []fault
	Summary            string // how many faults there are, in words
	Topics             []topic
	Note, NoteFault    string
	Key                string
	Link, Action, Back string
	Own                string // under which the phone keeps what is not sent yet
	Previous           int
}

// own is a name for this taster in this tasting that stays the same over new links, and tells
// neither id: both have 128 bits of chance.
func (x visit) own() string {
	sum := sha256.Sum256([]byte(x.tasting.ID + " " + x.taster.ID))
	return hex.EncodeToString(sum[:12])
}

// glassPage makes the page of a glass with the answers given so far.
func (v *Evening) glassPage(x visit, glass int, given answers, faults []fault) glassPage {
	before := v.way(x, -1)
	p := glassPage{Taster: x.taster.Name, Tasting: x.tasting.Name, Number: glass + 1, Count: len(x.order),
		Code: x.called(x.order[glass]), Way: v.way(x, glass), Faults: faults, Note: given[fieldNote],
		// what comes twice with one key is kept once
		Key:  rand.Text(),
		Link: x.path(""), Action: x.path(strconv.Itoa(glass + 1)), Own: x.own()}
	p.Title = fmt.Sprintf("Glass %d of %d", p.Number, p.Count)
	if before[glass].State == stepSent {
		p.Sent = "Sent before"
		if at := before[glass].At; at != "" {
			p.Sent = "Sent at " + at
		}
	}
	if glass > 0 {
		p.Previous, p.Back = glass, x.path(strconv.Itoa(glass))
	}
	if len(faults) > 0 {
		p.Title = "Not sent: " + strings.ToLower(p.Title)
		p.Summary = "one thing to look at"
		if len(faults) > 1 {
			p.Summary = fmt.Sprintf("%d things to look at", len(faults))
		}
	}
	p.topics(x.tasting, given)
	for _, f := range faults {
		p.mark(f)
	}
	return p
}

// topics adds the questions: two for each attribute, and liking.
func (p *glassPage) topics(t trials.Tasting, given answers) {
	for i, name := range t.Attributes {
		strength := ask(anchorOf(i, "strength"), fieldIntensity+name, "How strong is it?", "n11", intensities, intensities,
			[]string{"none", "very strong"}, given)
		amount := ask(anchorOf(i, "amount"), fieldVote+name, "Is it the right amount?", "n3", votes, trials.VoteWords[:],
			nil, given)
		amount.After = strength.ID
		p.Topics = append(p.Topics, topic{capital(name), []asked{strength, amount}})
	}
	p.Topics = append(p.Topics, topic{"Liking", []asked{ask(fieldLiking, fieldLiking, "How much do you like this beer?",
		"n9", likings, likings, []string{"dislike extremely", "neither", "like extremely"}, given)}})
}

// ask makes a question. Nothing is chosen but what was given before.
func ask(id, field, legend, class string, values, words, ends []string, given answers) asked {
	q := asked{ID: id, Field: field, Legend: legend, Class: class, Ends: ends,
		Tell: choice{cannotTell, "cannot tell", given[field] == cannotTell}}
	for i, value := range values {
		q.Choices = append(q.Choices, choice{value, words[i], given[field] == value})
	}
	return q
}

// mark puts a fault beside its field.
func (p *glassPage) mark(f fault) {
	if f.Field == fieldNote {
		p.NoteFault = f.Text
	}
	for i := range p.Topics {
		for k := range p.Topics[i].Questions {
			if q := &p.Topics[i].Questions[k]; q.Field == f.Field {
				q.Fault = f.Text
			}
		}
	}
}

// sentPage is what is shown when a glass was sent.
type sentPage struct {
	Title           string
	Taster, Tasting string
	Way             steps
	Number, Count   int
	Sent            int
	Code, At        string
	Next            int // number of the glass to go on with, 0 for none
	NextCode        string
	NextLink        string
	Pause           bool // a flight ends here
	Change, Link    string
	Own             string // as on a glassPage
}

// sentPage makes the page after a glass.
func (v *Evening) sentPage(x visit, way steps, number int) sentPage {
	p := sentPage{Taster: x.taster.Name, Tasting: x.tasting.Name, Way: way, Number: number, Count: len(way),
		Sent: way.sentCount(), Code: way[number-1].Code, At: way[number-1].At, Next: way.next(number),
		Change: way[number-1].Link, Link: x.path(""), Own: x.own()}
	p.Title = fmt.Sprintf("%d of %d sent", p.Sent, p.Count)
	if p.Next > 0 {
		p.NextCode, p.NextLink = way[p.Next-1].Code, way[p.Next-1].Link
	}
	end := 0
	for _, size := range x.tasting.Flights(len(way)) {
		end += size
		p.Pause = p.Pause || end == number && number < len(way)
	}
	return p
}

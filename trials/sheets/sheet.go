package sheets

import (
	"fmt"
	"strings"

	"hedgerow/trials"
)

// Sheet is what was understood of a file.
type Sheet struct {
	Kind      string     `json:"kind"`     // what its rows are; empty where that is not known
	Columns   []Meaning  `json:"columns"`  // what each column is taken for
	Scores    []Score    `json:"-"`        // in the order of the file, as are the lists below; one of them is filled
	Batches   []Batch    `json:"-"`        // as they would be written
	Additions []Addition `json:"-"`        // as they would be written
	Readings  []Reading  `json:"-"`        // as they would be written
	Claims    []Claim    `json:"-"`        // as they would be written
	Remarks   []Remark   `json:"warnings"` // what was taken, passed over or worked out
	Asks      []Ask      `json:"asks"`     // what a person has to say first
	Faults    []Fault    `json:"errors"`   // what keeps the sheet from being read
	Already   int        `json:"already"`  // records that the notebook has
	LeftOut   []int      `json:"left_out"` // lines that an answer left out
	New       newRecords `json:"-"`        // what would be written; nothing while something is asked or at fault
}

// newRecords are the records that a sheet adds to a notebook. They have their ids, and
// no times: they are written when they are saved.
type newRecords struct {
	Batches   []trials.Batch    // new beers
	Extracts  []trials.Extract  // teas and tinctures of the additions
	Additions []trials.Addition // to batches of the notebook
	Readings  []trials.Reading  // of batches of the notebook
	Claims    []trials.Claim    // on materials that are known
	Evenings  []Evening         // tastings, new or of the notebook, with what was said
}

// Evening is what a sheet adds to one tasting.
type Evening struct {
	Tasting  trials.Tasting      // with its attributes
	Fresh    bool                // the notebook does not have the tasting yet
	Extended bool                // the notebook has it, and it scores something more now
	Servings []trials.Serving    // new ones
	Tasters  []trials.Taster     // who scored for the first time
	Scores   []trials.Score      // new ones
	Notes    []trials.TasterNote // new ones
}

// Meaning is what a column is taken for.
type Meaning struct {
	Column int    `json:"column"` // from 1
	Header string `json:"header"` // title of the column
	Means  string `json:"means"`  // what its cells are; empty for one that is not read
}

// Remark says what was taken, passed over or worked out.
type Remark struct {
	About  string `json:"about"`            // a fixed word for programs, such as us_gallon
	Lines  []int  `json:"lines,omitempty"`  // where; none for the whole file
	Column int    `json:"column,omitempty"` // from 1, 0 for none
	Header string `json:"header,omitempty"` // title of the column
	Text   string `json:"text"`             // for people
}

// Ask is a question that a person has to answer before anything is written.
type Ask struct {
	About   string   `json:"about"`            // a fixed word for programs, such as date_order
	Key     string   `json:"key"`              // what the answer names: KEY=ANSWER
	Line    int      `json:"line"`             // the first line that it is about
	Column  int      `json:"column,omitempty"` // from 1, 0 for none
	Header  string   `json:"header,omitempty"` // title of the column
	Value   string   `json:"value,omitempty"`  // the cell
	Options []string `json:"options"`          // what may be answered, up to a colon where there is one
	Text    string   `json:"text"`             // for people
}

// Fault is something that keeps a sheet from being read.
type Fault struct {
	Line   int    `json:"line"`             // from 1
	Column int    `json:"column,omitempty"` // from 1, 0 for none
	Header string `json:"header,omitempty"` // title of the column
	Value  string `json:"value,omitempty"`  // the cell
	Why    string `json:"why"`              // what is wrong
	Do     string `json:"do"`               // what to do about it
}

// String says the fault in one line.
func (f Fault) String() string {
	where := fmt.Sprintf("line %d", f.Line)
	if f.Header != "" {
		where += fmt.Sprintf(", column %d (%s)", f.Column, f.Header)
	} else if f.Column > 0 {
		where += fmt.Sprintf(", column %d", f.Column)
	}
	if f.Value != "" {
		where += fmt.Sprintf(", %q", f.Value)
	}
	return where + ": " + f.Why
}

// AllRecords returns the rows of the kind that the sheet holds, for programs.
func (s Sheet) AllRecords() any {
	switch s.Kind {
	case KindScores:
		return s.Scores
	case KindBatches:
		return s.Batches
	case KindAdditions:
		return s.Additions
	case KindReadings:
		return s.Readings
	}
	return s.Claims
}

// Ready reports whether the sheet can be written as it is.
func (s Sheet) Ready() bool { return len(s.Faults) == 0 && len(s.Asks) == 0 }

// Count is how many rows were read.
func (s Sheet) Count() int {
	return len(s.Scores) + len(s.Batches) + len(s.Additions) + len(s.Readings) + len(s.Claims)
}

// The kinds of rows.
const (
	KindScores    = "scores"
	KindBatches   = "batches"
	KindAdditions = "additions"
	KindReadings  = "readings"
	kindClaims    = "claims"
)

// Kinds lists the kinds of rows in the order in which help shows them.
var Kinds = []string{KindScores, KindBatches, KindAdditions, KindReadings, kindClaims}

// leaveOut is the answer that passes a row over.
const leaveOut = "leave out"

// remark keeps a remark about a column, or adds a line to the same remark.
func (r *reader) remark(about string, line int, c *column, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	at := about + "\x00" + text
	if c != nil {
		at += fmt.Sprint("\x00", c.index)
	}
	if i, said := r.said[at]; said {
		m := &r.sheet.Remarks[i]
		if len(m.Lines) > 0 && m.Lines[len(m.Lines)-1] != line {
			m.Lines = append(m.Lines, line)
		}
		return
	}
	m := Remark{About: about, Text: text}
	if line > 0 {
		m.Lines = []int{line}
	}
	if c != nil {
		m.Column, m.Header = c.index+1, c.title
	}
	r.said[at] = len(r.sheet.Remarks)
	r.sheet.Remarks = append(r.sheet.Remarks, m)
}

// fault keeps a fault of one cell.
func (r *reader) fault(line int, c *column, value, why, do string) {
	f := Fault{Line: line, Value: value, Why: why, Do: do}
	if c != nil {
		f.Column, f.Header = c.index+1, c.title
	}
	r.sheet.Faults = append(r.sheet.Faults, f)
}

// doubts counts what is at fault or in question so far, also what is not reported
// twice: a row that adds to it is not taken.
func (r *reader) doubts() int { return len(r.sheet.Faults) + r.open }

// ask puts a question once and returns the answer that was given to it, lower case,
// if it is one of the options; free says that any other text is an answer too.
func (r *reader) ask(q Ask, c *column, free bool) (answer string, given bool) {
	if c != nil {
		q.Column, q.Header = c.index+1, c.title
	}
	key := strings.ToLower(q.Key)
	r.asked[key] = true
	if text, ok := r.answers[key]; ok {
		for _, o := range q.Options {
			name, _, _ := strings.Cut(o, ":")
			if strings.EqualFold(strings.TrimSpace(text), name) || strings.EqualFold(strings.TrimSpace(text), o) {
				return strings.ToLower(name), true
			}
		}
		if free {
			return strings.TrimSpace(text), true
		}
		if !r.wrong[key] {
			r.wrong[key] = true
			r.fault(q.Line, c, text, "it is no answer to "+q.Key, "answer one of "+strings.Join(q.Options, ", "))
		}
		r.open++
		return "", false
	}
	r.open++
	for _, known := range r.sheet.Asks {
		if known.Key == q.Key {
			return "", false
		}
	}
	r.sheet.Asks = append(r.sheet.Asks, q)
	return "", false
}

// unasked reports the answers that no question was put for: a slip in one must not
// pass in silence.
func (r *reader) unasked() {
	for _, key := range r.order {
		if !r.asked[key] {
			r.fault(1, nil, key, "nothing is asked by that name", "leave the answer out")
		}
	}
}

// Notebook returns the new records as those of a notebook, and apart the tastings of
// the notebook that score something more now.
func (r newRecords) Notebook() (added *trials.Notebook, extended []trials.Tasting) {
	n := &trials.Notebook{Batches: r.Batches, Extracts: r.Extracts, Additions: r.Additions, Readings: r.Readings,
		Claims: r.Claims}
	for _, e := range r.Evenings {
		if e.Fresh {
			n.Tastings = append(n.Tastings, e.Tasting)
		} else if e.Extended {
			extended = append(extended, e.Tasting)
		}
		n.Servings, n.Tasters = append(n.Servings, e.Servings...), append(n.Tasters, e.Tasters...)
		n.Scores, n.TasterNotes = append(n.Scores, e.Scores...), append(n.TasterNotes, e.Notes...)
	}
	return n, extended
}

package report

import (
	"fmt"
	"math"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials/checks"
)

// tally counts the rows of one origin or of one kind.
type tally struct {
	hold, ran int     // rows that hold, of those whose quantity is covered
	largest   float64 // error in shares of the tolerance
}

// add counts a row.
func (t *tally) add(r checkRow) {
	// neither right nor wrong: counted among those that ran it would lower the share that hold
	if r.Outcome == notYet {
		return
	}
	t.ran++
	if r.Outcome == holds {
		t.hold++
	}
	t.largest = max(t.largest, r.share())
}

// share is the error of a row in shares of its tolerance.
func (r checkRow) share() float64 {
	if r.Tolerance > 0 {
		return math.Abs(r.Got-r.Expected) / r.Tolerance
	}
	return 0
}

// shareTitle heads the column of errors.
const shareTitle = "largest error,\nshare of the\ntolerance"

// VerifyView shows how many rows of each kind and origin hold and how far off
// they are; with all, every row as well.
func VerifyView(v Verification, all bool) document.View {
	sections := []document.Section{{Paragraphs: []string{verifyLine(v)}, Table: originTable(v, all), Notes: kindNotes(v)}}
	if all {
		// the rows come first, so that they are what --csv gives
		sections[0].Paragraphs = nil
		sections = append([]document.Section{{Paragraphs: []string{verifyLine(v)}, Table: rowTable(v.Rows)}}, sections...)
	}
	if failed := failedTable(v.Rows); len(failed.Rows) > 0 {
		sections = append(sections, document.Section{Heading: "Rows that fail", Table: failed})
	}
	return document.View{Document: document.Document{Sections: sections}, Payload: v}
}

// verifyLine counts the rows by kind, so that no computed value passes for a
// published one.
func verifyLine(v Verification) string {
	line := fmt.Sprintf("%d of %d check rows hold", v.Hold, v.Hold+v.Fail)
	var parts []string
	// the strongest evidence first
	for _, kind := range []string{checks.Published, checks.Computed, checks.ClosedForm} {
		var t tally
		for _, r := range v.Rows {
			if r.Kind == kind {
				t.add(r)
			}
		}
		if t.ran > 0 {
			parts = append(parts, fmt.Sprintf("%d of %d %s", t.hold, t.ran, kind))
		}
	}
	if len(parts) > 0 {
		line += ": " + strings.Join(parts, ", ")
	}
	if v.NotYet > 0 {
		line += fmt.Sprintf("; %d rows are of quantities not covered yet", v.NotYet)
	}
	return line + "."
}

// originTable has a line for each origin that a row names.
func originTable(v Verification, keys bool) *document.Table {
	by := map[string]*tally{}
	for _, r := range v.Rows {
		if by[r.Source] == nil {
			by[r.Source] = &tally{}
		}
		by[r.Source].add(r)
	}
	t := &document.Table{Columns: []document.Column{{Title: "key", Wide: !keys}, {Title: "kind", Wrap: true},
		{Title: "source", Wrap: true}, {Title: "hold", Right: true}, {Title: "of", Right: true},
		{Title: shareTitle, Right: true}}}
	for _, o := range v.Origins {
		if n := by[o.Key]; n != nil {
			t.Rows = append(t.Rows, []string{o.Key, o.Kind, o.Words(), fmt.Sprint(n.hold), fmt.Sprint(n.ran),
				percent(n.largest)})
		}
	}
	return t
}

// rowTable lists every row.
func rowTable(rows []checkRow) *document.Table {
	t := &document.Table{Columns: []document.Column{{Title: "quantity", Wrap: true},
		// the longest of all: at 80 columns it would leave the others no room
		{Title: "inputs", Wrap: true, Wide: true},
		{Title: "expected", Right: true}, {Title: "got", Right: true}, {Title: "error,\nshare of\ntolerance", Right: true},
		{Title: "outcome", Wide: true}, {Title: "source", Wrap: true}}}
	for _, r := range rows {
		got := "-"
		if r.Outcome != notYet {
			got = document.Significant(r.Got, 8)
		}
		t.Rows = append(t.Rows, []string{r.Quantity, r.Inputs, document.Significant(r.Expected, 8), got,
			percent(r.share()), r.Outcome, r.Source})
	}
	return t
}

// failedTable lists the rows that fail with what is wrong.
func failedTable(rows []checkRow) *document.Table {
	t := &document.Table{Columns: []document.Column{{Title: "line", Right: true}, {Title: "quantity", Wrap: true},
		{Title: "expected", Right: true}, {Title: "problem", Wrap: true}}}
	for _, r := range rows {
		if r.Outcome == fails {
			t.Rows = append(t.Rows, []string{fmt.Sprint(r.Line), r.Quantity, document.Significant(r.Expected, 8), r.Problem})
		}
	}
	return t
}

// kindNotes explains the kinds that are shown.
func kindNotes(v Verification) []string {
	for _, r := range v.Rows {
		if r.Kind != fromFile {
			return []string{"published: the value is printed in the text named; computed independently: by a program that " +
				"shares no formula code with hedgerow; closed form: a formula that anyone can work out again",
				"at second hand: the text itself was not seen, only a copy of its figures; from memory: not looked up"}
		}
	}
	return nil
}

// percent prints a share.
func percent(share float64) string { return document.Fixed(100*share, 0) + " %" }

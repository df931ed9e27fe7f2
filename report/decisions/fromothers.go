package decisions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
)

// This file puts into words what other brewers' trials do to an answer.

// movedBy is the factor by which others must move the right dose for the headline to say
// so: a tenth is what a tongue tells at best.
const movedBy = 1.1

// fromOthers reports whether other brewers' trials are in the answer.
func (h headline) fromOthers() bool { return h.Others != nil && h.Others.Brewers > 0 }

// tastedElsewhere says who has scored where no own beer was.
func (h headline) tastedElsewhere() string {
	for _, b := range h.Others.By {
		if len(b.Shared) > 0 {
			return "So far your own people have scored beers of other brewers alone."
		}
	}
	return "None of your own people has scored yet: this is what others like."
}

// movedByOthers reports whether other brewers' trials moved the right dose by so much
// that it can be tasted.
func (h headline) movedByOthers() bool {
	return h.fromOthers() && h.Others.Without != nil &&
		math.Abs(math.Log(h.RightDose.Value/h.Others.Without.Value)) > math.Log(movedBy)
}

// withoutOthers says what the right dose would be without other brewers' trials.
func (h headline) withoutOthers() string {
	return fmt.Sprintf("Without %s of %s the right dose would be %s g/L.", document.Count(h.Others.Trials, "trial"),
		document.Count(h.Others.Brewers, "other brewer"), grams(h.Others.Without.Value))
}

// othersSection says what other brewers' trials do to the answer, and what it would be
// without them; nil where there are none.
func othersSection(a doseresponse.Answer) *document.Section {
	if a.Others == nil {
		return nil
	}
	sec := &document.Section{Heading: "From others", Paragraphs: othersLines(a)}
	if a.Others.Brewers == 0 {
		return sec
	}
	t := document.Table{Columns: []document.Column{{Title: "brewer", Wrap: true}, {Title: "trials", Right: true},
		{Title: "tasters", Right: true}, {Title: "their right dose g/L", Right: true}, {Title: "note", Wrap: true}}}
	for _, b := range a.Others.By {
		right := "-"
		if b.Right != nil {
			right = fmt.Sprintf("%s (%s to %s)", grams(b.Right.Value), grams(*b.Right.Low), grams(*b.Right.High))
		}
		note := ""
		if !b.Used {
			note = "left out: " + b.Why
		}
		t.Rows = append(t.Rows, []string{b.Brewer, fmt.Sprint(b.Trials), fmt.Sprint(b.Tasters), right, note})
	}
	sec.Table = &t
	sec.Notes = []string{"their right dose is that of their own tasters (90 %); from one panel to another it differs, " +
		"which is why they count for little. --own-only leaves them out"}
	return sec
}

// othersLines are the warnings of other brewers' trials as sentences, without what the
// headline says already. How much they count stands apart from what they say.
func othersLines(a doseresponse.Answer) []string {
	var list []string
	for _, w := range a.Warnings {
		if !w.OfOthers() {
			continue
		}
		parts := strings.Split(w.Text, "; ")
		for i := range parts {
			parts[i] = document.Capital(parts[i]) + "."
		}
		if len(parts) > 2 {
			list, parts = append(list, parts[0]), parts[1:]
		}
		if line := strings.Join(parts, " "); !slices.Contains(a.Headline, line) {
			list = append(list, line)
		}
	}
	return list
}

// ofOthers says that other brewers' trials are in an answer, to follow what else is; ""
// where none is.
func ofOthers(a doseresponse.Answer) string {
	if a.Others == nil || a.Others.Brewers == 0 {
		return ""
	}
	return fmt.Sprintf(", and %s of %s", document.Count(a.Others.Trials, "trial"),
		document.Count(a.Others.Brewers, "other brewer"))
}

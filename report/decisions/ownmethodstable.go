package decisions

import (
	"fmt"
	"math"
	"slices"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"
)

// ownMethodRow is what own scores say about a method, as --json prints it.
type ownMethodRow struct {
	Method    string         `json:"method"`    // tea, cold-tea, tincture, contact ...
	Reference string         `json:"reference"` // the method it is compared with
	Attribute string         `json:"attribute"` // what was scored, in the words of the tasting
	Prior     figure.Stated  `json:"assumed_potency"`
	ByScores  *figure.Stated `json:"potency_by_scores"` // null where the scores cannot tell
	Both      *figure.Stated `json:"relative_potency"`
	Share     float64        `json:"share_from_scores"`
	Scores    int            `json:"scores"`
	Refused   string         `json:"refused,omitempty"`
	Warnings  []string       `json:"warnings"` // remarks, one sentence each
}

// ownMethodRows turns own methods into their printed form.
func ownMethodRows(list []ownMethod) []ownMethodRow {
	rows := []ownMethodRow{}
	for _, o := range list {
		const z = 1.959964 // two-sided 95 % of the normal distribution
		r := ownMethodRow{Method: o.Method, Reference: o.Reference, Attribute: o.Attribute,
			Refused: o.Refused, Warnings: append([]string{}, o.Doubts...),
			Prior: figure.StatedBetween(math.Exp(o.Prior.Ln), math.Exp(o.Prior.Ln-z*o.Prior.SDLn),
				math.Exp(o.Prior.Ln+z*o.Prior.SDLn), comparisonLevel)}
		if o.Potency != nil {
			u := o.Potency.Update
			byScores := figure.StatedBetween(u.ByTrials.Value, u.ByTrials.Low, u.ByTrials.High, u.ByTrials.Level)
			both := figure.StatedBetween(u.Relative.Value, u.Relative.Low, u.Relative.High, u.Relative.Level)
			r.ByScores, r.Both, r.Share, r.Scores = &byScores, &both, u.TrialShare, o.Potency.Scores
		}
		rows = append(rows, r)
	}
	return rows
}

// ownMethodSection is the table of methods by own scores, nil where fewer than two
// were scored.
func ownMethodSection(list []ownMethod) *document.Section {
	if len(list) == 0 {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: "method"}, {Title: "assumed", Right: true},
		{Title: "by your scores", Right: true}, {Title: "both", Right: true}, {Title: "from\nscores", Right: true},
		{Title: "scores", Right: true, Wide: true}}}
	notes := []string{fmt.Sprintf("what a gram counts beside a gram by %s, on the scale of the effective dose, from "+
		"the intensities of %s; 95 %% intervals. "+
		"It holds for this material only, and hedgerow steep --material counts it in", list[0].Reference, list[0].Attribute)}
	for i, r := range ownMethodRows(list) {
		byScores, both, share := "-", "-", "-"
		if r.Both != nil {
			byScores, both, share = document.Spread(*r.ByScores, 2, 2), document.Spread(*r.Both, 2, 2),
				document.Fixed(100*r.Share, 0)+" %"
		}
		t.Rows = append(t.Rows, []string{r.Method, document.Spread(r.Prior, 2, 2), byScores, both, share,
			fmt.Sprint(r.Scores)})
		if list[i].Refused != "" {
			notes = append(notes, r.Method+": "+r.Refused)
			continue
		}
		for _, doubt := range r.Warnings {
			// The lines are fitted together, so that all methods share a doubt.
			if !slices.Contains(notes, doubt) {
				notes = append(notes, doubt)
			}
		}
	}
	return &document.Section{Heading: "Methods, by your own scores", Table: &t, Notes: notes}
}

// OwnDose says what the dose of an addition acts like by the reference method;
// empty where own scores say nothing about its method.
func OwnDose(l ledger.Ledger, addition string, potencies []steeps.MethodPotency) string {
	for _, d := range l.Doses {
		for _, p := range potencies {
			if d.Addition == addition && d.MaterialKey == p.MaterialKey && d.Method == p.Method {
				acts := wording.EstimateView(ledger.ActsLike(p, d))
				return p.Words() + "; this dose acts like " + document.SignificantSpread(*acts) + " g/L by " + p.Reference
			}
		}
	}
	return ""
}

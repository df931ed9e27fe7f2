package decisions

import (
	"cmp"
	"fmt"
	"slices"

	"hedgerow/report/document"
	"hedgerow/report/panel"
	"hedgerow/report/wording"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// controlRow is the difference of a trial from the control in one attribute, as
// --json prints it.
type controlRow struct {
	Attribute  string        `json:"attribute"`
	Trial      string        `json:"trial"`
	Control    string        `json:"control"`
	N          int           `json:"n"`
	NControl   int           `json:"n_control"`
	Difference figure.Stated `json:"difference_points"` // trial minus control; interval holds for all trials at once
	P          float64       `json:"p"`                 // adjusted for all trials
	Shown      bool          `json:"difference_shown"`
}

// controlOf names the control that the trials of a fit are compared with: of
// several the one with most scores, then the first by name. It is empty where no
// control was scored.
func controlOf(s ledger.TrialSet, fit *panel.Means) string {
	scores := map[string]int{}
	for i, name := range fit.Names {
		scores[name] = fit.N[i]
	}
	var controls []string
	for _, t := range s.Trials {
		if t.Control && scores[t.Name()] > 0 {
			controls = append(controls, t.Name())
		}
	}
	if len(controls) == 0 {
		return ""
	}
	return slices.MinFunc(controls, func(a, b string) int { return cmp.Or(scores[b]-scores[a], cmp.Compare(a, b)) })
}

// againstControl compares every trial with the control in every attribute by
// Dunnett's adjustment, in the order of the trials, and returns what puts that
// in doubt.
func againstControl(s ledger.TrialSet, fits []attributeFit) (rows []controlRow, warnings []string) {
	rows = []controlRow{}
	place := placeOfTrials(s)
	for _, f := range fits {
		control := controlOf(s, f.means)
		if control == "" {
			continue
		}
		// every trial beside one only: fewer comparisons than all pairs, so smaller differences can be shown
		list, doubts, err := f.means.Dunnett(control)
		if err != nil {
			continue
		}
		word := wording.WordOf(f.attribute)
		warnings = append(warnings, wording.Prefixed(word+" beside "+control, doubts)...)
		slices.SortFunc(list, func(x, y panel.Comparison) int { return place[x.A] - place[y.A] })
		n := func(name string) int { return f.means.N[slices.Index(f.means.Names, name)] }
		for _, c := range list {
			rows = append(rows, controlRow{word, c.A, control, n(c.A), n(control),
				figure.StatedBetween(c.Value, c.Low, c.High, comparisonLevel), c.P, c.P < 1-comparisonLevel})
		}
	}
	return rows, warnings
}

// controlSection is the table of differences from the control, nil where there
// is none.
func controlSection(rows []controlRow) *document.Section {
	if len(rows) == 0 {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: ""}, {Title: "trial", Wrap: true},
		{Title: "control", Wrap: true},
		{Title: "n", Right: true}, {Title: "difference", Right: true}, {Title: "p", Right: true},
		{Title: "what it says", Wrap: true}}}
	for _, r := range rows {
		says := "no difference shown; could still be up to " + document.Fixed(largest(r.Difference), 1)
		switch {
		case r.Shown && r.Difference.Value > 0:
			says = "higher than the control"
		case r.Shown:
			says = "lower than the control"
		}
		t.Rows = append(t.Rows, []string{r.Attribute, r.Trial, r.Control, fmt.Sprintf("%d, %d", r.N, r.NControl),
			document.Spread(r.Difference, 1, 1), document.PText(r.P), says})
	}
	return &document.Section{Heading: "Differences from the control", Table: &t, Notes: []string{
		"difference: trial less control, with 95 % intervals and p that hold for all trials beside the control at " +
			"once, tasters as random blocks; " +
			"n is scores of the trial and of the control. \"No difference shown\" is not \"no difference\"."}}
}

package decisions

import (
	"cmp"
	"fmt"
	"slices"

	"hedgerow/report/document"
	"hedgerow/report/panel"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// pairRow is the difference of two trials in one attribute as --json prints it.
type pairRow struct {
	Attribute  string        `json:"attribute"` // what was scored, in the words of the tasting
	A          string        `json:"trial_a"`
	B          string        `json:"trial_b"`
	Difference figure.Stated `json:"difference"` // a minus b; interval holds for all pairs at once
	P          float64       `json:"p"`          // adjusted for all pairs
	Shown      bool          `json:"difference_shown"`
	Neighbours bool          `json:"neighbours_in_dose"`
}

// attributeFit is the mixed model of one attribute, with tasters as random blocks.
type attributeFit struct {
	attribute string
	means     *panel.Means
}

// attributeFits fits every attribute whose scores allow it, once for all tables.
func attributeFits(s ledger.TrialSet, attributes []string) []attributeFit {
	var fits []attributeFit
	for _, a := range attributes {
		// an attribute with too few scores has no table of its own; the others still do
		if means, err := panel.MixedModel(panelScores(s, a), comparisonLevel); err == nil {
			fits = append(fits, attributeFit{a, means})
		}
	}
	return fits
}

// placeOfTrials gives the place of each trial in order of dose.
func placeOfTrials(s ledger.TrialSet) map[string]int {
	place := map[string]int{}
	for i, t := range s.Trials {
		place[t.Name()] = i
	}
	return place
}

// pairwise compares every two trials in every attribute, with Tukey's adjustment
// over all pairs of an attribute.
func pairwise(s ledger.TrialSet, fits []attributeFit) []pairRow {
	place := placeOfTrials(s)
	rows := []pairRow{}
	for _, f := range fits {
		pairs, err := f.means.Tukey()
		if err != nil {
			continue
		}
		scored := scoredTrials(pairs, place)
		slices.SortFunc(pairs, func(x, y panel.Comparison) int {
			return cmp.Or(cmp.Compare(min(place[x.A], place[x.B]), min(place[y.A], place[y.B])),
				cmp.Compare(max(place[x.A], place[x.B]), max(place[y.A], place[y.B])))
		})
		for _, p := range pairs {
			r := pairRow{wording.WordOf(f.attribute), p.A, p.B, figure.StatedBetween(p.Value, p.Low, p.High, comparisonLevel),
				p.P, p.P < 1-comparisonLevel, false}
			i, j := slices.Index(scored, p.A), slices.Index(scored, p.B)
			// next to each other among those scored: a beer between them that nobody tasted does not part them
			r.Neighbours = i-j == 1 || j-i == 1
			rows = append(rows, r)
		}
	}
	return rows
}

// scoredTrials lists the trials of the pairs in order of dose.
func scoredTrials(pairs []panel.Comparison, place map[string]int) []string {
	var list []string
	for _, p := range pairs {
		for _, name := range []string{p.A, p.B} {
			if !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	slices.SortFunc(list, func(a, b string) int { return place[a] - place[b] })
	return list
}

// pairsSection says in words how neighbours in dose differ in one attribute.
func pairsSection(rows []pairRow, attribute string) *document.Section {
	t := document.Table{Columns: []document.Column{{Title: "trials next to each other in dose", Wrap: true},
		{Title: "difference", Right: true}, {Title: "what it says", Wrap: true}}}
	for _, r := range rows {
		// of many trials the pairs grow with the square, and neighbours are what the next dose is chosen between
		if r.Attribute != attribute || !r.Neighbours {
			continue
		}
		a, b, d := r.A, r.B, r.Difference
		// always the higher less the lower, so that the sentence says "is higher"
		if d.Value < 0 {
			a, b, d = r.B, r.A, negated(d)
		}
		says := fmt.Sprintf("%s is higher (p %s)", a, document.PText(r.P))
		if !r.Shown {
			says = "no difference shown; could still be up to " + document.Fixed(largest(d), 1)
		}
		t.Rows = append(t.Rows, []string{a + " less " + b, document.Spread(d, 1, 1), says})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return &document.Section{Heading: "Differences in " + attribute, Table: &t,
		Notes: []string{"95 % intervals and p for all pairs at once, so wider than for one pair alone; tasters as " +
			"random blocks; --json has every pair of every attribute. \"No difference shown\" is not \"no difference\"."}}
}

// negated turns a difference round.
func negated(e figure.Stated) figure.Stated {
	if e.Low == nil {
		return figure.StatedExactly(-e.Value)
	}
	return figure.StatedBetween(-e.Value, -*e.High, -*e.Low, *e.Level)
}

// largest is the largest difference, either way, that the interval allows.
func largest(e figure.Stated) float64 {
	if e.Low == nil {
		return e.Value
	}
	return max(*e.High, -*e.Low)
}

// panelTasterRow is a taster's way of scoring as --json prints it.
type panelTasterRow struct {
	Taster    string   `json:"taster"` // name of the taster
	Scores    int      `json:"scores"`
	Offset    float64  `json:"offset"`
	Spread    *float64 `json:"spread"`
	Agreement *float64 `json:"agreement"`
	RepeatSD  *float64 `json:"repeat_sd"`
	Remarks   []string `json:"notes"`
}

// panelTasters looks at how each taster scored one attribute.
func panelTasters(n *trials.Notebook, s ledger.TrialSet, attribute string) []panelTasterRow {
	rows := []panelTasterRow{}
	list, err := panel.TasterTable(panelScores(s, attribute), comparisonLevel)
	if err != nil {
		return rows
	}
	slices.SortFunc(list, func(x, y panel.TasterView) int { return cmp.Compare(x.Taster, y.Taster) })
	for _, t := range list {
		r := panelTasterRow{Taster: t.Taster, Scores: t.Scores, Offset: t.Offset, Remarks: append([]string{}, t.Remarks...)}
		if t.CompareOK {
			r.Spread, r.Agreement = &t.Slope, &t.Agreement
		}
		if t.Repeats.OK {
			r.RepeatSD = &t.Repeats.SD
		}
		rows = append(rows, r)
	}
	return rows
}

// tastersSection is the table of tasters, with the noise of hidden repeats.
func tastersSection(n *trials.Notebook, s ledger.TrialSet, rows []panelTasterRow, attribute string) *document.Section {
	// the columns compare a taster with the others
	if len(rows) < 2 {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: "taster", Wrap: true}, {Title: "scores", Right: true},
		{Title: "offset", Right: true}, {Title: "spread", Right: true}, {Title: "agreement", Right: true},
		{Title: "repeat", Right: true}, {Title: "note", Wrap: true}}}
	for _, r := range rows {
		remark := ""
		if len(r.Remarks) > 0 {
			remark = r.Remarks[0]
		}
		t.Rows = append(t.Rows, []string{r.Taster, fmt.Sprint(r.Scores), document.Signed(r.Offset, 1),
			document.OrDash(r.Spread, 1), document.OrDash(r.Agreement, 2), document.OrDash(r.RepeatSD, 1), remark})
	}
	sec := &document.Section{Heading: "Tasters, " + attribute, Table: &t, Notes: []string{
		"offset: points above the average taster; spread: 1 uses the scale as the others do; agreement: correlation " +
			"with the others; repeat: standard deviation of one score from beers scored twice"}}
	if noise, err := panel.RepeatNoise(panelScores(s, attribute), comparisonLevel); err == nil && noise.OK {
		sec.Notes = append(sec.Notes, fmt.Sprintf("yardstick: the same beer scored again by the same taster differs "+
			"with a standard deviation of %s (%s to %s) points per score, from %d repeats",
			document.Fixed(noise.SD, 1), document.Fixed(noise.Low, 1), document.Fixed(noise.High, 1), noise.DF))
	}
	return sec
}

package report

import (
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// labelGuidance says whose rule the strength for a label follows.
const labelGuidance = "UK guidance, not advice; other countries differ"

// conditioningView is what ferments in the package as --json prints it; the beer
// after it is the last step.
type conditioningView struct {
	FermentedG    float64 `json:"fermented_g"` // extract that ferments
	LeftG         float64 `json:"left_g"`      // of it what no gravity shows to have fermented before
	GainedGPerL   float64 `json:"co2_gained_g_per_l"`
	GainedVolumes float64 `json:"co2_gained_volumes"`
	UpperGPerL    float64 `json:"co2_gained_upper_g_per_l"` // no yeast grows
	UpperVolumes  float64 `json:"co2_gained_upper_volumes"`
	FinalAssumed  bool    `json:"last_gravity_taken_as_final"`
	Unread        bool    `json:"no_gravity_read"`
}

// viewOfConditioning turns it into its printed form, nil where nothing ferments.
func viewOfConditioning(c *ledger.Conditioning) *conditioningView {
	if c == nil {
		return nil
	}
	return &conditioningView{c.FermentedG, c.LeftG, c.GainedGPerL, c.GainedVolumes, c.UpperGPerL, c.UpperVolumes,
		c.FinalAssumed, c.Unread}
}

// labelView is the strength for a label as --json prints it.
type labelView struct {
	ABVPct   float64 `json:"abv_pct"`
	Guidance string  `json:"guidance"`
}

// labelOf is the strength for a label in its printed form, nil for a beer that is
// not packaged.
func labelOf(n *trials.Notebook, l ledger.Ledger) *labelView {
	if label, ok := l.LabelABVPct(n); ok {
		return &labelView{label, labelGuidance}
	}
	return nil
}

// words tells the strength for a label.
func (v *labelView) words() []string {
	if v == nil {
		return nil
	}
	return []string{"for a label: " + document.Fixed(v.ABVPct, 1) + " % vol, the strength when it is drunk, rounded " +
		"down to one decimal (" + v.Guidance + ")"}
}

// PackagedLines tell with what strength and gravity a packaged beer is expected to be
// drunk.
func PackagedLines(n *trials.Notebook, l ledger.Ledger) []string {
	var lines []string
	if l.Conditioning != nil {
		s := wording.StateView(l.Last().State())
		lines = append(lines, "after conditioning (expected): "+document.PlusMinusOrDash(s.ABVPct, 1, 2)+
			" % vol, gravity "+document.GravityEstimate(s.GravitySG))
	}
	return append(lines, labelOf(n, l).words()...)
}

// wordedLeftG is from how much extract that was left a word is due, grams: what is
// less shows on no scale.
const wordedLeftG = 1

// conditioningLines tell what ferments in the package, none where nothing does.
func conditioningLines(l ledger.Ledger) []string {
	c := l.Conditioning
	if c == nil {
		return nil
	}
	lines := []string{"after conditioning (expected): CO2 gained " + document.Fixed(c.GainedGPerL, 2) + " g/L (" +
		document.Fixed(c.GainedVolumes, 1) + " volumes), at most " + document.Fixed(c.UpperGPerL, 2) + " g/L (" +
		document.Fixed(c.UpperVolumes, 1) + "); gravity and strength are those of the beer without its gas"}
	if c.LeftG >= wordedLeftG {
		lines = append(lines, document.Fixed(c.LeftG, 0)+" g of what ferments there did not go in at packaging: no "+
			"gravity shows that it had fermented before; where it had, log one")
	}
	return lines
}

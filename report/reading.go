package report

import (
	"fmt"
	"math"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/figure"
	"hedgerow/trials/steeps"
)

// readingView is what a gravity or Brix of the liquid taught, as --json prints it.
type readingView struct {
	Measured float64       `json:"measured_g_per_g_dry"` // dissolved solids a gram of dry matter
	Expected float64       `json:"expected_g_per_g_dry"` // before the reading
	Share    [2]float64    `json:"soluble_share"`        // of the dry matter, before and after
	ShareSD  [2]float64    `json:"soluble_share_sd_ln"`
	Yield    [2]float64    `json:"yield"` // of the passes that were read, before and after
	YieldSD  [2]float64    `json:"yield_sd_ln"`
	Dose     figure.Stated `json:"water_class_g"` // carried, after
	Before   figure.Stated `json:"water_class_before_g"`
	Factor   float64       `json:"dose_factor"` // of the water class, after over before
}

// viewReading is nil where no strength was read.
func viewReading(s steeps.ExtractStory) *readingView {
	u := s.Yield.Result.Update
	if u == nil || s.Unread == nil {
		return nil
	}
	v := readingView{Measured: u.PerDry, Expected: u.Share * u.Yield, Share: [2]float64{u.Share, u.NewShare},
		ShareSD: [2]float64{u.ShareSDLn, u.NewShareSDLn}, Yield: [2]float64{u.Yield, u.NewYield},
		YieldSD: [2]float64{u.YieldSDLn, u.NewYieldSDLn}, Dose: *wording.EstimateView(s.Yield.Grams[0]),
		Before: *wording.EstimateView(s.Unread.Grams[0])}
	if before := v.Before.Value; before > 0 {
		v.Factor = v.Dose.Value / before
	}
	return &v
}

// readingWords says how much a reading moved; empty where none was taken.
func readingWords(s steeps.ExtractStory) []string {
	v := viewReading(s)
	if v == nil {
		return nil
	}
	return []string{fmt.Sprintf("Read: %s g dissolved for each g of dry matter, %s expected. That puts the yield of "+
		"what was read at %s in place of %s, the dose of the water class at %s times that without, and the soluble "+
		"share at %s (%s to %s) in place of %s, which the next tea of this bag starts from. Aroma and resin stay.",
		document.Significant(v.Measured, 2), document.Significant(v.Expected, 2), document.Percent(v.Yield[1]),
		document.Percent(v.Yield[0]), document.Fixed(v.Factor, 2), document.Percent(v.Share[1]),
		document.Percent(v.Share[1]*math.Exp(-normal95*v.ShareSD[1])),
		document.Percent(min(v.Share[1]*math.Exp(normal95*v.ShareSD[1]), 1)), document.Percent(v.Share[0]))}
}

// normal95 is the 97.5 % point of the normal distribution.
const normal95 = 1.959963984540054

// readingSection is how a reading was weighed against what was expected.
func readingSection(s steeps.ExtractStory) []document.Section {
	v := viewReading(s)
	if v == nil {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: "value", Wrap: true}, {Title: "before", Right: true},
		{Title: "after", Right: true}, {Title: "sd of ln before", Right: true}, {Title: "after", Right: true}}}
	row := func(name string, values, sds [2]float64) {
		t.Rows = append(t.Rows, []string{name, document.Fixed(values[0], 3), document.Fixed(values[1], 3),
			document.Fixed(sds[0], 2), document.Fixed(sds[1], 2)})
	}
	row("q, yield of the passes read", v.Yield, v.YieldSD)
	row("s, soluble share of the dry matter", v.Share, v.ShareSD)
	u := s.Yield.Result.Update
	return []document.Section{{Heading: "From the reading", Table: &t, Paragraphs: []string{
		fmt.Sprintf("Q = c V/dry matter = %s, sd of ln Q %s; d = ln Q - ln s - ln q = %s.",
			document.Fixed(v.Measured, 3), document.Fixed(u.PerDrySDLn, 2),
			document.Fixed(math.Log(v.Measured/v.Expected), 3)),
		"c = F w rho of sugar at the gravity less that of plain water; F 1.00 (0.95 of acid plants), sd 0.08, grade B; " +
			"of a refractometer 0.90 Brix 10 SG, grade C.",
		"ln q and ln s take of d what is theirs of the variance a^2 + b^2 + e^2 (yield, share, reading).",
	}}}
}

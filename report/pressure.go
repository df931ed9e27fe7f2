package report

import (
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// pressureView is what may build up in a package as --json prints it; pressures
// are above the air.
type pressureView struct {
	ResidualVolumes float64  `json:"residual_volumes"`
	ExpectedVolumes float64  `json:"expected_volumes"`
	UpperVolumes    float64  `json:"upper_volumes"`
	ExpectedBar     float64  `json:"expected_over_pressure_bar"`
	UpperBar        float64  `json:"upper_over_pressure_bar"`
	WarmestC        float64  `json:"warmest_beer_temp_c"`
	WarmestAssumed  bool     `json:"warmest_assumed"`
	StorageC        float64  `json:"storage_temp_c"`
	StorageAssumed  bool     `json:"storage_assumed"`
	FinalAssumed    bool     `json:"last_gravity_taken_as_final"`
	RatedBar        *float64 `json:"rated_bar"`
	AboveRating     *bool    `json:"above_rating"`
}

// viewOfPressure turns a pressure into its printed form.
func viewOfPressure(p ledger.Pressure) *pressureView {
	return &pressureView{p.ResidualVolumes, p.ExpectedVolumes, p.UpperVolumes, p.ExpectedBar, p.UpperBar, p.WarmestC,
		p.WarmestAssumed, p.StorageC, p.StorageAssumed,
		p.FinalAssumed, p.RatedBar, p.AboveRating}
}

// PressureLines tell what may build up in a closed package. No limit is called
// safe: the container's rating is for its maker to give.
func PressureLines(p ledger.Pressure, u quantity.Units) []string {
	lines := []string{"closed in before its sugar has fermented, the beer would come to about " +
		document.Fixed(p.ExpectedVolumes, 1) + " volumes of CO2, at most " + document.Fixed(p.UpperVolumes, 1) +
		"; at " + wording.TempText(p.StorageC, u) + " that is about " + document.Fixed(p.ExpectedBar, 1) +
		" bar above the air, at most " + document.Fixed(p.UpperBar, 1) + " bar"}
	switch {
	case p.AboveRating == nil:
		lines = append(lines, "no pressure is known to be safe here: compare it with the rating of your bottles or "+
			"keg (--rated 6bar)")
	// by the upper bound, not by what is expected: glass bursts at the worst bottle
	case *p.AboveRating:
		lines = append(lines, "DANGER: that upper bound is above the "+document.Significant(*p.RatedBar, 2)+
			" bar that the container is rated for: glass can burst")
	default:
		lines = append(lines, "the container is rated for "+document.Significant(*p.RatedBar, 2)+" bar above the air")
	}
	if p.FinalAssumed {
		lines = append(lines, "no final gravity is expected, so the last gravity read is taken as final; each 0.001 "+
			"more that ferments adds up to 0.56 volumes")
	}
	if text := assumedTemps(p, u); text != "" {
		lines = append(lines, text)
	}
	return lines
}

// assumedTemps says which temperatures were taken for want of better.
func assumedTemps(p ledger.Pressure, u quantity.Units) string {
	switch {
	case p.WarmestAssumed && p.StorageAssumed:
		return "assumed: beer never warmer than " + wording.TempText(p.WarmestC, u) +
			" after fermentation, which leaves the most gas; package at " + wording.TempText(p.StorageC, u)
	case p.WarmestAssumed:
		return "assumed: beer never warmer than " + wording.TempText(p.WarmestC, u) +
			" after fermentation, which leaves the most gas"
	case p.StorageAssumed:
		return "assumed: package at " + wording.TempText(p.StorageC, u)
	}
	return ""
}

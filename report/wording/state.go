package wording

import (
	"hedgerow/report/document"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// State is a batch at one moment as --json prints it; null is not known.
type State struct {
	VolumeL        *document.Estimate `json:"volume_l"`
	GravitySG      *document.Estimate `json:"gravity_sg"`
	OriginalSG     *document.Estimate `json:"original_gravity_sg"`
	ABVPct         *document.Estimate `json:"abv_pct"`
	ABVInputsPct   *document.Estimate `json:"abv_pct_inputs"`
	RealExtractPct *document.Estimate `json:"real_extract_pct"`
	IBU            *document.Estimate `json:"ibu"`
	SRM            *document.Estimate `json:"srm"`
	CO2Volumes     *document.Estimate `json:"co2_volumes"`
}

// StateView turns a state into its printed form.
func StateView(s ledger.State) State {
	return State{
		VolumeL: EstimateView(s.VolumeL), GravitySG: EstimateView(s.GravitySG), OriginalSG: EstimateView(s.OriginalSG),
		ABVPct: EstimateView(s.ABVPct), ABVInputsPct: EstimateView(s.ABVInputsPct),
		RealExtractPct: EstimateView(s.RealExtractPct),
		IBU:            EstimateView(s.IBU), SRM: EstimateView(s.SRM), CO2Volumes: EstimateView(s.CO2Volumes),
	}
}

// EstimateView turns a figure into its printed form, nil when not known.
func EstimateView(e figure.Estimate) *document.Estimate {
	if !e.OK || !figure.Finite(e.Value) {
		return nil
	}
	if !e.HasBounds {
		out := document.Exactly(e.Value)
		return &out
	}
	out := document.Between(e.Value, e.Low, e.High, e.Level)
	return &out
}

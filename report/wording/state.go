package wording

import (
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// State is a batch at one moment as --json prints it; null is not known.
type State struct {
	VolumeL        *figure.Stated `json:"volume_l"`            // litres at 20 C
	GravitySG      *figure.Stated `json:"gravity_sg"`          // SG 20/20
	OriginalSG     *figure.Stated `json:"original_gravity_sg"` // (equivalent) original gravity
	ABVPct         *figure.Stated `json:"abv_pct"`             // strength, % vol
	ABVInputsPct   *figure.Stated `json:"abv_pct_inputs"`      // from the limits of the inputs alone
	RealExtractPct *figure.Stated `json:"real_extract_pct"`    // % mass
	IBU            *figure.Stated `json:"ibu"`                 // bitterness, mg iso-alpha acids per litre
	SRM            *figure.Stated `json:"srm"`                 // colour, SRM units
	CO2Volumes     *figure.Stated `json:"co2_volumes"`         // dissolved CO2, volumes
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

// ChangeView turns what a step changed into its printed form, nil where it changed
// nothing.
func ChangeView(c ledger.State, changed bool) *State {
	if !changed {
		return nil
	}
	v := StateView(c)
	return &v
}

// EstimateView turns a figure into its printed form, nil when not known.
func EstimateView(e figure.Estimate) *figure.Stated {
	// null in JSON, which has no NaN
	if !e.OK || !figure.Finite(e.Value) {
		return nil
	}
	if !e.HasBounds {
		out := figure.StatedExactly(e.Value)
		return &out
	}
	out := figure.StatedBetween(e.Value, e.Low, e.High, e.Level)
	return &out
}

package report

import "hedgerow/trials/ledger"

// State is a batch at one moment as --json prints it; null is not known.
type State struct {
	VolumeL        *Estimate `json:"volume_l"`
	GravitySG      *Estimate `json:"gravity_sg"`
	OriginalSG     *Estimate `json:"original_gravity_sg"`
	ABVPct         *Estimate `json:"abv_pct"`
	ABVInputsPct   *Estimate `json:"abv_pct_inputs"`
	RealExtractPct *Estimate `json:"real_extract_pct"`
	IBU            *Estimate `json:"ibu"`
	SRM            *Estimate `json:"srm"`
	CO2Volumes     *Estimate `json:"co2_volumes"`
}

// stateView turns a state into its printed form.
func stateView(s ledger.State) State {
	return State{
		VolumeL: estimateView(s.VolumeL), GravitySG: estimateView(s.GravitySG), OriginalSG: estimateView(s.OriginalSG),
		ABVPct: estimateView(s.ABVPct), ABVInputsPct: estimateView(s.ABVInputsPct), RealExtractPct: estimateView(s.RealExtractPct),
		IBU: estimateView(s.IBU), SRM: estimateView(s.SRM), CO2Volumes: estimateView(s.CO2Volumes),
	}
}

// estimateView turns a figure into its printed form, nil when not known.
func estimateView(e ledger.Estimate) *Estimate {
	if !e.OK || !finite(e.Value) {
		return nil
	}
	if !e.HasBounds {
		out := Exactly(e.Value)
		return &out
	}
	out := Between(e.Value, e.Low, e.High, e.Level)
	return &out
}

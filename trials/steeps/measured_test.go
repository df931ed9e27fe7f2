package steeps

import (
	"testing"

	"hedgerow/trials"
)

// Each figure that is measured in place of assumed narrows the interval of what it
// bears on: the dose, or for a gravity the solids.
func TestEachMeasurementNarrows(t *testing.T) {
	tea := func(edit func(*SteepRequest)) SteepAnswer {
		q := SteepRequest{Material: "hibiscus", Form: "cut", Method: trials.MethodTea, MassG: 36, IntoL: 12,
			Passes: []trials.Pass{settled(0.45, trials.SeparationDrained)}}
		edit(&q)
		return steeped(t, q)
	}
	width := func(a SteepAnswer) float64 {
		e := a.Doubt.Dose[0].At95
		return (e.High - e.Low) / e.Value
	}
	assumed := tea(func(*SteepRequest) {})
	for what, edit := range map[string]func(*SteepRequest){
		"recovered": func(q *SteepRequest) { q.Passes[0].RecoveredL = ptr(0.336) },
		"held":      func(q *SteepRequest) { q.Passes[0].HeldL = ptr(0.130) },
		"spent":     func(q *SteepRequest) { q.Passes[0].SpentG = ptr(141.0) },
		"dry-down":  func(q *SteepRequest) { q.MoisturePct, q.MoistureMeasured = ptr(11.0), true },
	} {
		if got := width(tea(edit)); !(got < width(assumed)) {
			t.Errorf("%s: %.4f of the dose, %.4f assumed", what, got, width(assumed))
		}
	}
	measured := tea(func(q *SteepRequest) { q.Passes[0].TeaSG = ptr(1.006) }).Solids
	if !measured.Measured || assumed.Solids.Measured ||
		measured.High-measured.Low >= assumed.Solids.High-assumed.Solids.Low {
		t.Errorf("solids %+v measured, %+v assumed", measured, assumed.Solids)
	}
	// Own scores take the place of nothing known about a method.
	p, err := evidence().MethodPotency(0)
	if err != nil {
		t.Fatal(err)
	}
	if p.Update.Combined.SDLn >= p.Update.Prior.SDLn {
		t.Errorf("sd of ln R %.3f with scores, %.3f without", p.Update.Combined.SDLn, p.Update.Prior.SDLn)
	}
}

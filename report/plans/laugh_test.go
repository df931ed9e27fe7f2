package plans

import (
	"testing"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// No plan that a brewer would laugh at, by judgement: over all materials of the catalogue
// with a range, at its ends and by every way, a plan is refused with a hint or it adds at
// most a fifth of liquid (a tenth where the way is free), takes no more beer than there
// is, makes no tea of less than 150 mL and weighs less than half of the beer.
func TestNoPlanThatABrewerWouldLaughAt(t *testing.T) {
	n := &trials.Notebook{Now: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)}
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	ways := []string{"", trials.MethodTea, trials.MethodColdTea, trials.MethodTincture, trials.MethodContact,
		trials.MethodFlameOut, trials.MethodBoil}
	plans, free := 0, 0
	for i, m := range materials.All() {
		if m.DoseLowGPerL == nil || m.DoseHighGPerL == nil || m.IsLiquidOrSugar() || testing.Short() && i%4 > 0 {
			continue
		}
		s := ledger.TrialSet{Material: m, Class: trials.ClassIndex(m)}
		perG := s.EffectivePerGram(m.DoseBasis)
		for j, kind := range []string{trials.PlanBench, trials.PlanSplit, trials.PlanBatch} {
			for k, method := range ways {
				// each material meets each kind, any way and one way by turns: all of them take minutes
				if k > 0 && k != 1+(i+j)%(len(ways)-1) {
					continue
				}
				holds := []float64{2, 12, 20}[(i+j+k)%3]
				r := PlanRequest{Kind: kind, DosesGPerL: []float64{perG * *m.DoseLowGPerL, perG * *m.DoseHighGPerL},
					BeerL: holds, Method: method, PourStepL: 0.001, ScaleStepG: 0.01}
				switch kind {
				case trials.PlanBatch:
					r.DosesGPerL = r.DosesGPerL[1:]
				case trials.PlanBench:
					r.BeerL, r.PourStepL = 0.1, 0.0001
				case trials.PlanSplit:
					r.BeerL = holds / 5
				}
				d, _, err := DesignPlan(n, s, r)
				if err != nil {
					if trials.CodeOf(err) != trials.Invalid || trials.ProblemOf(err).(*trials.Problem).Hint == "" {
						t.Errorf("%s of %s as %q: %v", kind, m.Key, method, err)
					}
					if method == "" && kind != trials.PlanBench {
						t.Errorf("%s of %s, any way: %v", kind, m.Key, err)
					}
					continue
				}
				plans++
				most := 0.21 // rounding to handy amounts is let pass
				if method == "" {
					free++
					most = 0.11
				}
				if d.AddedL > most*r.BeerL && kind != trials.PlanBench || d.AddedL > 0.21*r.BeerL {
					t.Errorf("%s of %s as %q (%s) adds %.0f %%", kind, m.Key, method, d.Method, 100*d.AddedL/r.BeerL)
				}
				var water float64
				for _, p := range d.Passes {
					water += p.VolumeL
				}
				if len(d.Passes) > 0 && d.SpiritPct == nil && water < 0.145 {
					t.Errorf("%s of %s as %q: a tea of %.0f mL", kind, m.Key, method, 1000*water)
				}
				for _, v := range d.Vessels {
					if v.MassG > 500*v.BeerL {
						t.Errorf("%s of %s as %q: %.0f g in %g L", kind, m.Key, method, v.MassG, v.BeerL)
					}
				}
			}
		}
	}
	if plans < 100 || free < 20 {
		t.Errorf("only %d plans, %d of them free", plans, free)
	}
}

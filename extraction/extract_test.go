package extraction

import (
	"math"
	"strings"
	"testing"
)

// caseA is worked example A: 749.6 mL with 28 * 0.95 * 0.972169 = 25.8597 g.
func caseA(t *testing.T) Result { return run(t, tea28(stirred(400, Drained), stirred(400, Squeezed))) }

// By hand from case A.
func TestExtractStrength(t *testing.T) {
	r := caseA(t)
	e := r.Extract()
	if !near(e.CarriedG[Water], 25.8597, 1e-4) || !near(e.VolumeML, 749.6, 1e-9) {
		t.Errorf("%.4f g in %.1f mL, want 25.8597 g in 749.6 mL", e.CarriedG[Water], e.VolumeML)
	}
	topped, err := e.TopUp(250.4)
	if err != nil {
		t.Fatal(err)
	}
	if !near(topped.CarriedG[Water], 25.8597, 1e-4) || !near(topped.VolumeML, 1000, 1e-9) {
		t.Errorf("topped up %.4f g in %.1f mL, want 25.8597 g in a litre", topped.CarriedG[Water], topped.VolumeML)
	}
	// 0.30 (0.15 to 0.45) of 25.2 g times 0.972169.
	if s := e.SolidsG; !near(s.Value, 7.3496, 1e-4) || !near(s.Low, 3.6748, 1e-4) || !near(s.High, 11.0244, 1e-4) {
		t.Errorf("solids %+v, want 7.3496 (3.6748 to 11.0244)", s)
	}
}

// Solids from a measured gravity replace the share of the dry matter; juice
// brings all of its own.
func TestExtractSolids(t *testing.T) {
	s := tea28(stirred(400, Drained))
	s.SolidsGPerL = new(8.0)
	r := run(t, s)
	if got := r.Extract().SolidsG; !near(got.Value, 8*0.2866, 1e-9) || got.Low != got.High {
		t.Errorf("%+v, want 2.2928 g without an interval", got)
	}
	r = run(t, Steep{Method: JuiceIn, Form: Juice, MassG: 1000, Moisture: new(0.88)})
	if got := r.Extract().SolidsG.Value; !near(got, 120, 1e-9) {
		t.Errorf("juice brings %.2f g, want 120", got)
	}
}

// One tea into two batches: the parts carry what the whole does, and half of it
// into half the beer gives the same dose.
func TestTeaIntoSeveralBatches(t *testing.T) {
	r := caseA(t)
	e := r.Extract()
	first, rest, err := e.Take(300)
	if err != nil {
		t.Fatal(err)
	}
	if !near(first.CarriedG[Water]+rest.CarriedG[Water], e.CarriedG[Water], 1e-9) || !near(rest.VolumeML, 449.6, 1e-9) ||
		!near(first.WeighedG+rest.WeighedG, 28, 1e-9) {
		t.Errorf("%+v and %+v do not add up to %+v", first, rest, e)
	}
	whole, err1 := r.Dose(Mix{IntoL: 20})
	half, err2 := r.Dose(Mix{IntoL: 10, AddedML: new(e.VolumeML / 2)})
	if err1 != nil || err2 != nil || !near(whole.EffectiveGPerL[Water], half.EffectiveGPerL[Water], 1e-12) ||
		!near(half.Share, 0.5, 1e-12) {
		t.Errorf("whole %+v %v, half %+v %v", whole, err1, half, err2)
	}
	if !near(whole.WeighedGPerL, 28/20.7496, 1e-9) || !near(half.WeighedGPerL, whole.WeighedGPerL, 1e-12) {
		t.Errorf("as weighed %.4f and %.4f g/L, want %.4f", whole.WeighedGPerL, half.WeighedGPerL, 28/20.7496)
	}
}

// Water put into the tea before it is poured in, all of it: the dose falls with
// the volume alone. By hand 25.8597/(19 + 1).
func TestTopUpBeforePouring(t *testing.T) {
	r := caseA(t)
	d, err := r.Dose(Mix{IntoL: 19, TopUpML: 250.4})
	if err != nil || !near(d.EffectiveGPerL[Water], 25.8597/20, 1e-5) || !near(d.AddedL, 1, 1e-9) {
		t.Errorf("%+v, %v, want %.5f g/L with a litre added", d, err, 25.8597/20)
	}
}

// Boil-off concentrates, later water dilutes (section 0): row of the published
// file, 28 * 0.95 ... in another order. By hand from case A.
func TestLaterChangesOfVolume(t *testing.T) {
	r := caseA(t)
	plain, err := r.Dose(Mix{IntoL: 19})
	if err != nil {
		t.Fatal(err)
	}
	boiled, err := r.Dose(Mix{IntoL: 19, Later: []VolumeChange{{BeforeL: 20, AfterL: 16}}})
	if err != nil || !near(boiled.EffectiveGPerL[Water], plain.EffectiveGPerL[Water]*1.25, 1e-12) {
		t.Errorf("boiled down %.5f, %v, want 1.25 times %.5f", boiled.EffectiveGPerL[Water], err, plain.EffectiveGPerL[Water])
	}
}

func TestMixRefuses(t *testing.T) {
	r := caseA(t)
	for mention, m := range map[string]Mix{
		"beer volume 0":     {},
		"beer volume -3":    {IntoL: -3},
		"beer volume NaN":   {IntoL: math.NaN()},
		"more than the 749": {IntoL: 19, AddedML: new(800.0)},
		"volume taken -1":   {IntoL: 19, AddedML: new(-1.0)},
		"top-up -1":         {IntoL: 19, TopUpML: -1},
		"volume after 0":    {IntoL: 19, Later: []VolumeChange{{20, 0}}},
	} {
		if _, err := r.Dose(m); err == nil || !strings.Contains(err.Error(), mention) {
			t.Errorf("%+v: %v, want %q", m, err, mention)
		}
	}
}

// Material put into the beer itself loses nothing to held liquid: 28 g complete
// in 20 L is 28 * 0.95/20. Fresh material brings its own water.
func TestDirectMethods(t *testing.T) {
	week := []Pass{{Minutes: 5 * 1440, Agitation: Stirred}}
	r := run(t, Steep{Method: Contact, Form: Crushed, MassG: 28, Passes: week})
	d, err := r.Dose(Mix{IntoL: 20})
	if err != nil || !near(d.EffectiveGPerL[Water], 1.33, 1e-6) || d.AddedL != 0 {
		t.Errorf("%+v, %v, want 1.33 g/L and no liquid", d, err)
	}
	// 1000 g of fruit at 85 % water brings 850 mL; 150 g dry is 166.67 g as dried.
	r = run(t, Steep{Method: Contact, Form: Frozen, MassG: 1000, Moisture: new(0.85), Passes: week})
	d, err = r.Dose(Mix{IntoL: 10})
	if want := 150 / 0.9 * 0.95 * r.Yield[Water] / 10.85; err != nil || !near(d.EffectiveGPerL[Water], want, 1e-9) {
		t.Errorf("%+v, %v, want %.4f g/L", d, err, want)
	}
	// Juice of 12 % solids: 880 mL of water and 120 g * 0.62 mL/g.
	r = run(t, Steep{Method: JuiceIn, Form: Juice, MassG: 1000, Moisture: new(0.88)})
	if r.Yield[Water] != 1 || !near(r.ExtractML, 954.4, 1e-9) {
		t.Errorf("juice yields %v in %.1f mL, want all in 954.4 mL", r.Yield[Water], r.ExtractML)
	}
	r = run(t, Steep{Method: PureeIn, Form: Puree, MassG: 1000, Moisture: new(0.88)})
	if !near(r.Yield[Water], 1, 1e-6) {
		t.Errorf("puree yields %v, want all", r.Yield[Water])
	}
}

// Spirit carries what beer cannot, and slower (section 4): resin 0.60 against
// 0.05, k times 0.36 at 40 % vol.
func TestTincture(t *testing.T) {
	pass := Pass{VolumeML: 250, StartC: new(20.0), Minutes: 60, Agitation: Stirred}
	weak := run(t, Steep{Method: ColdTea, Form: Cut, MassG: 10, Passes: []Pass{pass}})
	strong := run(t, Steep{Method: Tincture, Form: Cut, MassG: 10, Passes: []Pass{pass}})
	if !near(strong.Ceiling[Resin], 0.60, 1e-12) || !near(weak.Ceiling[Resin], 0.05, 1e-12) {
		t.Errorf("u %v and %v, want 0.60 and 0.05", strong.Ceiling[Resin], weak.Ceiling[Resin])
	}
	if got, want := strong.Passes[0].RateTime[Water], 0.36*weak.Passes[0].RateTime[Water]; !near(got, want, 1e-12) {
		t.Errorf("K %v, want %v", got, want)
	}
}

// Live membranes (section 2): fresh whole material is ten times slower below
// 50 C, until it has once been hotter.
func TestLiveMembranes(t *testing.T) {
	fresh := func(passes ...Pass) Result {
		return run(t, Steep{Method: Contact, Form: FreshWhole, MassG: 100, Moisture: new(0.85), Passes: passes})
	}
	cold := Pass{StartC: new(20.0), Minutes: 100, Agitation: Stirred}
	hot := Pass{StartC: new(60.0), Minutes: 1, Agitation: Stirred}
	alive, dead := fresh(cold), fresh(hot, cold)
	if got, want := alive.Passes[0].RateTime[Water], dead.Passes[1].RateTime[Water]/10; !near(got, want, 1e-12) {
		t.Errorf("K alive %v, want a tenth of %v", got, dead.Passes[1].RateTime[Water])
	}
}

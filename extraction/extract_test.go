package extraction

import (
	"math"
	"strings"
	"testing"
)

// caseA is worked example A: 965.76 mL with 36 * 0.85 * 0.982729 = 30.0715 g.
func caseA(t *testing.T) Result { return run(t, threePasses()) }

// By hand from case A.
func TestExtractStrength(t *testing.T) {
	r := caseA(t)
	e := r.Extract()
	if !near(e.CarriedG[Water], 30.0715, 1e-4) || !near(e.VolumeML, 965.76, 1e-9) {
		t.Errorf("%.4f g in %.1f mL, want 30.0715 g in 965.76 mL", e.CarriedG[Water], e.VolumeML)
	}
	topped, err := e.topUp(34.24)
	if err != nil {
		t.Fatal(err)
	}
	if !near(topped.CarriedG[Water], 30.0715, 1e-4) || !near(topped.VolumeML, 1000, 1e-9) {
		t.Errorf("topped up %.4f g in %.1f mL, want 30.0715 g in a litre", topped.CarriedG[Water], topped.VolumeML)
	}
	// A third of the dry matter times the yield, with an sd of ln of 0.30: by hand
	// 0.33 * 32.4 * Y, divided and multiplied by exp(1.95996 * 0.30) = 1.80036.
	s := threePasses()
	s.Soluble = nil
	r = run(t, s)
	want := 0.33 * 32.4 * r.Yield[Water]
	if s := r.Extract().SolidsG; !near(s.Value, want, 1e-9) || !near(s.Low, want/1.80036, 1e-4) ||
		!near(s.High, want*1.80036, 1e-4) {
		t.Errorf("solids %+v, want %.4f (%.4f to %.4f)", s, want, want/1.80036, want*1.80036)
	}
}

// Solids from a measured gravity replace the share of the dry matter; juice
// brings all of its own.
func TestExtractSolids(t *testing.T) {
	s := leaf36(stirred(450, Drained))
	s.SolidsGPerL = new(8.0)
	r := run(t, s)
	if got := r.Extract().SolidsG; !near(got.Value, 8*0.3204, 1e-9) || got.Low != got.High {
		t.Errorf("%+v, want 2.5632 g without an interval", got)
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
	first, rest, err := e.take(300)
	if err != nil {
		t.Fatal(err)
	}
	if !near(first.CarriedG[Water]+rest.CarriedG[Water], e.CarriedG[Water], 1e-9) || !near(rest.VolumeML, 665.76, 1e-9) ||
		!near(first.WeighedG+rest.WeighedG, 32.4, 1e-9) {
		t.Errorf("%+v and %+v do not add up to %+v", first, rest, e)
	}
	whole, err1 := r.Dose(Mix{IntoL: 20})
	half, err2 := r.Dose(Mix{IntoL: 10, AddedML: new(e.VolumeML / 2)})
	if err1 != nil || err2 != nil || !near(whole.EffectiveGPerL[Water], half.EffectiveGPerL[Water], 1e-12) ||
		!near(half.Share, 0.5, 1e-12) {
		t.Errorf("whole %+v %v, half %+v %v", whole, err1, half, err2)
	}
	if !near(whole.WeighedGPerL, 32.4/20.96576, 1e-9) || !near(half.WeighedGPerL, whole.WeighedGPerL, 1e-12) {
		t.Errorf("as weighed %.4f and %.4f g/L, want %.4f", whole.WeighedGPerL, half.WeighedGPerL, 32.4/20.96576)
	}
}

// Water put into the tea before it is poured in, all of it: the dose falls with
// the volume alone. By hand 30.0715/(17 + 1).
func TestTopUpBeforePouring(t *testing.T) {
	r := caseA(t)
	d, err := r.Dose(Mix{IntoL: 17, TopUpML: 34.24})
	if err != nil || !near(d.EffectiveGPerL[Water], 30.0715/18, 1e-5) || !near(d.AddedL, 1, 1e-9) {
		t.Errorf("%+v, %v, want %.5f g/L with a litre added", d, err, 30.0715/18)
	}
}

// Boil-off concentrates, later water dilutes (section 0): row of the published
// file in another order. By hand from case A.
func TestLaterChangesOfVolume(t *testing.T) {
	r := caseA(t)
	plain, err := r.Dose(Mix{IntoL: 17})
	if err != nil {
		t.Fatal(err)
	}
	boiled, err := r.Dose(Mix{IntoL: 17, Later: []VolumeChange{{BeforeL: 20, AfterL: 16}}})
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
		"more than the 965": {IntoL: 17, AddedML: new(1000.0)},
		"volume taken -1":   {IntoL: 17, AddedML: new(-1.0)},
		"top-up -1":         {IntoL: 17, TopUpML: -1},
		"volume after 0":    {IntoL: 17, Later: []VolumeChange{{20, 0}}},
	} {
		if _, err := r.Dose(m); err == nil || !strings.Contains(err.Error(), mention) {
			t.Errorf("%+v: %v, want %q", m, err, mention)
		}
	}
}

// Material put into the beer itself loses nothing to held liquid: 36 g complete
// in 18 L is 36 * 0.85/18.0099 with what it brings, by hand 3.6/0.99820123 mL of
// water and 0.60 * 0.33 * 32.4 mL of solids. Of wort nothing is added, for its volume
// is read once the plant is out.
func TestDirectMethods(t *testing.T) {
	week := []Pass{{Minutes: 50 * 1440, Agitation: Stirred}}
	s := Steep{Method: Contact, Form: Crushed, Kind: LeafFlower, MassG: 36, Passes: week}
	r := run(t, s)
	d, err := r.Dose(Mix{IntoL: 18})
	added := (3.6/0.99820123 + 0.60*0.33*32.4) / 1000
	if err != nil || !near(d.EffectiveGPerL[Water], 36*0.85/(18+added), 1e-6) || !near(d.AddedL, added, 1e-6) {
		t.Errorf("%+v, %v, want %.4f g/L with %.4f L", d, err, 36*0.85/(18+added), added)
	}
	s.Method, s.Passes = FlameOut, []Pass{{Minutes: 3000, Agitation: Stirred}}
	r = run(t, s)
	if d, err = r.Dose(Mix{IntoL: 18}); err != nil || !near(d.EffectiveGPerL[Water], 1.7, 1e-6) || d.AddedL != 0 {
		t.Errorf("%+v, %v, want 1.7 g/L and no liquid", d, err)
	}
	// 1000 g of fruit at 85 % water: 150 g dry is 166.67 g as dried, 0.70 of it dissolves.
	r = run(t, Steep{Method: Contact, Form: Frozen, Kind: Fruit, MassG: 1000, Moisture: new(0.85), Passes: week})
	d, err = r.Dose(Mix{IntoL: 10})
	brings := (850/0.99820123 + 0.60*0.70*150) / 1000
	if want := 150 / 0.9 * 0.85 / (10 + brings); err != nil || !near(d.EffectiveGPerL[Water], want, 1e-6) {
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
// 50 C on its first day, until it has once been hotter.
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
	// By hand: of two days the first counts a tenth.
	cold.Minutes = 2880
	alive, dead = fresh(cold), fresh(hot, cold)
	if got, want := alive.Passes[0].RateTime[Water], dead.Passes[1].RateTime[Water]*1.1/2; !near(got, want, 1e-9) {
		t.Errorf("K of two days %v, want 0.55 of %v", got, dead.Passes[1].RateTime[Water])
	}
}

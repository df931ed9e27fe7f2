package extraction

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// refusals are calls that must be refused, with a word that the message must
// have. Section 7 of the science page lists what must be an error.
type refusal struct {
	name    string
	call    func() error
	mention string
}

// checkRefusals runs the calls.
func checkRefusals(t *testing.T, list []refusal) {
	t.Helper()
	for _, r := range list {
		err := r.call()
		var refused *InputError
		if !errors.As(err, &refused) || !strings.Contains(refused.Message, r.mention) {
			t.Errorf("%s: error %v, want an InputError with %q", r.name, err, r.mention)
			continue
		}
		if refused.Hint == "" || strings.HasSuffix(refused.Message, ".") || strings.ContainsAny(refused.Message+refused.Hint, "\n") {
			t.Errorf("%s: message %q, hint %q, want one line each, no full stop, a hint", r.name, refused.Message, refused.Hint)
		}
	}
}

func TestKineticsRefuse(t *testing.T) {
	checkRefusals(t, []refusal{
		{"cold", func() error { _, err := Arrhenius{30}.Factor(-21); return err }, "-21"},
		{"hot", func() error { _, err := Arrhenius{30}.Factor(111); return err }, "111"},
		{"NaN", func() error { _, err := Arrhenius{30}.Factor(math.NaN()); return err }, "NaN"},
		{"negative Ea", func() error { _, err := Arrhenius{-1}.Factor(20); return err }, "-1"},
		{"infinite Ea", func() error { _, err := Arrhenius{math.Inf(1)}.Factor(20); return err }, "Inf"},
		{"rates", func() error { _, err := TwoRates{20, 0, 30, 1}.Activation(); return err }, "rate 0"},
		{"one temperature", func() error { _, err := TwoRates{20, 1, 20, 1}.Activation(); return err }, "20 C"},
		{"washed", func() error { _, err := Release{-0.1}.Share(1); return err }, "-0.1"},
		{"washed above one", func() error { _, err := Release{1.01}.Share(1); return err }, "1.01"},
		{"negative K", func() error { _, err := Release{0.1}.Share(-1); return err }, "-1"},
		{"no liquid", func() error { _, err := Bath{0, 25, 0}.Fraction(); return err }, "no liquid"},
		{"negative dry matter", func() error { _, err := Bath{100, -25, 1}.Fraction(); return err }, "-25"},
		{"F of one", func() error { _, _, err := SpiroPoints{0.5, 1, 1, 2}.Line(); return err }, "share 1"},
		{"negative F", func() error { _, _, err := SpiroPoints{-0.5, 1, 0.5, 2}.Line(); return err }, "-0.5"},
		{"one time", func() error { _, _, err := SpiroPoints{0.5, 2, 0.6, 2}.Line(); return err }, "2 min"},
		{"negative time", func() error { _, _, err := SpiroPoints{0.5, -2, 0.6, 2}.Line(); return err }, "-2"},
		{"no length", func() error { _, err := SizeLaw{1, 1}.Rate(0.7, 0); return err }, "length 0"},
		{"no reference", func() error { _, err := SizeLaw{0, 1}.Rate(0.7, 1); return err }, "reference length 0"},
		{"negative rate", func() error { _, err := SizeLaw{1, 1}.Rate(-0.7, 1); return err }, "-0.7"},
		{"spread", func() error { _, err := RateSpread{-1, 0, 0, 0}.SDLn(20); return err }, "-1"},
		{"spread too hot", func() error { _, err := DefaultRateSpread().SDLn(120); return err }, "120"},
		{"quantile", func() error { _, err := ReleaseQuantile{0.1, 1, -1, 0}.Share(); return err }, "-1"},
	})
}

func TestHeatRefuses(t *testing.T) {
	law := Arrhenius{EaKJ}
	checkRefusals(t, []refusal{
		{"start", func() error { _, err := law.ReducedMinutes(Cooling{120, 20, 0.1}, 5); return err }, "120"},
		{"ambient", func() error { _, err := law.ReducedMinutes(Cooling{90, -40, 0.1}, 5); return err }, "-40"},
		{"time", func() error { _, err := law.ReducedMinutes(Cooling{90, 20, 0.1}, -5); return err }, "-5"},
		{"runs away", func() error { _, err := law.ReducedMinutes(Cooling{90, 20, -0.1}, 50); return err }, "end temperature"},
		{"Ea", func() error { _, err := Arrhenius{-3}.ReducedMinutesCurve([]CurvePoint{{0, 90}, {5, 80}}); return err }, "-3"},
		{"one reading", func() error { _, err := law.ReducedMinutesCurve([]CurvePoint{{0, 90}}); return err }, "1 readings"},
		{"order", func() error { _, err := law.ReducedMinutesCurve([]CurvePoint{{5, 90}, {0, 80}}); return err }, "0 min comes after 5"},
		{"reading", func() error { _, err := law.ReducedMinutesCurve([]CurvePoint{{0, 90}, {5, 180}}); return err }, "180"},
		{"time of a reading", func() error { _, err := law.ReducedMinutesCurve([]CurvePoint{{-1, 90}, {5, 80}}); return err }, "-1"},
		{"fading washed", func() error { _, err := Fading{2, 1, 1}.Present(5); return err }, "2"},
		{"fading rate", func() error { _, err := Fading{0.1, -1, 1}.Present(5); return err }, "-1"},
		{"fading loss", func() error { _, err := Fading{0.1, 1, -1}.Present(5); return err }, "loss rate -1"},
		{"fading time", func() error { _, err := Fading{0.1, 1, 1}.Present(-5); return err }, "-5"},
		{"half-life", func() error { _, err := HalfLife{0}.Survival(5); return err }, "half-life 0"},
		{"time of a half-life", func() error { _, err := HalfLife{20}.Survival(-5); return err }, "-5"},
	})
}

func TestPassesRefuse(t *testing.T) {
	one := new(1.0)
	checkRefusals(t, []refusal{
		{"dry matter", func() error { _, err := Train{DryG: -1}.Run(); return err }, "-1"},
		{"own water", func() error { _, err := Train{DryG: 1, OwnWaterML: -2}.Run(); return err }, "-2"},
		{"sorption", func() error { _, err := Train{DryG: 1, KappaMLPerG: -3}.Run(); return err }, "-3"},
		{"washed", func() error { _, err := Train{DryG: 1, Washed: 1.5}.Run(); return err }, "1.5"},
		{"volume", func() error { _, err := Train{DryG: 1, Stages: []Stage{{-4, 1, one, nil}}}.Run(); return err }, "-4"},
		{"held", func() error { _, err := Train{DryG: 1, Stages: []Stage{{4, -5, one, nil}}}.Run(); return err }, "-5"},
		{"efficiency", func() error { _, err := Train{DryG: 1, Stages: []Stage{{4, 1, new(1.1), nil}}}.Run(); return err }, "1.1"},
		{"rate", func() error { _, err := Train{DryG: 1, Stages: []Stage{{4, 1, nil, new(-6.0)}}}.Run(); return err }, "-6"},
		{"neither", func() error { _, err := Train{DryG: 1, Stages: []Stage{{4, 1, nil, nil}}}.Run(); return err }, "neither"},
		{"first of two", func() error {
			_, err := Train{DryG: 1, Stages: []Stage{{-4, 1, one, nil}, {4, 1, one, nil}}}.Run()
			return err
		}, "-4"},
		{"closed e", func() error { _, err := EqualPasses{-1, 0.5, 1}.Yield(); return err }, "-1"},
		{"closed rho", func() error { _, err := EqualPasses{1, 1.5, 1}.Yield(); return err }, "1.5"},
		{"closed n", func() error { _, err := EqualPasses{1, 0.5, -1}.Yield(); return err }, "-1 passes"},
	})
}

func TestReferenceFormsRefuse(t *testing.T) {
	checkRefusals(t, []refusal{
		{"Fo", func() error { _, err := Slab.Diffused(-1); return err }, "-1"},
		{"early Fo", func() error { _, err := Slab.EarlyDiffused(-1); return err }, "-1"},
		{"limited Fo", func() error { _, err := Slab.DiffusedLimited(LimitedBath{-1, 1}); return err }, "-1"},
		{"alpha", func() error { _, err := Slab.DiffusedLimited(LimitedBath{1, 0}); return err }, "alpha 0"},
		{"share", func() error { _, err := Sphere.FourierFor(1); return err }, "share 1"},
		{"negative share", func() error { _, err := Sphere.FourierFor(-0.1); return err }, "-0.1"},
		{"D", func() error { _, err := Diffusion{-1, 1, 1}.Fourier(); return err }, "-1"},
		{"length", func() error { _, err := Diffusion{1e-10, 0, 1}.Fourier(); return err }, "length 0"},
		{"time", func() error { _, err := Diffusion{1e-10, 1, -1}.Fourier(); return err }, "-1"},
		{"Henry", func() error { _, err := Henry{0, 4600}.AirWater(25); return err }, "Henry"},
		{"Henry too hot", func() error { _, err := Henry{1, 4600}.AirWater(125); return err }, "125"},
		{"volatility", func() error { _, err := Henry{-1, 4600}.RelativeVolatility(); return err }, "-1"},
		{"more after", func() error { _, err := BoilDown{20, 25, 1}.Survival(); return err }, "more than"},
		{"nothing after", func() error { _, err := BoilDown{20, 0, 1}.Survival(); return err }, "after 0"},
		{"alpha below zero", func() error { _, err := BoilDown{20, 19, -1}.Survival(); return err }, "-1"},
		{"ethanol", func() error { _, err := Cosolvent{3, 40}.Factor(); return err }, "40"},
		{"shape", func() error { _, err := ParseShape("slap"); return err }, "slap"},
	})
}

func TestDoseTermsRefuse(t *testing.T) {
	good := DoseTerms{Mass: WetMass{28, 0.1}, RefMoisture: 0.1, Ceiling: 0.95, Yield: 1, Survival: 1, Added: 1, MixL: 20, AfterL: 20}
	if v, err := good.PerL(); err != nil || !near(v, 1.33, 1e-12) {
		t.Errorf("28 g in 20 L at u 0.95 is %v, %v, want 1.33 by hand", v, err)
	}
	with := func(change func(*DoseTerms)) func() error {
		return func() error { d := good; change(&d); _, err := d.PerL(); return err }
	}
	checkRefusals(t, []refusal{
		{"mass", with(func(d *DoseTerms) { d.Mass.MassG = -1 }), "mass -1"},
		{"moisture", with(func(d *DoseTerms) { d.Mass.Moisture = 1 }), "100"},
		{"negative moisture", with(func(d *DoseTerms) { d.Mass.Moisture = -0.2 }), "-20"},
		{"reference", with(func(d *DoseTerms) { d.RefMoisture = 1 }), "100"},
		{"u", with(func(d *DoseTerms) { d.Ceiling = 2 }), "ceiling 2"},
		{"Y", with(func(d *DoseTerms) { d.Yield = 1.2 }), "yield 1.2"},
		{"S", with(func(d *DoseTerms) { d.Survival = -1 }), "survival -1"},
		{"f", with(func(d *DoseTerms) { d.Added = 1.1 }), "added 1.1"},
		{"V_mix", with(func(d *DoseTerms) { d.MixL = 0 }), "mixing 0"},
		{"V_after", with(func(d *DoseTerms) { d.AfterL = -3 }), "dilution -3"},
	})
}

func TestPotencyFormulasRefuse(t *testing.T) {
	checkRefusals(t, []refusal{
		{"slope", func() error { _, err := ParallelLines{1, 2, 0}.RelativePotency(); return err }, "slope 0"},
		{"prior", func() error { _, err := LnNormal{0, 0}.Combine(LnNormal{0, 1}); return err }, "prior sd 0"},
		{"estimate", func() error { _, err := LnNormal{0, 1}.Combine(LnNormal{0, -1}); return err }, "-1"},
		{"g of one", func() error { _, _, err := Ratio{D: 1, SDD: 1, B: 2, SDB: 1, T: 2}.Fieller(); return err }, "g = 1"},
		{"no slope", func() error { _, _, err := Ratio{D: 1, SDD: 1, B: 0, SDB: 1, T: 2}.Fieller(); return err }, "slope 0"},
		{"nothing known of no slope", func() error { _, _, err := Ratio{D: 1, SDD: 1, B: 0, SDB: 0, T: 2}.Fieller(); return err }, "slope 0"},
		{"t", func() error { _, _, err := Ratio{D: 1, SDD: 1, B: 3, SDB: 1, T: -2}.Fieller(); return err }, "-2"},
	})
}

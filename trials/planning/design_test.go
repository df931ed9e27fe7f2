package planning

import (
	"math"
	"strings"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"

	"pgregory.net/rapid"
)

// hibiscusSeries pours the tea of case A into glasses of 100 mL. The scale's step
// of 1.8 g makes the least mass (20 steps) the 36 g of that case, so its passes
// stay as they are.
func hibiscusSeries(doses ...float64) Series {
	tea := jugTea()
	return Series{Pattern: Pattern{Extract: &tea, Like: "heather-1"}, DosesGPerL: doses, BeerL: 0.1, PourStepL: 0.0001,
		ScaleStepG: 1.8, SparePct: 10}
}

// Case A of section 3 of the reference page on extraction carries 0.85 x 0.983317
// = 0.835819 g per gram weighed in 981.614/36 mL, so c = 30.653 g/L. By hand, for
// 0, 1 and 2 g/L in 100 mL: A = 2 x 100 / (30.653 - 2) = 6.9799 mL, the glass of
// 1 g/L takes 106.980/30.653 = 3.4900 mL, that of 2 g/L all 6.9799 mL; to 0.1 mL
// that is 3.5 and 7.0 mL, and the doses come to 3.5 x 30.653/107 = 1.0027 and
// 7 x 30.653/107 = 2.0053 g/L.
func TestDesignByHand(t *testing.T) {
	d, err := Amounts((&trials.Notebook{Now: day(60)}), shipped(t), hibiscusSeries(0, 1, 2))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "strength", d.CarriesGPerL, 30.653, 0.01)
	near(t, "mass", d.MassG, 36, 1e-9)
	near(t, "doubt of the scale", d.ScaleDoubtPct, 100*0.9/36, 1e-9)
	near(t, "worst rounding", d.WorstPct(), 0.267, 0.01)
	want := []struct{ pour, water, reached float64 }{{0, 7.0, 0}, {3.5, 3.5, 1.0027}, {7.0, 0, 2.0053}}
	for i, w := range want {
		v := d.Vessels[i]
		near(t, "extract", 1000*v.PourL, w.pour, 1e-6)
		near(t, "water", 1000*v.WaterL, w.water, 1e-6)
		near(t, "dose", v.ReachedGPerL, w.reached, 5e-4)
	}
}

// Whatever the doses and steps, every vessel gets the same liquid, all pours are
// whole steps, the extract suffices, and no dose is off by more than half a step
// of pouring allows.
func TestDesignTreatsVesselsAlike(t *testing.T) {
	materials := shipped(t)
	rapid.Check(t, func(t *rapid.T) {
		q := hibiscusSeries(0)
		q.BeerL = rapid.Float64Range(0.05, 5).Draw(t, "beer")
		q.PourStepL = rapid.SampledFrom([]float64{0.0001, 0.0002, 0.0005}).Draw(t, "step")
		q.ScaleStepG = rapid.SampledFrom([]float64{0.01, 0.1, 1}).Draw(t, "scale")
		for range rapid.IntRange(1, 6).Draw(t, "vessels") {
			q.DosesGPerL = append(q.DosesGPerL, rapid.Float64Range(0.5, 10).Draw(t, "dose"))
		}
		d, err := Amounts((&trials.Notebook{}), materials, q)
		if err != nil {
			t.Fatal(err)
		}
		if d.PouredL() > d.ExtractL {
			t.Fatalf("%g L are poured of %g L", d.PouredL(), d.ExtractL)
		}
		for _, v := range d.Vessels {
			steps := v.PourL / q.PourStepL
			off := math.Abs(v.ReachedGPerL - v.AimGPerL)
			// half a step of this pour, and as much of the largest, which sets the water
			allowed := q.PourStepL / q.BeerL * d.CarriesGPerL
			if math.Abs(v.PourL+v.WaterL-d.AddedL) > 1e-9 || math.Abs(steps-math.Round(steps)) > 1e-6 || off > allowed {
				t.Fatalf("vessel %+v of %+v: off by %g, allowed %g", v, d, off, allowed)
			}
		}
	})
}

func TestDesignRefuses(t *testing.T) {
	fruit := trials.Addition{MaterialKey: "raspberry", Method: trials.MethodContact, Stage: trials.StageSecondary,
		Form: "frozen", MassG: ptr(1000.0), Minutes: ptr(7 * 24 * 60.0)}
	cases := []struct {
		name, want string
		change     func(*Series)
	}{
		{"a dose as strong as the extract", "carries 30.", func(q *Series) { q.DosesGPerL = []float64{0, 40} }},
		{"a syringe coarser than the dose", "less than the step of 5 mL", func(q *Series) { q.PourStepL = 0.005 }},
		{"a scale coarser than the dose", "less than the step of 50 g",
			func(q *Series) { q.Pattern, q.ScaleStepG = Pattern{Addition: &fruit}, 50 }},
		{"no dose", "there is no dose", func(q *Series) { q.DosesGPerL = nil }},
		{"a dose below zero", "outside 0 to 1000", func(q *Series) { q.DosesGPerL = []float64{-1} }},
		{"no beer", "is not above zero", func(q *Series) { q.BeerL = 0 }},
		{"no step", "is not above zero", func(q *Series) { q.PourStepL = 0 }},
	}
	for _, c := range cases {
		q := hibiscusSeries(0, 1, 2)
		c.change(&q)
		_, err := Amounts((&trials.Notebook{}), shipped(t), q)
		if trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// Put in itself, 36 g cut for five days give 36 x 0.85 g and bring 0.1002 mL of water
// and 0.6 x 0.63 x 0.9 = 0.3402 mL of solids a gram: 2 g/L in 3 L take 6/(0.85 - 2 x
// 0.00044) = 7.066 g, 7.1 g on a scale of 0.1 g, and the dose comes to 7.1 x 0.85/3.0031
// = 2.0096 g/L.
func TestDesignOfAMaterialPutInItself(t *testing.T) {
	a := trials.Addition{MaterialKey: "hibiscus", Method: trials.MethodContact, Stage: trials.StageSecondary,
		Form: "cut", MassG: ptr(36.0), MoisturePct: ptr(10.0), Minutes: ptr(5 * 24 * 60.0)}
	d, err := Amounts((&trials.Notebook{}), shipped(t),
		Series{Pattern: Pattern{Addition: &a}, DosesGPerL: []float64{0, 2}, BeerL: 3, PourStepL: 0.001,
			ScaleStepG: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mass", d.Vessels[1].MassG, 7.1, 1e-9)
	near(t, "dose", d.Vessels[1].ReachedGPerL, 2.0096, 5e-4)
	if d.Vessels[0].MassG != 0 || d.AddedL != 0 {
		t.Errorf("control %+v", d.Vessels[0])
	}
}

// The wort for a beer with tea keeps the strength of the plain beer: mixing it
// with the tea must give that strength back, here worked out with the masses of
// package dilution.
func TestStrongerWortKeepsTheStrength(t *testing.T) {
	n := &trials.Notebook{}
	q := hibiscusSeries(1.5)
	q.BeerL, q.All, q.ScaleStepG = 12, true, 0.1
	d, err := Amounts(n, shipped(t), q)
	if err != nil {
		t.Fatal(err)
	}
	w, err := StrongerFor(n, shipped(t), d, 1.048, 1.010, 12)
	if err != nil {
		t.Fatal(err)
	}
	beer, err := dilution.FromGravities(dilution.Gravities{OG: w.OG, FG: w.FG}, 12)
	if err != nil {
		t.Fatal(err)
	}
	tea, _ := dilution.Tea{VolumeL: d.ExtractL, TempC: 20}.Portion()
	near(t, "strength", beer.Plus(tea).ABVPct(), w.PlainABVPct, 0.01)
	if !(w.OG > 1.048 && w.ThinnedABVPct < w.PlainABVPct-0.1) {
		t.Errorf("%+v", w)
	}
	if _, err := StrongerFor(n, shipped(t), d, 1.010, 1.048, 12); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("gravities swapped: %v", err)
	}
}

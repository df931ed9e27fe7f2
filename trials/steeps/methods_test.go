package steeps

import (
	"math"
	"strings"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// sectionSix are the methods of the comparison that closes section 6 of the page on
// extraction: 36 g of cut, dried material into 17 L.
func sectionSix() []NamedSteep {
	jug := trials.Pass{VolumeL: 0.45, StartC: 94, EndC: ptr(52.0), Minutes: 45, Agitation: "still",
		Separation: trials.SeparationDrained}
	short := trials.Pass{VolumeL: 0.45, StartC: 94, EndC: ptr(87.42), Minutes: 5, Agitation: "now-and-then",
		Separation: trials.SeparationDrained}
	cold := trials.Pass{VolumeL: 0.45, StartC: 4, Minutes: 720, Agitation: "still", Separation: trials.SeparationDrained}
	tea := func(name, method string, passes ...trials.Pass) NamedSteep {
		return NamedSteep{name, SteepRequest{Form: "cut", Method: method, MassG: 36, MoisturePct: ptr(10.0),
			Passes: passes, IntoL: 17}}
	}
	direct := func(name, method string, s Treatment) NamedSteep {
		return NamedSteep{name, SteepRequest{Form: "cut", Method: method, MassG: 36, MoisturePct: ptr(10.0),
			Treatments: []Treatment{s}, IntoL: 17}}
	}
	return []NamedSteep{
		tea("D", trials.MethodTea, short), tea("B", trials.MethodTea, jug), tea("C", trials.MethodTea, jug,
			stage(0.35, 1, trials.SeparationDrained), stage(0.25, 1, trials.SeparationSqueezed)),
		tea("E", trials.MethodColdTea, cold),
		direct("F", trials.MethodContact, Treatment{StartC: ptr(20.0), Minutes: 7200, Agitation: "still", InBag: true}),
		direct("G", trials.MethodContact, Treatment{StartC: ptr(4.0), Minutes: 240, Agitation: "still", InBag: true}),
		direct("A", trials.MethodFlameOut, Treatment{StartC: ptr(98.0), EndC: ptr(92.0), Minutes: 10,
			Agitation: "now-and-then"}),
	}
}

// The order of the table, and its calls of clear and tie.
func TestMethodsInTheOrderOfThePage(t *testing.T) {
	c, err := CompareMethods(shipped(t), 0, sectionSix())
	if err != nil {
		t.Fatal(err)
	}
	var order strings.Builder
	for _, r := range c.Rows {
		order.WriteString(r.Name)
	}
	if order.String() != "FACBDEG" {
		t.Errorf("order %s, want FACBDEG", order.String())
	}
	want := map[string]bool{"CB": true, "AB": true, "BD": true, "AC": false, "BE": true}
	for _, p := range c.Pairs {
		key := c.Rows[p.First].Name + c.Rows[p.Second].Name
		if clear, ok := want[key]; ok && p.IsClear() != clear {
			t.Errorf("%s: P %.2f, %s", key, p.P, p.Call)
		}
	}
	near(t, "liquid of C", c.Rows[2].AddedL, 0.975782, 1e-6)
	near(t, "thinned by C", c.Costs[2].Share, 0.975782/17.975782, 1e-6)
	if c.Costs[2].ABVPct.OK {
		t.Error("a cost in strength of a beer of unknown strength")
	}
}

// trials/checks/rows/dilution.csv, dilute_water: 12 L of 1.048 and 1.010 have 4.95937 % vol,
// with 0.6 L of water 4.723115.
func TestWhatLiquidCostsInStrength(t *testing.T) {
	q := dried36("cut", threePasses(step(1))...)
	q.IntoL, q.AddedL, q.Beer = 12, ptr(0.6), Beer{OG: ptr(1.048), FG: ptr(1.010)}
	cost := steeped(t, q).Cost
	near(t, "by gravities", cost.ABVPct.Value, 4.95937-4.723115, 2e-5)
	// Of a label the gravity is not known; within 1.000 to 1.020 it hardly counts.
	q.Beer = Beer{ABVPct: ptr(4.95937)}
	near(t, "by label", steeped(t, q).Cost.ABVPct.Value, 4.95937-4.723115, 0.005)
	for _, sg := range []float64{1.000, 1.020} {
		start := q.Beer.start(12)
		start.NowSG = dilution.ExactlyOrNone(&sg)
		snaps, err := dilution.Account{Start: start,
			Steps: []dilution.Step{dilution.Add{Liquid: dilution.AddTea{VolumeL: dilution.Exactly(0.6)}}}}.Run()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "by label of another gravity", snaps[0].State.ABVPct()-snaps[1].State.ABVPct(), 4.95937-4.723115, 0.005)
	}
	// All of it: the doubt is that of the held liquid, 84.24 mL with an sd of ln of
	// 0.50, its 80 % limits as those of a rectangle: 77.9 mL of 975.8, so 8.0 % of the
	// cost.
	q.Beer, q.AddedL = Beer{OG: ptr(1.048), FG: ptr(1.010)}, nil
	all := steeped(t, q).Cost.ABVPct
	near(t, "doubt of the cost", (all.High-all.Low)/2/all.Value, 0.0779/0.9758, 0.006)
	// Spirit makes the beer stronger. Of 200 mL on 9 g of dry matter there come out 200 +
	// 1.0018 + 1.782 - 36 = 166.784 mL: (12 x 4.95937 + 0.166784 x 40)/12.166784 = 5.440,
	// volumes added; contraction moves it by 0.05 at most.
	q = SteepRequest{Form: "powder", Method: trials.MethodTincture, MassG: 10, MoisturePct: ptr(10.0),
		SpiritPct: ptr(40.0), IntoL: 12, Beer: q.Beer,
		Passes: []trials.Pass{{VolumeL: 0.2, StartC: 20, Minutes: 43200, Agitation: "stirred",
			Separation: trials.SeparationDrained}}}
	near(t, "tincture", steeped(t, q).Cost.ABVPct.Value, 4.95937-5.440, 0.05)
	q.TopUpL = 0.166784 // as much water again: half the strength in twice the liquid
	near(t, "tincture topped up", steeped(t, q).Cost.ABVPct.Value, 4.95937-(12*4.95937+0.166784*40)/12.333568, 0.05)
}

// Boil-off concentrates: an addition to 20 L that boil down to 18 L (section 0,
// trap 3).
func TestBoilOffConcentrates(t *testing.T) {
	q := SteepRequest{Form: "powder", Method: trials.MethodBoil, MassG: 36, MoisturePct: ptr(10.0), IntoL: 20,
		Treatments: []Treatment{{Minutes: 60}}}
	before := steeped(t, q).Dose.EffectiveGPerL[0]
	q.BoilOffL = 2
	near(t, "boiled down", steeped(t, q).Dose.EffectiveGPerL[0]/before, 20.0/18, 1e-9)
	// Colour fades: half in 180 min at 100 C, so 0.80 after an hour (section 3: 60
	// min boil keeps 0.80), acid does not.
	r := steeped(t, q).Result
	near(t, "colour kept", r.Survival[3], 0.80, 0.007)
	near(t, "acid kept", r.Survival[0], 1, 1e-12)
}

func TestStandardMethods(t *testing.T) {
	materials := shipped(t)
	list, err := StandardMethods(materials, SteepRequest{Material: "heather", Form: "cut", MassG: 40, IntoL: 12})
	if err != nil {
		t.Fatal(err)
	}
	c, err := CompareMethods(materials, 1, list)
	if err != nil || len(c.Rows) != len(list) {
		t.Fatalf("%d rows (%v)", len(c.Rows), err)
	}
	for i := 1; i < len(c.Rows); i++ {
		if c.Rows[i].Dose.At80.Value > c.Rows[i-1].Dose.At80.Value {
			t.Errorf("%s stands below %s", c.Rows[i].Name, c.Rows[i-1].Name)
		}
	}
	// Fresh material is covered, dried gets 14 mL for each gram at 10 % water.
	fresh, err := StandardMethods(materials, SteepRequest{Form: "fresh-cut", MoisturePct: ptr(85.0), MassG: 100,
		IntoL: 12})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "fresh", fresh[2].Steep.Passes[0].VolumeL, 14*100*0.15/0.9/1000, 1e-9)
	if _, err := StandardMethods(materials, SteepRequest{Form: "juice", MassG: 100,
		IntoL: 12}); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("juice: %v", err)
	}
}

func TestCompareMethodsRefuses(t *testing.T) {
	six := sectionSix()
	twice := []NamedSteep{six[0], six[0]}
	other := []NamedSteep{six[0], six[1]}
	other[1].Steep.Material = "heather"
	broken := []NamedSteep{six[0], six[1]}
	broken[1].Steep.MassG = math.NaN()
	for what, list := range map[string][]NamedSteep{"nothing to compare": nil, "two methods are called": twice,
		"another material": other, `method "B"`: broken} {
		if _, err := CompareMethods(shipped(t), 0, list); trials.CodeOf(err) != trials.Invalid ||
			!strings.Contains(err.Error(), what) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// BenchmarkCompareMethods is the whole comparison behind hedgerow steep --compare.
func BenchmarkCompareMethods(b *testing.B) {
	materials := shipped(b)
	list, err := StandardMethods(materials, SteepRequest{Material: "heather", Form: "cut", MassG: 40, IntoL: 12,
		Beer: Beer{OG: ptr(1.048), FG: ptr(1.010)}})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := CompareMethods(materials, 0, list); err != nil {
			b.Fatal(err)
		}
	}
}

// Spirit of the usual strength on spices of the catalogue, 8 mL on each gram of what
// is as dried: enough runs off to carry them into the beer, so that a tincture does
// not come last for want of liquid, as it did while leaves stood for every plant.
func TestTincturesCarryTheirSpice(t *testing.T) {
	materials := shipped(t)
	for _, c := range []struct{ material, form string }{{"vanilla", "cut"}, {"coriander-seed", "crushed"},
		{"sweet-orange-peel", "cut"}} {
		list, err := StandardMethods(materials, SteepRequest{Material: c.material, Form: c.form, MassG: 30, IntoL: 17})
		if err != nil {
			t.Fatal(err)
		}
		cmp, err := CompareMethods(materials, 1, list)
		if err != nil {
			t.Fatal(err)
		}
		last := cmp.Rows[len(cmp.Rows)-1]
		for _, r := range cmp.Rows {
			if r.Name == "tincture" && (r.Name == last.Name || r.AddedL < 0.090) {
				t.Errorf("%s: a tincture gives %.0f mL and comes last: %s", c.material, 1000*r.AddedL, last.Name)
			}
		}
	}
}

// What has most of its aroma in spirit is not ranked last for it. By hand, of 20 g in
// 20 L, from the page on plants in the batch: spirit of 40 % carries 0.95 of the aroma
// and beer 0.75 (section 3), the drained plant keeps 2.0, 2.3 and 4.0 mL per g of dry
// matter as bark, crushed seed and peel (section 2), and after five days all of the
// aroma of cut or crushed material is out (section 6). So of 160 mL on 18 g of dry
// matter about 1 - r/8.9 is recovered, more than a tea in two passes keeps of its 0.75
// once it has lost a tenth to the heat, and less than the plant in the beer itself gives.
func TestAromaInSpiritIsNotLast(t *testing.T) {
	materials := shipped(t)
	for _, c := range []struct {
		key, form string
		held      float64
	}{{"vanilla", "cut", 2.0}, {"coriander-seed", "crushed", 2.3}, {"sweet-orange-peel", "cut", 4.0}} {
		list, err := StandardMethods(materials, SteepRequest{Material: c.key, Form: c.form, MassG: 20, MoisturePct: ptr(10.0),
			IntoL: 20})
		if err != nil {
			t.Fatal(err)
		}
		compared, err := CompareMethods(materials, 1, list)
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]int{}
		for i, r := range compared.Rows {
			at[r.Name] = i
			if r.Name == "tincture" {
				near(t, c.key, r.Dose.At80.Value, 0.95*(1-c.held/8.9), 0.04)
				if !r.RankingOnly || len(r.Reasons) == 0 {
					t.Errorf("%s: oil in spirit has a place, not a number", c.key)
				}
			}
		}
		for _, below := range []string{"tea, one pass", "cold tea, 12 h"} {
			if at["tincture"] > at[below] {
				t.Errorf("%s: the tincture stands below %q: %v", c.key, below, at)
			}
		}
		if at["in a bag, 5 d"] > at["tincture"] {
			t.Errorf("%s: spirit gives more than the beer itself, whose plant keeps none back: %v", c.key, at)
		}
	}
}

// No figure is sure: whatever plant, form, way and class, the interval of what is
// given and of what runs off has a width, unless nothing at all is there by definition.
func TestNoIntervalIsWithoutWidth(t *testing.T) {
	materials := shipped(t)
	tried := 0
	for _, key := range []string{"heather", "coriander-seed", "vanilla", "raspberry"} {
		for _, form := range []string{"whole", "cut", "crushed", "powder", "fresh", "frozen"} {
			list, err := StandardMethods(materials, SteepRequest{Material: key, Form: form, MassG: 30, MoisturePct: ptr(12.0),
				IntoL: 15})
			if err != nil {
				continue // a form that the plant does not come in
			}
			for _, m := range list {
				a, err := m.Steep.Steep(materials)
				if err != nil {
					t.Errorf("%s %s by %s: %v", key, form, m.Name, err)
					continue
				}
				for class := range trials.ClassNames {
					if e := a.Doubt.Dose[class].At80; !(e.High > e.Low) {
						t.Errorf("%s %s by %s: dose of %s %+v", key, form, m.Name, trials.ClassNames[class], e)
					}
				}
				low, high := a.Result.ExtractLowML, a.Result.ExtractHighML
				if !a.Result.Steep.Method.IsDirect() && !(high-low >= 0.04*a.Result.ExtractML-1e-9 && high > low) {
					t.Errorf("%s %s by %s: %.1f mL recovered between %.1f and %.1f", key, form, m.Name, a.Result.ExtractML, low, high)
				}
				tried++
			}
		}
	}
	if tried < 80 {
		t.Errorf("only %d were tried", tried)
	}
}

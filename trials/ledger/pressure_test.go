package ledger

import (
	"strings"
	"testing"

	"hedgerow/trials"
)

// finished is an invented beer of 19 L at 1.048, read at 1.010 on day 9 and warm
// in between, with what comes after.
func finished(fg *float64, more ...any) (*trials.Notebook, trials.Batch) {
	return batchOf(append([]any{
		func(b *trials.Batch) { b.VolumeL, b.FG = 19, fg },
		trials.Reading{Record: trials.Record{ID: "r0", Name: "heather-1.r0"}, At: day(4), SG: ptr(1.020),
			BeerTempC: ptr(10.0)},
		trials.Reading{Record: trials.Record{ID: "r1", Name: "heather-1.r1"}, At: day(9), SG: ptr(1.010), VolumeL: ptr(19.0)},
		trials.Reading{Record: trials.Record{ID: "r2", Name: "heather-1.r2"}, At: day(12), BeerTempC: ptr(20.0)},
		trials.Reading{Record: trials.Record{ID: "r3", Name: "heather-1.r3"}, At: day(13), BeerTempC: ptr(4.0)},
	}, more...)...)
}

// sugarOf is table sugar on a day.
func sugarOf(grams float64, on int) trials.Addition {
	return trials.Addition{Record: trials.Record{ID: "s", Name: "heather-1.s"}, At: day(on),
		Stage: trials.StagePackaging, LiquidKind: "sugar", LiquidMassG: &grams}
}

// pressed is the pressure at the end of a ledger, which must be known.
func pressed(t testing.TB, n *trials.Notebook, b trials.Batch) Pressure {
	t.Helper()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	p, ok := PressureIn(n, l)
	if !ok {
		t.Fatal("no pressure is known")
	}
	return p
}

// The reference page on dilution, section 5: 0.25 kg of sucrose in 19 L are 3.06
// volumes, at most 3.40, on top of the residual; water at 20 C holds 0.870
// volumes, beer 0.94 of that; 4.0 volumes at 25 C are 5.70 bar absolute with f =
// 0.94. So 3.88 volumes are expected, 4.27 at most; 3.88 x 5.70/4 - 1.013 = 4.52
// bar above the air, and at most (least published f, 0.888) 4.27 x 5.70/4 x
// 0.94/0.888 - 1.013 = 5.43. The page counts 19 L, the sugar makes them 19.15:
// hence 2 %.
func TestSugarInAClosedPackage(t *testing.T) {
	for what, fg := range map[string]*float64{"expected gravity known": ptr(1.010), "last gravity taken as final": nil} {
		n, b := finished(fg, sugarOf(250, 14))
		p := pressed(t, n, b)
		near(t, what+": residual", p.ResidualVolumes, 0.870, 0.001)
		near(t, what+": expected", p.ExpectedVolumes, 3.88, 0.04)
		near(t, what+": at most", p.UpperVolumes, 4.27, 0.05)
		near(t, what+": bar", p.ExpectedBar, 4.52, 0.1)
		near(t, what+": bar at most", p.UpperBar, 5.43, 0.12)
		if p.FinalAssumed != (fg == nil) || !p.Matters() || p.AboveRating != nil || p.WarmestAssumed || !p.StorageAssumed {
			t.Errorf("%s: %+v", what, p)
		}
	}
}

// Only a rating that was given is compared with, and the upper bound counts.
func TestRatingOfTheContainer(t *testing.T) {
	for bar, above := range map[float64]bool{5: true, 6: false} {
		n, b := finished(ptr(1.010), sugarOf(250, 14))
		b.RatedBar = &bar
		if p := pressed(t, n, b); p.AboveRating == nil || *p.AboveRating != above {
			t.Errorf("rated %g bar: %v", bar, p.AboveRating)
		}
	}
}

// Nothing left to ferment: no word is due, and the residual of 0.870 volumes
// makes (0.870/0.94.. at 25 C) hardly any pressure: 0.818 x 5.70/4 - 1.013 = 0.15.
func TestFinishedBeerMakesNoPressure(t *testing.T) {
	n, b := finished(ptr(1.010))
	p := pressed(t, n, b)
	near(t, "expected", p.ExpectedVolumes, 0.818, 0.002)
	near(t, "bar", p.ExpectedBar, 0.15, 0.01)
	if p.Matters() {
		t.Errorf("%+v is warned of", p)
	}
}

// Half a point that is still expected to ferment: 0.001 is 0.50 volumes, at most
// 0.56 (reference page).
func TestGravityLeftToFerment(t *testing.T) {
	n, b := finished(ptr(1.009))
	p := pressed(t, n, b)
	near(t, "sugar left", p.SugarVolumes, 0.56, 0.01)
	near(t, "expected", p.ExpectedVolumes-0.818, 0.50, 0.01)
}

func TestPressureNeedsAGravity(t *testing.T) {
	n, b := batchOf(sugarOf(250, 5))
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	if p, ok := PressureIn(n, l); ok {
		t.Errorf("without a gravity: %+v", p)
	}
}

// The temperature that counts is the one given at packaging, else the highest
// since fermentation ended, else cold beer is taken, which holds the most: 1.480
// volumes at 4 C, 0.756 at 25 C (reference page).
func TestWarmestBeer(t *testing.T) {
	n, b := finished(ptr(1.010))
	near(t, "by readings", pressed(t, n, b).ResidualVolumes, 0.870, 0.001)
	n.Packagings = []trials.Packaging{{BatchID: b.ID, At: day(20), HighestTempC: ptr(25.0), StorageTempC: ptr(20.0)}}
	p := pressed(t, n, b)
	near(t, "as given", p.ResidualVolumes, 0.756, 0.001)
	near(t, "package", p.StorageC, 20, 0)
	n, b = batchOf(trials.Reading{Record: trials.Record{Name: "heather-1.r1"}, At: day(9), SG: ptr(1.010)})
	p = pressed(t, n, b)
	near(t, "not known", p.ResidualVolumes, 1.480, 0.001)
	if !p.WarmestAssumed {
		t.Error("it is not told that the temperature was taken")
	}
}

// CO2 in the ledger, with f = 0.94 of the page's volumes in water (10 C 1.195, 20
// C 0.870): saturated while it ferments, less when it gets warmer afterwards, no
// more when it gets colder; flat water dilutes it by the volumes.
func TestCO2FollowsTheTemperature(t *testing.T) {
	n, b := finished(ptr(1.010), trials.Addition{Record: trials.Record{ID: "w", Name: "heather-1.w"}, At: day(14),
		Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: ptr(1.0)})
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	if l.Steps[0].State().CO2Volumes.OK {
		t.Error("the CO2 of wort is known")
	}
	for i, want := range []float64{0.94 * 1.195, 0.94 * 1.195, 0.94 * 0.870, 0.94 * 0.870, 0.94 * 0.870 * 19 / 20} {
		near(t, l.Steps[i+1].Name+": CO2", l.Steps[i+1].State().CO2Volumes.Value, want, 0.001)
	}
}

// A volume read with the temperature of the beer was measured at it: beer at 4 C
// occupies 0.99775 of its volume at 20 C (reference page, section 5).
func TestVolumeOfColdBeer(t *testing.T) {
	n, b := finished(ptr(1.010), trials.Reading{Record: trials.Record{Name: "heather-1.r4"}, At: day(15),
		VolumeL: ptr(18.0), BeerTempC: ptr(4.0)})
	near(t, "volume at 20 C", last(t, n, b).VolumeL.Value, 18/0.99775, 0.002)
}

func TestWhenFermentationEnded(t *testing.T) {
	read := func(d int, sg float64) trials.Reading {
		return trials.Reading{Record: trials.Record{Name: "heather-1.r" + string(rune('a'+d))}, At: day(d), SG: &sg}
	}
	cases := []struct {
		what  string
		reads []any
		day   int // -1: it has not
	}{
		{"no gravity", nil, -1},
		{"still wort", []any{read(1, 1.048)}, -1},
		{"one gravity", []any{read(5, 1.020)}, 5},
		{"falling", []any{read(2, 1.030), read(5, 1.020)}, 5},
		{"the same twice", []any{read(2, 1.030), read(9, 1.0115), read(14, 1.010)}, 9},
		// Two readings differ by at most twice the limit of each, 0.002.
		{"just the same", []any{read(2, 1.030), read(9, 1.01199), read(14, 1.010)}, 9},
		{"just not the same", []any{read(2, 1.030), read(9, 1.01201), read(14, 1.010)}, 14},
	}
	for _, c := range cases {
		n, b := batchOf(c.reads...)
		at, ok := fermentationEnded(Events(n, b), 0.001)
		if ok != (c.day >= 0) || ok && !at.Equal(day(c.day)) {
			t.Errorf("%s: %v, %v", c.what, at, ok)
		}
	}
}

// A calculation warns in the same words, and refuses temperatures that the gas
// formulas do not cover.
func TestPressureOfAMix(t *testing.T) {
	q := beerOf(19, 1.048, 1.010, Liquid{Kind: "sugar", MassG: about(250)})
	q.WarmestC = ptr(20.0)
	d, _ := diluted(t, q)
	if d.Pressure == nil {
		t.Fatal("no pressure is told")
	}
	near(t, "at most", d.Pressure.UpperVolumes, 4.27, 0.05)
	if d, _ := diluted(t, beerOf(19, 1.048, 1.010, Liquid{Kind: "water", VolumeL: about(1)})); d.Pressure != nil {
		t.Errorf("water makes a pressure: %+v", d.Pressure)
	}
	q.StorageC = ptr(60.0)
	if _, err := Dilute(shipped(t), q); trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), "60") {
		t.Errorf("60 C: %v", err)
	}
}

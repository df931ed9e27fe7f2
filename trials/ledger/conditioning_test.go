package ledger

import (
	"strings"
	"testing"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// readBeer is a beer of so many litres and gravities, read on day 10.
func readBeer(litres, og, fg float64, expected *float64, more ...any) (*trials.Notebook, trials.Batch) {
	events := []any{func(b *trials.Batch) { b.VolumeL, b.OG, b.FG = litres, &og, expected },
		trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: &fg}}
	return batchOf(append(events, more...)...)
}

// goesIn is a plain liquid or sugar in grams or litres.
func goesIn(id, stage, kind string, atDay int, massG, litres *float64) trials.Addition {
	return trials.Addition{Record: trials.Record{ID: id, Name: "heather-1." + id, CreatedAt: day(atDay)}, At: day(atDay),
		Stage: stage, LiquidKind: kind, LiquidMassG: massG, VolumeL: litres}
}

// packagedOn closes a batch in.
func packagedOn(n *trials.Notebook, b trials.Batch, atDay int) {
	n.Packagings = append(n.Packagings, trials.Packaging{Record: trials.Record{ID: "p", Name: "heather-1.p1",
		CreatedAt: day(atDay)}, BatchID: b.ID, At: day(atDay)})
}

// ledgerOf folds a notebook.
func ledgerOf(t *testing.T, n *trials.Notebook, b trials.Batch) Ledger {
	t.Helper()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The worked examples of the reference page of conditioning, section 7: 12.5 L of
// 4.90 % and 1.0105 with 82 g of table sugar in 150 mL come to 5.220 %, 1.00980 and
// 12.697 L, with 2.99 g/L of CO2 (at most 3.32); 17 L of 6.30 % and 1.012 with 126 g
// of dextrose in 200 mL to 6.606 % and 1.01127, and a hexose gives 0.4886 g/g. The
// original gravities are those of such beers by bisection, the volumes what the wort
// must have been (fermentation shrinks it a little); both are found here.
func TestConditioningOfTheExamples(t *testing.T) {
	for _, c := range []struct {
		litres, abv, fg          float64
		kind                     string
		massG, waterL            float64
		after, afterSG, afterL   float64
		gained, upper, upperEach float64
	}{
		{12.5, 4.90, 1.0105, "sugar", 82, 0.15, 5.220, 1.00980, 12.697, 2.99, 3.32, dilution.CO2PerDisaccharide},
		{17, 6.30, 1.012, "dextrose", 126, 0.2, 6.606, 1.01127, 0, 0, 0, dilution.CO2PerHexose},
	} {
		beer, err := dilution.FromABV(dilution.Label{ABVPct: c.abv, FG: c.fg}, c.litres)
		if err != nil {
			t.Fatal(err)
		}
		wort := beer
		wort.ExtractKg, wort.EthanolKg = beer.ExtractKg+2.0665*beer.EthanolKg, 0
		n, b := readBeer(wort.VolumeL(), beer.OriginalSG(), c.fg, nil,
			goesIn("a1", trials.StagePackaging, "water", 20, nil, &c.waterL),
			goesIn("a2", trials.StagePackaging, c.kind, 20, &c.massG, nil))
		packagedOn(n, b, 20)
		l := ledgerOf(t, n, b)
		last, cond := l.Last(), l.Conditioning
		if cond == nil || last.Kind != EventConditioned {
			t.Fatalf("the ledger ends with %s", last.Kind)
		}
		near(t, "strength", last.State().ABVPct.Value, c.after, 0.0005)
		near(t, "gravity", last.State().GravitySG.Value, c.afterSG, 0.000005)
		if c.afterL > 0 {
			near(t, "volume", last.State().VolumeL.Value, c.afterL, 0.0005)
			near(t, "CO2", cond.GainedGPerL, c.gained, 0.005)
			near(t, "at most", cond.UpperGPerL, c.upper, 0.005)
		}
		near(t, "upper bound over expected", cond.UpperGPerL/cond.GainedGPerL, c.upperEach*2.0665/0.9565, 1e-9)
		near(t, "volumes", cond.GainedVolumes, cond.GainedGPerL/1.977, 0.001)
		change, ok := last.Change()
		if !ok || change.ABVPct.Value < 0.3 || change.ABVPct.High-change.ABVPct.Low > 0.05 {
			t.Errorf("the strength gained is %+v", change.ABVPct)
		}
	}
}

// When the ledger ends with a line on the beer after conditioning: by what the
// rule of section 7 says, one case for each word of it.
func TestWhenBeerConditions(t *testing.T) {
	sugar := func(stage string, atDay int) trials.Addition {
		return goesIn("a1", stage, "sugar", atDay, ptr(70.0), nil)
	}
	water := goesIn("a1", trials.StagePackaging, "water", 20, nil, ptr(0.2))
	half := sugar(trials.StagePackaging, 20)
	half.FermentsPct = ptr(0.0)
	again := trials.Reading{Record: trials.Record{ID: "r2", Name: "heather-1.r2", CreatedAt: day(40)}, At: day(40),
		SG: ptr(1.0102)}
	justPrimed := again
	justPrimed.At, justPrimed.CreatedAt, justPrimed.SG = day(21), day(21), ptr(1.0124)
	for _, c := range []struct {
		name     string
		fg       float64
		expected *float64
		packaged int // day, 0 for never
		more     []any
		want     bool
	}{
		{"primed and packaged", 1.010, ptr(1.010), 20, []any{sugar(trials.StagePackaging, 20)}, true},
		{"primed, not packaged yet", 1.010, ptr(1.010), 0, []any{sugar(trials.StagePackaging, 20)}, true},
		{"primed, no gravity expected", 1.010, nil, 20, []any{sugar(trials.StagePackaging, 20)}, true},
		{"sugar into the packaged keg", 1.010, ptr(1.010), 20, []any{sugar(trials.StageSecondary, 22)}, true},
		{"sugar in the fermenter", 1.010, ptr(1.010), 0, []any{sugar(trials.StageSecondary, 12)}, false},
		{"sugar in the fermenter, packaged unread", 1.010, ptr(1.010), 20, []any{sugar(trials.StageSecondary, 12)}, true},
		{"sugar into a glass", 1.010, ptr(1.010), 20, []any{sugar(trials.StageGlass, 22)}, true}, // left, all the same
		{"water at packaging", 1.010, ptr(1.010), 20, []any{water}, false},
		{"sugar that does not ferment", 1.010, ptr(1.010), 20, []any{half}, false},
		{"residual extract", 1.013, ptr(1.010), 20, nil, true},
		{"residual extract, not packaged", 1.013, ptr(1.010), 0, nil, false},
		{"within half a point", 1.0103, ptr(1.010), 20, nil, false},
		{"nothing known of what is left", 1.013, nil, 20, nil, false},
		{"read just primed", 1.010, ptr(1.010), 20, []any{sugar(trials.StagePackaging, 20), justPrimed}, true},
		{"read just primed, no gravity expected", 1.010, nil, 20, []any{sugar(trials.StagePackaging, 20), justPrimed}, true},
		{"read again in the bottle", 1.010, nil, 20, []any{sugar(trials.StagePackaging, 20), again}, false},
	} {
		n, b := readBeer(12, 1.048, c.fg, c.expected, c.more...)
		if c.packaged > 0 {
			packagedOn(n, b, c.packaged)
		}
		l := ledgerOf(t, n, b)
		if got := l.Last().Kind == EventConditioned; got != c.want || got != (l.Conditioning != nil) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Without a gravity nothing is known of the sugar that is left, and no line is
// made up; of residual extract the end is the gravity that was expected.
func TestConditioningOfResidualExtract(t *testing.T) {
	n, b := readBeer(12, 1.048, 1.013, ptr(1.010))
	packagedOn(n, b, 20)
	l := ledgerOf(t, n, b)
	near(t, "gravity", l.Last().State().GravitySG.Value, 1.010, 1e-6)
	near(t, "what was left", l.Conditioning.LeftG, l.Conditioning.FermentedG, 1e-9)
	// 0.50 volumes for each 0.001 (reference page of the balance, section 5).
	near(t, "CO2", l.Conditioning.GainedVolumes, 1.5, 0.03)
}

// A beer that nobody read is taken to have fermented out before it was packaged: it
// ends as one that was read, only what went in makes gas, and a warning says so.
// Without an expected gravity nothing is known of it, nor is a label.
func TestConditioningOfUnreadBeer(t *testing.T) {
	sugar := goesIn("a1", trials.StagePackaging, "sugar", 20, ptr(82.0), nil)
	n, b := readBeer(12, 1.048, 1.010, ptr(1.010), sugar)
	packagedOn(n, b, 20)
	read := ledgerOf(t, n, b)
	n.Readings = nil
	unread := ledgerOf(t, n, b)
	near(t, "strength", unread.Last().State().ABVPct.Value, read.Last().State().ABVPct.Value, 1e-6)
	near(t, "gravity", unread.Last().State().GravitySG.Value, read.Last().State().GravitySG.Value, 1e-8)
	near(t, "gas", unread.Conditioning.UpperGPerL, read.Conditioning.UpperGPerL, 1e-6)
	if text := strings.Join(TextsOf(unread.Warnings), "\n"); !strings.Contains(text, CodeUnread) {
		t.Errorf("nothing is said of the missing gravity: %s", text)
	}
	if text := strings.Join(TextsOf(read.Warnings), "\n"); strings.Contains(text, CodeUnread) {
		t.Errorf("a gravity was read: %s", text)
	}
	n.Batches[0].FG, b.FG = nil, nil
	unknown := ledgerOf(t, n, b)
	if _, ok := unknown.LabelABVPct(n); ok || unknown.Conditioning != nil {
		t.Error("a wort of which nothing is known was conditioned")
	}
}

// A glass of a bottle has the strength of the bottle after conditioning, and the
// pressure is that before it: what sugar will make, not twice.
func TestConditioningOfGlassesAndPressure(t *testing.T) {
	n, b := readBeer(12, 1.048, 1.010, ptr(1.010), goesIn("a1", trials.StagePackaging, "sugar", 20, ptr(82.0), nil))
	packagedOn(n, b, 20)
	glass := trials.Batch{Record: trials.Record{ID: "g", Name: "heather-1-glass", CreatedAt: day(40)}, ParentID: &b.ID,
		Kind: trials.KindGlass, StartedAt: day(40), VolumeL: 0.2}
	n.Batches = append(n.Batches, glass)
	whole, poured := ledgerOf(t, n, b), ledgerOf(t, n, glass)
	near(t, "strength of the glass", poured.Last().State().ABVPct.Value, whole.Last().State().ABVPct.Value, 1e-9)
	p, ok := PressureIn(n, whole)
	if !ok {
		t.Fatal("no pressure")
	}
	near(t, "gas of the sugar", p.SugarVolumes, whole.Conditioning.UpperVolumes, 0.001)
	// Residual extract goes with the glass too, for the beer was closed in before.
	n, b = readBeer(12, 1.048, 1.013, ptr(1.010))
	packagedOn(n, b, 20)
	n.Batches = append(n.Batches, glass)
	near(t, "strength of a glass of it", ledgerOf(t, n, glass).Last().State().ABVPct.Value,
		ledgerOf(t, n, b).Last().State().ABVPct.Value, 1e-9)
}

// A trial is compared by the strength with which it is drunk: the ethanol that was
// there and 70/2.0665 g (Balling, 789.2391 g/L) from 70 g of sugar, in the volume at
// the end.
func TestTrialsAreComparedAsDrunk(t *testing.T) {
	n := series()
	plain, err := Gather(n, trials.Material{Key: "hibiscus"})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range []string{"plain", "single", "double"} {
		a := goesIn(b+".s", trials.StagePackaging, "sugar", 20, ptr(70.0), nil)
		a.BatchID = b
		n.Additions = append(n.Additions, a)
	}
	primed, err := Gather(n, trials.Material{Key: "hibiscus"})
	if err != nil {
		t.Fatal(err)
	}
	for i, trial := range primed.Trials {
		end := trial.Last.State.VolumeL()
		want := plain.Trials[i].Last.State.ABVPct()*plain.Trials[i].Last.State.VolumeL()/end + 70/2.0665/0.7892391/10/end
		near(t, "strength of "+trial.Batch.Name, trial.Last.State.ABVPct(), want, 1e-6)
		if trial.ABVBefore <= plain.Trials[i].ABVBefore {
			t.Errorf("%s before its liquid: %v", trial.Batch.Name, trial.ABVBefore)
		}
		// Sugar and its gas are no liquid: 70 g thin the dose by 0.3 %.
		near(t, "dose", trial.Effective.Value, plain.Trials[i].Effective.Value, 0.01*plain.Trials[i].Effective.Value)
	}
}

// Both ways of propagation agree on beer after conditioning, in the doubt and in the
// change; it is a strong one, so that the yield counts.
func TestConditioningByBothWays(t *testing.T) {
	n, b := readBeer(12, 1.090, 1.014, ptr(1.014), goesIn("a1", trials.StagePackaging, "sugar", 20, ptr(82.0), nil))
	packagedOn(n, b, 20)
	l := ledgerOf(t, n, b)
	fast, err := l.Account.Propagate()
	if err != nil {
		t.Fatal(err)
	}
	drawn, last := l.Last().Result, fast[len(fast)-1]
	for name, pair := range map[string][2]figure.Estimate{
		"strength": {drawn.Estimates[dilution.QABV], last.Estimates[dilution.QABV]},
		"change":   {drawn.Changes[dilution.QABV], last.Changes[dilution.QABV]},
		"gravity":  {drawn.Estimates[dilution.QSG], last.Estimates[dilution.QSG]},
	} {
		near(t, name, pair[1].Value, pair[0].Value, 1e-9)
		near(t, "low of the "+name, pair[1].Low, pair[0].Low, 0.04*(pair[0].High-pair[0].Low))
		near(t, "high of the "+name, pair[1].High, pair[0].High, 0.04*(pair[0].High-pair[0].Low))
	}
}

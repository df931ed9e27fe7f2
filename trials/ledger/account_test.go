package ledger

import (
	"errors"
	"strings"
	"testing"
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// last is the batch at the end of its ledger, which must work.
func last(t testing.TB, n *trials.Notebook, b trials.Batch) State {
	t.Helper()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	return l.Last().State()
}

// sixty is an invented batch of 20 L at 1.060 with one gravity reading.
func sixty(r trials.Reading, meters ...trials.Meter) (*trials.Notebook, trials.Batch) {
	r.Record, r.At = trials.Record{ID: "r", Name: "heather-1.r1"}, day(5)
	n, b := batchOf(func(b *trials.Batch) { b.VolumeL, b.OG = 20, ptr(1.060) }, r)
	n.Meters = meters
	return n, b
}

// A float made for 60 F, one with a zero error, and both in a sample at 25 C.
// Gravity and strength were computed independently: OIML R 22, SPS-4, Balling,
// roots by 200 halvings, rho = R rhoW(Tref)/(1 + 25e-6 (T - Tref)).
func TestReadingsAreCorrectedByTheirMeter(t *testing.T) {
	sixtyF := (60.0 - 32) / 1.8
	cases := []struct {
		what        string
		reading     trials.Reading
		meter       trials.Meter
		sg, abvPct  float64
		toleranceSG float64
	}{
		{"plain", trials.Reading{SG: ptr(1.0300)}, trials.Meter{}, 1.030000, 3.92028, 1e-6},
		{"zero error", trials.Reading{SG: ptr(1.0310)}, trials.Meter{ZeroError: ptr(0.001)}, 1.030000, 3.92028, 1e-6},
		{"made for 60 F, read there", trials.Reading{SG: ptr(1.0300)}, trials.Meter{ScaleTempC: &sixtyF}, 1.029813,
			3.94485, 1e-6},
		{"both, in a sample at 25 C", trials.Reading{SG: ptr(1.0310), SampleTempC: ptr(25.0)},
			trials.Meter{ScaleTempC: &sixtyF, ZeroError: ptr(0.001)}, 1.031978, 3.65982, 1e-6},
	}
	for _, c := range cases {
		c.meter.ID, c.meter.Kind = "m", trials.MeterHydrometer
		c.reading.MeterID = ptr("m")
		n, b := sixty(c.reading, c.meter)
		s := last(t, n, b)
		near(t, c.what+": gravity", s.GravitySG.Value, c.sg, c.toleranceSG)
		near(t, c.what+": strength", s.ABVPct.Value, c.abvPct, 1e-4)
	}
}

func TestMeterThatIsGone(t *testing.T) {
	n, b := sixty(trials.Reading{SG: ptr(1.030), MeterID: ptr("gone")})
	if _, err := Of(n, b); trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), "heather-1.r1") ||
		!strings.Contains(err.Error(), "meter") {
		t.Errorf("%v", err)
	}
}

// pH, the temperature of the beer and a note change nothing in the balance.
func TestWhatFixesNothing(t *testing.T) {
	n, b := batchOf(
		trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(1), PH: ptr(4.4), BeerTempC: ptr(19.0)},
	)
	n.BatchNotes = []trials.BatchNote{{Record: trials.Record{Name: "heather-1.n1"}, BatchID: b.ID, At: day(2),
		Text: "smells of moor"}}
	n.Packagings = []trials.Packaging{{Record: trials.Record{Name: "heather-1.p1"}, BatchID: b.ID, At: day(3)}}
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Steps) != 4 {
		t.Fatalf("%d steps", len(l.Steps))
	}
	for _, s := range l.Steps {
		near(t, s.Name+": volume", s.State().VolumeL.Value, 12, 1e-12)
		near(t, s.Name+": gravity", s.State().GravitySG.Value, 1.048, 1e-9)
	}
}

// 1 L of water gone from 20 L of wort at 1.050 with 25 IBU. By hand: 0.9982012
// kg of water less; volume, gravity and bitterness of the rest were computed
// independently. Bitterness rises by 20/19.00025.
func TestEvaporationLeavesSolutesBehind(t *testing.T) {
	n, b := batchOf(
		func(b *trials.Batch) { b.VolumeL, b.OG, b.IBU = 20, ptr(1.050), ptr(25.0) },
		trials.Loss{Record: trials.Record{ID: "l", Name: "heather-1.l1"}, At: day(1), Kind: trials.LossEvaporation,
			VolumeL: 1},
	)
	s := last(t, n, b)
	near(t, "volume", s.VolumeL.Value, 19.00025, 1e-5)
	near(t, "gravity", s.GravitySG.Value, 1.052618, 1e-6)
	near(t, "bitterness", s.IBU.Value, 26.31544, 1e-5)
}

// Sugar into a finished beer, from the published rows sugar_after: 19 L of
// 1.048 and 1.010, 0.25 kg of sugar, at first 1.014947, at last 1.008857 and
// 5.72345 % vol.
func TestSugarAfterFermentation(t *testing.T) {
	n, b := batchOf(
		func(b *trials.Batch) { b.VolumeL, b.FG = 19, ptr(1.010) },
		trials.Reading{Record: trials.Record{ID: "r1", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010),
			VolumeL: ptr(19.0)},
		trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(11), Stage: trials.StageSecondary,
			LiquidKind: "sugar", LiquidMassG: ptr(250.0)},
		trials.Reading{Record: trials.Record{ID: "r2", Name: "heather-1.r2"}, At: day(20), SG: ptr(1.008857)},
	)
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "gravity just mixed", l.Steps[2].State().GravitySG.Value, 1.014947, 2e-5)
	near(t, "strength at the end", l.Last().State().ABVPct.Value, 5.72345, 0.003)
	if !strings.Contains(strings.Join(TextsOf(l.Warnings), "\n"), "fermentable") {
		t.Errorf("the sugar is not warned of: %q", l.Warnings)
	}
}

// What went into hot wort is part of the original gravity read after it: 36 g
// cut at flame-out in 17 L, case A of the comparison of methods (1.76 g/L).
func TestAdditionToHotWortAddsNoLiquid(t *testing.T) {
	n, b := batchOf(
		func(b *trials.Batch) { b.VolumeL = 17 },
		trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(0), Stage: trials.StageFlameOut,
			MaterialKey: "heather", Method: trials.MethodFlameOut, Form: "cut",
			MassG: ptr(36.0), MoisturePct: ptr(10.0), Minutes: ptr(10.0), StartC: ptr(98.0), EndC: ptr(92.0),
			Agitation: "now-and-then"},
	)
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume", l.Last().State().VolumeL.Value, 17, 1e-12)
	near(t, "effective dose", l.Doses[0].GPerL[0].Value, 1.76, 0.005)
	near(t, "as weighed", l.Doses[0].AsWeighed, 36.0/17, 1e-12)
}

// Half of the tea poured in: half the grams as weighed, 491 mL of liquid.
func TestPartOfAnExtract(t *testing.T) {
	n, b := batchOf(
		jugTea(),
		trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(4), Stage: trials.StageSecondary,
			ExtractID: ptr("x"), PouredL: ptr(0.490807)},
	)
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "liquid added", l.Last().AddedL, 0.490807, 1e-12)
	near(t, "as weighed", l.Doses[0].AsWeighed, 18/12.490807, 2e-4)
	near(t, "mass behind it", l.Doses[0].MassG, 18, 1e-3)
}

// Case A gives 981.6 mL: more cannot be poured.
func TestMoreExtractThanThereIs(t *testing.T) {
	n, b := batchOf(
		jugTea(),
		trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(4), Stage: trials.StageSecondary,
			ExtractID: ptr("x"), PouredL: ptr(1.2)},
	)
	_, err := Of(n, b)
	if trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), "heather-1.a1") ||
		!strings.Contains(err.Error(), "1.2 L") {
		t.Errorf("%v", err)
	}
}

// Errors of a ledger name the record and say what to do.
func TestLedgerNamesTheRecordBehindAnError(t *testing.T) {
	tea := trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(4),
		Stage: trials.StageSecondary, ExtractID: ptr("x")}
	cases := []struct {
		what   string
		events []any
		code   trials.Code
		want   []string
	}{
		{"no original gravity", []any{func(b *trials.Batch) { b.OG = nil }}, trials.NotEnough,
			[]string{"heather-1", "original gravity"}},
		{"extract gone", []any{tea}, trials.Invalid, []string{"heather-1.a1", "not in the notebook"}},
		{"extract without a pass", []any{tea, trials.Extract{Record: trials.Record{ID: "x", Name: "tea-1"},
			MaterialKey: "heather", Method: trials.MethodTea, Form: "cut", MassG: 10, MoisturePct: ptr(10.0)}},
			trials.NotEnough, []string{"tea-1", "no pass"}},
		{"more lost than there is", []any{trials.Loss{Record: trials.Record{Name: "heather-1.l1"}, At: day(2),
			Kind: trials.LossTrub, VolumeL: 13}}, trials.Invalid, []string{"heather-1.l1", "13"}},
		{"unknown material", []any{trials.Addition{Record: trials.Record{Name: "heather-1.a2"}, At: day(2),
			Stage: trials.StageSecondary, MaterialKey: "moonwort", Method: trials.MethodContact, Form: "cut",
			MassG: ptr(10.0), Minutes: ptr(60.0)}}, trials.NotFound, []string{"heather-1.a2", "moonwort"}},
	}
	for _, c := range cases {
		n, b := batchOf(c.events...)
		_, err := Of(n, b)
		var p *trials.Problem
		if !errors.As(err, &p) || p.Code != c.code {
			t.Errorf("%s: %v (%s)", c.what, err, trials.CodeOf(err))
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(p.Message, w) {
				t.Errorf("%s: %q does not say %q", c.what, p.Message, w)
			}
		}
	}
}

// rise is a finished beer of 1.048 and 1.010 with a later reading.
func rise(r trials.Reading) []string {
	r.Record, r.At = trials.Record{ID: "r2", Name: "heather-1.r2"}, day(20)
	n, b := batchOf(func(b *trials.Batch) { b.FG = ptr(1.010) },
		trials.Reading{Record: trials.Record{ID: "r1", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)}, r)
	l, err := Of(n, b)
	if err != nil {
		return []string{err.Error()}
	}
	return TextsOf(l.Warnings)
}

// A reading that rose, or fell below the expected gravity, by no more than two
// readings may differ (0.002) is noise. What counts is the corrected gravity:
// computed independently, the beer of 1.0100 shows 1.00742 in a sample at 30 C,
// and 1.0100 shown there is 1.0126.
func TestNoiseOfReadingsIsNotWarnedOf(t *testing.T) {
	cases := []struct {
		what    string
		reading trials.Reading
		want    string // part of the warning; empty for none
	}{
		{"the same", trials.Reading{SG: ptr(1.010)}, ""},
		{"a little higher", trials.Reading{SG: ptr(1.0115)}, ""},
		{"much higher", trials.Reading{SG: ptr(1.014)}, "above the one before"},
		{"the same in a warm sample", trials.Reading{SG: ptr(1.0075), SampleTempC: ptr(30.0)}, ""},
		{"a little higher in a warm sample", trials.Reading{SG: ptr(1.0080), SampleTempC: ptr(30.0)}, ""},
		{"much higher, but the warm sample hides it", trials.Reading{SG: ptr(1.0100), SampleTempC: ptr(30.0)},
			"above the one before"},
		{"a little below the expected", trials.Reading{SG: ptr(1.0085)}, ""},
		{"much below the expected", trials.Reading{SG: ptr(1.006)}, "further than"},
	}
	for _, c := range cases {
		got := strings.Join(rise(c.reading), "\n")
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: warned %q, want %q", c.what, got, c.want)
		}
	}
}

// A reading near the expected final gravity does not warn, wherever the one
// before it stood: 1.0095 for an expected 1.010, after 1.020.
func TestLastReadingNearTheExpectedGravity(t *testing.T) {
	n, b := batchOf(func(b *trials.Batch) { b.FG = ptr(1.010) },
		trials.Reading{Record: trials.Record{ID: "r1", Name: "heather-1.r1"}, At: day(4), SG: ptr(1.020)},
		trials.Reading{Record: trials.Record{ID: "r2", Name: "heather-1.r2"}, At: day(14), SG: ptr(1.0095)})
	l, err := Of(n, b)
	if err != nil || len(l.Warnings) > 0 {
		t.Errorf("warned %q (%v)", l.Warnings, err)
	}
}

// Limits that the user sets widen the intervals in proportion: u of the volume
// is 2 % or 4 % of 12 L over the root of 3.
func TestLimitsComeFromTheSettings(t *testing.T) {
	n, b := batchOf()
	near(t, "u at 2 %", last(t, n, b).VolumeL.U, 0.24/1.7320508, 0.003)
	n.Settings = map[string]string{trials.SettingVolumeLimit: "4", trials.SettingGravityLimit: "0.002"}
	near(t, "u at 4 %", last(t, n, b).VolumeL.U, 0.48/1.7320508, 0.006)
	near(t, "u of the gravity", last(t, n, b).GravitySG.U, 0.002/1.7320508, 3e-5)
}

// The solids of an addition come out when their time is up, not before.
func TestSolidsComeOutInTheirTime(t *testing.T) {
	week := 7.0 * 24 * 60
	fruit := trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(5),
		Stage: trials.StageSecondary, MaterialKey: "raspberry", Method: trials.MethodContact, Form: "frozen",
		MassG: ptr(1000.0), Minutes: &week}
	kinds := func(now time.Time) string {
		n, b := batchOf(fruit)
		n.Now = now
		var list []string
		for _, e := range Events(n, b) {
			list = append(list, string(e.Kind))
		}
		return strings.Join(list, " ")
	}
	if got := kinds(day(11)); got != "start addition" {
		t.Errorf("before its time: %s", got)
	}
	if got := kinds(day(12)); got != "start addition removal" {
		t.Errorf("after its time: %s", got)
	}
}

// Fruit in the boil or at flame-out is part of the original gravity, whenever in
// the brew day it was written down; in the fermenter it brings its water. By
// hand: 2 kg of raspberries are 1.715 kg of water and 0.118 kg of solubles.
func TestFruitInHotWort(t *testing.T) {
	week := 7.0 * 24 * 60
	fruit := func(stage, method string) trials.Addition {
		return trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(2), Stage: stage,
			MaterialKey: "raspberry", Method: method, Form: "fresh", MassG: ptr(2000.0), Minutes: &week}
	}
	for stage, method := range map[string]string{trials.StageBoil: trials.MethodBoil,
		trials.StageFlameOut: trials.MethodFlameOut} {
		n, b := batchOf(fruit(stage, method))
		events := Events(n, b)
		if len(events) != 2 || !events[1].At.Equal(day(0)) {
			t.Errorf("%s: events %+v", stage, events)
		}
		near(t, stage, last(t, n, b).VolumeL.Value, 12, 1e-12)
	}
	n, b := batchOf(fruit(trials.StagePrimary, trials.MethodContact))
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "in the fermenter", l.Steps[1].State().VolumeL.Value, 12+1.715/0.9982+0.118*0.62, 0.01)
	if !l.Steps[1].Steep.Result.Steep.Fermenting {
		t.Error("yeast at work in the primary is not counted")
	}
}

// An addition to hot wort comes before a reading of the same moment, though it
// was written down after it.
func TestHotWortBeforeTheFirstReading(t *testing.T) {
	n, b := batchOf(
		trials.Reading{Record: trials.Record{Name: "heather-1.r1", CreatedAt: day(0)}, At: day(0), SG: ptr(1.048)},
		trials.Addition{Record: trials.Record{Name: "heather-1.a1", CreatedAt: day(1)}, At: day(0),
			Stage: trials.StageFlameOut, MaterialKey: "heather", Method: trials.MethodFlameOut, Form: "cut",
			MassG: ptr(10.0), Minutes: ptr(10.0)})
	if got := strings.Join(namesOf(n, b), " "); got != "start:heather-1 addition:heather-1.a1 reading:heather-1.r1" {
		t.Error(got)
	}
}

// What pulp keeps back as measured: 0.8 kg for each of 1 kg, of beer that weighs
// about 12.1 + 0.91 kg; as a default 0.6 of its own water, 857.5 g (USDA 09302),
// as a volume of that beer: the half litre a kilogram that is in use (common
// practice, no source). The boiled-off water of a boil is told in mL.
func TestWhatPulpKeepsBack(t *testing.T) {
	week := 7.0 * 24 * 60
	kept := func(retain *float64) (kg, kgPerL float64) {
		n, b := batchOf(trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)},
			trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(11),
				Stage: trials.StageSecondary, MaterialKey: "raspberry", Method: trials.MethodContact, Form: "fresh",
				MassG: ptr(1000.0), Minutes: &week, RetainKgKg: retain})
		l, err := Of(n, b)
		if err != nil {
			t.Fatal(err)
		}
		before, after := l.Steps[2].Result.State, l.Last().Result.State
		return before.MassKg() - after.MassKg(), before.MassKg() / before.VolumeL()
	}
	measured, _ := kept(ptr(0.8))
	near(t, "measured", measured, 0.8, 1e-9)
	byDefault, kgPerL := kept(nil)
	near(t, "default", byDefault/kgPerL, 0.6*0.8575/0.99820123, 1e-6)
	n, b := batchOf(trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(0),
		Stage: trials.StageBoil, MaterialKey: "heather", Method: trials.MethodBoil, Form: "cut", MassG: ptr(10.0),
		Minutes: ptr(60.0), BoilOffL: ptr(0.5)})
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "boiled off", l.Steps[1].Steep.Result.Steep.Passes[0].BoiledOffML, 500, 1e-9)
}

// Half of the fruit's sugar that ferments gives half of the gas: 1 kg holds
// 0.0442 kg, x 0.9565/2.0665 = 20.459 g.
func TestShareOfSugarThatFerments(t *testing.T) {
	gas := func(pct *float64) float64 {
		n, b := batchOf(func(b *trials.Batch) { b.FG = ptr(1.010) },
			trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)},
			trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(11),
				Stage: trials.StageSecondary, MaterialKey: "raspberry", Method: trials.MethodContact, Form: "fresh",
				MassG: ptr(1000.0), FermentsPct: pct})
		l, err := Of(n, b)
		if err != nil {
			t.Fatal(err)
		}
		return l.Last().Result.Estimates[dilution.QCO2ToComeG].Value
	}
	near(t, "all", gas(nil), 20.459, 1e-3)
	near(t, "half", gas(ptr(50.0)), 20.459/2, 1e-3)
}

// A warning belongs to its step and is said once, whatever comes after.
func TestWarningsAreSaidOnce(t *testing.T) {
	n, b := batchOf(
		trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(4), Stage: trials.StagePrimary,
			LiquidKind: "sugar", LiquidMassG: ptr(100.0)},
		trials.Loss{Record: trials.Record{ID: "l", Name: "heather-1.l1"}, At: day(5), Kind: trials.LossSample, VolumeL: 0.1},
		trials.Loss{Record: trials.Record{ID: "m", Name: "heather-1.l2"}, At: day(6), Kind: trials.LossSample, VolumeL: 0.1})
	n.BatchNotes = []trials.BatchNote{{Record: trials.Record{Name: "heather-1.n1"}, BatchID: b.ID,
		At: day(4).Add(time.Hour)}}
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	said := 0
	for _, w := range l.Warnings {
		if w.Note == dilution.NoteFermenting {
			said++
			if w.Record != "heather-1.a1" {
				t.Errorf("said of another step: %q", w)
			}
		}
	}
	if said != 1 {
		t.Errorf("said %d times: %q", said, l.Warnings)
	}
}

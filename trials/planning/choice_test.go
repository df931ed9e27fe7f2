package planning

import (
	"math"
	"strings"
	"testing"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// inMillilitres prints a volume for a sentence.
func inMillilitres(l float64) string { return trials.Number(math.Round(1000*l)) + " mL" }

// chosen is the way for a dose of a material of the catalogue.
func chosen(t *testing.T, key string, a Ask) (Choice, error) {
	t.Helper()
	materials := shipped(t)
	m, ok := materials.Get(key)
	if !ok {
		t.Fatalf("%s is not in the catalogue", key)
	}
	s := ledger.TrialSet{Material: m, Class: trials.ClassIndex(m)}
	return Choose(&trials.Notebook{Now: day(60)}, materials, s, a)
}

// As the dose of a dried plant rises, its plain tea gives way to a strong one, that to
// the plant itself in the beer; in a glass, where a plant cannot stand for a week, the
// dose is refused in the end, and the refusal says what would work.
func TestWayGetsStrongerWithTheDose(t *testing.T) {
	cases := []struct {
		kind   string
		dose   float64
		method string
		passes int
		says   string // "" for the plain way, which needs no reason
	}{
		{trials.PlanBatch, 1, trials.MethodTea, 2, ""},
		{trials.PlanBatch, 3, trials.MethodTea, 1, "a strong tea in little water, since a plain tea would add "},
		{trials.PlanBatch, 8, trials.MethodContact, 0, "the plant itself in the beer, since a plain tea would add "},
		{trials.PlanSplit, 8, trials.MethodContact, 0, "the plant itself in the beer"},
		{trials.PlanBench, 3, trials.MethodTea, 1, "a strong tea"},
		{trials.PlanBench, 8, trials.MethodTea, 1, "a strong tea"},
	}
	for _, c := range cases {
		got, err := chosen(t, "heather", Ask{Kind: c.kind, DoseGPerL: c.dose})
		if err != nil {
			t.Fatal(err)
		}
		method, passes := "", 0
		if x := got.Pattern.Extract; x != nil {
			method, passes = x.Method, len(x.Passes)
		} else {
			method = got.Pattern.Addition.Method
		}
		if method != c.method || passes != c.passes {
			t.Errorf("%s of %g g/L: %s in %d passes, want %s in %d", c.kind, c.dose, method, passes, c.method, c.passes)
		}
		if text := got.Sentence(10, inMillilitres); !strings.Contains(text, c.says) || (c.says == "") != (text == "") {
			t.Errorf("%s of %g g/L says %q, want %q", c.kind, c.dose, text, c.says)
		}
	}
	_, err := chosen(t, "heather", Ask{Kind: trials.PlanBench, DoseGPerL: 40})
	if trials.CodeOf(err) != trials.Invalid ||
		!strings.Contains(trials.ProblemOf(err).(*trials.Problem).Hint, "--dose, or plan jars") {
		t.Errorf("40 g/L in a glass: %v", err)
	}
}

// The share of the beer that comes with a dose, by hand: an extract of 30.653 g/L (case
// A, see the test of a design) brings 1.5 g/L with 1.5 / (30.653 - 1.5) = 5.145 % of the
// beer, and no more than 5 % with 30.653 x 0.05 / 1.05 = 1.4597 g/L.
func TestShareByHand(t *testing.T) {
	tea := jugTea()
	c, err := chosen(t, "hibiscus", Ask{Kind: trials.PlanBatch, Like: &tea, DoseGPerL: 1.5})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share", c.Share, 0.05145, 1e-4)
	near(t, "highest dose", c.MostD, 1.4597, 1e-3)
	if !c.Much() || c.TopDose() != 1.4 {
		t.Errorf("much %v, top dose %g, want 1.4", c.Much(), c.TopDose())
	}
	// 20 % at 30.653 x 0.2 / 1.2 = 5.109 g/L
	for dose, good := range map[float64]bool{5.0: true, 5.2: false, 31: false} {
		_, err := chosen(t, "hibiscus", Ask{Kind: trials.PlanBatch, Like: &tea, DoseGPerL: dose})
		if good != (err == nil) {
			t.Errorf("%g g/L: %v", dose, err)
		}
	}
}

// A steep that was used before is made in less liquid before another is looked for.
func TestUsedWayIsMadeStronger(t *testing.T) {
	tea := jugTea()
	s := ledger.TrialSet{Material: trials.Material{Key: "hibiscus"}, Trials: []ledger.Trial{{
		Batch: trials.Batch{Record: trials.Record{Name: "heather-1"}},
		Uses:  []ledger.Use{{Addition: trials.Addition{Record: trials.Record{Name: "a"}, At: day(9)}, Extract: &tea}}}}}
	n, materials := &trials.Notebook{Now: day(60)}, shipped(t)
	c, err := Choose(n, materials, s, Ask{Kind: trials.PlanBatch, Method: trials.MethodTea, DoseGPerL: 1.6})
	if err != nil {
		t.Fatal(err)
	}
	if c.Much() || c.Pattern.Like != "heather-1" || len(c.Pattern.Extract.Passes) != 3 ||
		c.Pattern.Extract.Passes[0].VolumeL >= 0.45 {
		t.Errorf("share %g of %+v", c.Share, c.Pattern.Extract)
	}
	if text := c.Sentence(10, inMillilitres); !strings.Contains(text,
		"of the liquid, since the same tea as before would add ") {
		t.Error(text)
	}
}

// Fresh plants go into the beer as they are, in the form that fits them.
func TestFreshPlantsGetAWayThatSuitsThem(t *testing.T) {
	for key, form := range map[string]string{"basil": "fresh-cut", "orange-zest": "zest", "strawberry": "frozen"} {
		c, err := chosen(t, key, Ask{Kind: trials.PlanBatch, DoseGPerL: 1})
		if err != nil {
			t.Fatal(err)
		}
		if a := c.Pattern.Addition; a == nil || a.Method != trials.MethodContact || a.Form != form {
			t.Errorf("%s: %+v", key, c.Pattern)
		}
	}
	c, err := chosen(t, "strawberry", Ask{Kind: trials.PlanBench, DoseGPerL: 20})
	if err != nil || c.Pattern.Addition == nil || c.Pattern.Addition.Method != trials.MethodPuree {
		t.Errorf("strawberry in a glass: %+v, %v", c.Pattern, err)
	}
}

// A tea for 2 L of beer is made with 150 mL of water all the same, and a part of it is
// poured; 12 L take all of a larger one.
func TestSmallTeaIsMadeLargerAndKept(t *testing.T) {
	n, materials := &trials.Notebook{Now: day(60)}, shipped(t)
	for beer, small := range map[float64]bool{2: true, 40: false} {
		m, _ := materials.Get("elderflower")
		d, err := Amounts(n, materials, Series{Pattern: plainTea(m), Class: trials.ClassIndex(m), DosesGPerL: []float64{0.5},
			BeerL: beer, PourStepL: 0.01, ScaleStepG: 0.1, All: true})
		if err != nil {
			t.Fatal(err)
		}
		var water float64
		for _, p := range d.Passes {
			water += p.VolumeL
		}
		if small != (d.PouredL() < d.ExtractL) || water < 0.148 || math.Abs(d.Vessels[0].ReachedGPerL/0.5-1) > 0.03 {
			t.Errorf("%g L of beer: %g L of water, %g of %g L poured, %g g/L", beer, water, d.PouredL(), d.ExtractL,
				d.Vessels[0].ReachedGPerL)
		}
	}
}

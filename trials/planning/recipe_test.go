package planning

import (
	"strings"
	"testing"

	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// Case A carries 0.85 x 0.983317 = 0.835819 g per gram weighed, in 981.614/36 =
// 27.2671 mL. For 1.5 g/L in 12 L by hand:
// m = 1.5 x 12 / (0.835819 - 1.5 x 0.0272671) = 22.644 g.
func TestRecipeByHand(t *testing.T) {
	tea := jugTea()
	r, err := RecipeFor((&trials.Notebook{}), shipped(t), Pattern{Extract: &tea, Like: "heather-1"}, 1.5, 0, 12)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mass", r.MassG, 22.644, 0.01)
	near(t, "liquid", r.LiquidL, 22.644*0.0272671, 1e-3)
	near(t, "first pass", r.Passes[0].VolumeL, 0.45*22.644/36, 1e-3)
	if r.Like != "heather-1" || r.Form != "crushed" || r.Method != trials.MethodTea {
		t.Errorf("recipe %+v", r)
	}
}

// Brewed as the recipe says, the ledger shows the dose aimed at. What was
// measured in the pattern stays behind, but is remembered for the new steep.
func TestRecipeReachesItsDose(t *testing.T) {
	cases := []struct {
		dose, intoL float64
		measured    bool
	}{{0.2, 1, false}, {1.5, 12, false}, {1.5, 12, true}, {8, 40, false}, {25, 12, true}}
	for _, c := range cases {
		pattern := jugTea()
		if c.measured {
			pattern.Passes[0].HeldL, pattern.Passes[1].HeldL = ptr(0.1), ptr(0.1)
		}
		n, b := batchOf(func(b *trials.Batch) { b.VolumeL = c.intoL }, pattern)
		r, err := RecipeFor(n, shipped(t), Pattern{Extract: &pattern}, c.dose, 0, c.intoL)
		if err != nil {
			t.Fatal(err)
		}
		made := trials.Extract{Record: trials.Record{ID: "new", Name: "tea-2"}, MadeAt: day(5),
			MaterialKey: r.MaterialKey, Method: r.Method, Form: r.Form, MassG: r.MassG, MoisturePct: ptr(10.0),
			Passes: r.Passes}
		n.Extracts = append(n.Extracts, made)
		n.Additions = []trials.Addition{{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, BatchID: b.ID,
			At: day(6), Stage: trials.StageSecondary, ExtractID: ptr("new")}}
		l, err := ledger.Of(n, b)
		if err != nil {
			t.Fatal(err)
		}
		// Volumes of beer and tea add to within 0.05 % (page on dilution).
		near(t, "dose", l.Doses[0].GPerL[0].Value, c.dose, 1e-3*c.dose)
		for _, p := range r.Passes {
			if p.HeldL != nil || p.ID != "" {
				t.Errorf("carried over: %+v", p)
			}
		}
	}
}

// One pass of 1050 mL on 36 g, in all 1065.854 mL of which 129.6 stay, carries 36 x
// 0.85 x 0.878407 / 0.936254 = 28.71 g/L:
// no amount of it can bring a beer there.
func TestRecipeOfAWeakExtract(t *testing.T) {
	tea := jugTea()
	tea.Passes = []trials.Pass{{VolumeL: 1.05, StartC: 80, Minutes: 300, Agitation: "stirred",
		Separation: trials.SeparationDrained}}
	for dose, good := range map[float64]bool{28.5: true, 29: false} {
		_, err := RecipeFor((&trials.Notebook{}), shipped(t), Pattern{Extract: &tea}, dose, 0, 12)
		if good && err != nil || !good && (trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), "28.7")) {
			t.Errorf("%g g/L: %v", dose, err)
		}
	}
}

// A direct addition is scaled by its yield and what it brings: 36 g cut for five days
// give 36 x 0.85 g, and 0.44 mL of water and solids a gram (see the design), so 2 g/L in
// 10 L take 2 x 10 / (0.85 - 2 x 0.00044) g.
func TestRecipeOfADirectAddition(t *testing.T) {
	a := trials.Addition{MaterialKey: "hibiscus", Method: trials.MethodContact, Stage: trials.StageSecondary,
		Form: "cut", MassG: ptr(36.0), MoisturePct: ptr(10.0), Minutes: ptr(5 * 24 * 60.0)}
	r, err := RecipeFor((&trials.Notebook{}), shipped(t), Pattern{Addition: &a}, 2, 0, 10)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mass", r.MassG, 23.55, 0.01)
	if r.LiquidL != 0 || r.Passes != nil || r.Direct == nil {
		t.Errorf("recipe %+v", r)
	}
}

// Water of the recipe thins the beer as the page's example 1 says: 0.6 L into
// 12 L of 4.959 % vol give 4.723 % vol.
func TestEffectOfARecipe(t *testing.T) {
	n, b := batchOf(trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)})
	l, err := ledger.Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	trial := ledger.Trial{Batch: b, Ledger: l, Last: l.Last().Result, ABVBefore: l.Last().State().ABVPct.Value}
	r := recipe{LiquidL: 0.6, IntoL: 12}.WithEffect(trial)
	if r.Effect == nil {
		t.Fatal("no effect was worked out")
	}
	near(t, "before", r.Effect.Before.ABVPct.Value, 4.959, 1e-3)
	near(t, "after", r.Effect.After.ABVPct.Value, 4.723, 1e-3)
	if got := (recipe{IntoL: 12}).WithEffect(trial); got.Effect != nil {
		t.Error("a recipe without liquid is said to thin the beer")
	}
}

// A recipe's strength is no better known than the account makes it. By hand: 5 % vol
// within 4.7 to 5.3 is 6 % either way, so 4.5 % vol lies within 4.23 to 4.77.
func TestRecipeStrengthHasTheLedgersInterval(t *testing.T) {
	account := figure.Between(5, 4.7, 5.3, 0.95)
	got := asDoubtful(figure.Between(4.5, 4.4, 4.6, 0.95), account)
	near(t, "low", got.Low, 4.23, 1e-9)
	near(t, "high", got.High, 4.77, 1e-9)
	if wide := asDoubtful(figure.Between(4.5, 4, 5, 0.95), account); wide.Low != 4 || wide.High != 5 {
		t.Errorf("a wider interval of its own was narrowed: %+v", wide)
	}
	if got := asDoubtful(figure.Exactly(4.5), figure.Exactly(5)); got.HasBounds {
		t.Errorf("an interval out of none: %+v", got)
	}
}

// The latest use of the method is the pattern; without one a plain steep is.
func TestPatternIsTheLatestOfItsMethod(t *testing.T) {
	early, late := jugTea(), jugTea()
	late.ID, late.Name, late.Form = "x2", "tea-2", "cut"
	added := func(name string, at int, method string) trials.Addition {
		return trials.Addition{Record: trials.Record{ID: name, Name: name}, At: day(at), Stage: trials.StageSecondary,
			Method: method}
	}
	s := ledger.TrialSet{Material: trials.Material{Key: "hibiscus"},
		Trials: []ledger.Trial{{Batch: trials.Batch{Record: trials.Record{Name: "heather-1"}},
			Uses: []ledger.Use{{Addition: added("heather-1.a1", 9, ""), Extract: &late},
				{Addition: added("heather-1.a2", 4, ""), Extract: &early},
				{Addition: added("heather-1.a3", 10, trials.MethodContact)}}}}}
	if p := PatternUsed(s, trials.MethodTea); p.Extract == nil || p.Extract.Name != "tea-2" || p.Like != "heather-1" {
		t.Errorf("tea like %+v", p)
	}
	if p := PatternUsed(s, trials.MethodContact); p.Addition == nil || p.Addition.Name != "heather-1.a3" {
		t.Errorf("contact like %+v", p)
	}
	if p := PatternUsed(s, trials.MethodTincture); p.Extract == nil || p.Like != "" ||
		p.Extract.Method != trials.MethodTincture {
		t.Errorf("a plain tincture like %+v", p)
	}
}

// Plain patterns must be good records: they are steeped without a look. Where
// the catalogue knows no moisture the answer says which figure is missing.
func TestPlainPatternsCanBeSteeped(t *testing.T) {
	materials := shipped(t)
	n := &trials.Notebook{Now: day(60)}
	for _, m := range materials.All() {
		if _, stop := materials.NoDose(m); stop || m.IsLiquidOrSugar() {
			continue
		}
		y, err := patternYield(n, materials, plainPattern(m))
		if err != nil && trials.CodeOf(err) == trials.Invalid && strings.Contains(err.Error(), "the moisture of ") {
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", m.Key, err)
			continue
		}
		if y.MassG <= 0 || y.Grams[y.Class].Value <= 0 {
			t.Errorf("%s gives %g of %g g", m.Key, y.Grams[y.Class].Value, y.MassG)
		}
	}
}

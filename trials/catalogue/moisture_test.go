package catalogue

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestDefaultMoisture(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		key, form string
		want      float64
		source    string // begins with
	}{
		// figures of the USDA rows named, as published: NDB 09302, 02021,
		// 11216, 02065, 02066, 19296
		{"raspberry", "fresh", 0.8575, "SR26:09302"},
		{"raspberry", "frozen", 0.8575, "SR26:09302"},
		{"raspberry", "whole", 0.8575, "SR26:09302"}, // nobody weighs dried raspberries by the name of whole
		{"ginger-dried", "powder", 0.0994, "SR26:02021"},
		{"ginger-fresh", "fresh", 0.7889, "SR26:11216"},
		{"ginger-fresh", "fresh-cut", 0.7889, "SR26:11216"},
		{"spearmint", "fresh", 0.8555, "SR26:02065"},
		{"spearmint", "cut", 0.1130, "SR26:02066"},
		{"honey", "", 0.1710, "SR26:19296"},
		{"honey", "fresh", 0.1710, "SR26:19296"}, // honey has one state
		// only the second table has these
		{"elderflower", "fresh", 0.80, "from memory"},
		{"chamomile", "whole", 0.10, "from memory"},
		{"hibiscus", "cut", 0.11, "from memory"},
		{"vanilla", "whole", 0.25, "from memory"},
		// medians of their kind
		{"bog-myrtle", "fresh", 0.821, "SR26:02044"},
		{"bog-myrtle", "cut", 0.078, "SR26:02003"},
		{"star-anise", "whole", 0.088, "SR26:02001"},
		{"sea-buckthorn", "frozen", 0.862, "SR26:09302"},
		{"mango", "dried", 0.305, "SR26:09032"},
		// judged by the kind of tissue, where the plant is spoken of fresh
		{"heather", "fresh", 0.80, "common practice, no source"},
		{"dandelion-flower", "fresh", 0.80, "common practice, no source"},
		{"juniper-branch", "fresh", 0.55, "common practice, no source"},
		{"grapefruit-zest", "fresh", 0.75, "common practice, no source"},
		{"lemon-balm", "fresh", 0.821, "SR26:02044"}, // the median of leaf herbs is a measured one
		// nothing better
		{"heather", "cut", driedMoistureDefault, "common practice, no source"},
		{"hawthorn-berry", "cut", driedMoistureDefault, "common practice, no source"}, // sold crisp, not soft like a raisin
		// water of crystallisation 18.015 of 360.31 g/mol
		{"lactose", "powder", 0.05, "common practice, no source"},
	} {
		got, source, ok := c.DefaultMoisture(mustGet(t, c, tc.key), tc.form)
		if !ok || math.Abs(got-tc.want) > 1e-5 || !strings.HasPrefix(source, tc.source) {
			t.Errorf("%s %s: %.4f from %q, %v; want %.4f from %q", tc.key, tc.form, got, source, ok, tc.want, tc.source)
		}
	}
}

func TestDefaultMoistureUnknown(t *testing.T) {
	c := mustLoad(t)
	for _, key := range []string{"lavender", "gentian-root", "chamomile"} {
		if v, source, ok := c.DefaultMoisture(mustGet(t, c, key), "fresh"); ok {
			t.Errorf("fresh %s: %.3f from %q, want unknown", key, v, source)
		}
	}
}

func TestOwnMoistureComesFirst(t *testing.T) {
	c := mustLoad(t)
	m, measured := mustGet(t, c, "raspberry"), 0.80
	m.MoistureAsBought = &measured
	for _, form := range []string{"fresh", "dried", ""} {
		if v, source, ok := c.DefaultMoisture(m, form); v != measured || source != "your own figure" || !ok {
			t.Errorf("%q: %.3f from %q, %v", form, v, source, ok)
		}
	}
}

// Pure water or less than none would make the dry matter vanish or exceed the
// whole.
func TestMoistureIsAShare(t *testing.T) {
	c := mustLoad(t)
	for _, m := range c.All() {
		for _, form := range allForms {
			v, source, ok := c.DefaultMoisture(m, form)
			if ok && (v < 0 || v >= 1 || len(c.Sources(source)) == 0) {
				t.Errorf("%s %s: %.3f from %q", m.Key, form, v, source)
			}
			if !ok && (v != 0 || source != "") {
				t.Errorf("%s %s: unknown, but %.3f from %q", m.Key, form, v, source)
			}
		}
	}
}

// allForms are the forms of the notebook and those of the tables.
var allForms = []string{"", "whole", "cut", "crushed", "powder", "fresh", "fresh-cut", "frozen", "zest", "puree",
	"juice", "dried"}

// The columns beside the moisture follow from it: dry matter = 1 - moisture,
// and the grams that equal 1 g dried to 10 % water = 0.9 / dry matter.
func TestMoistureTableHoldsTogether(t *testing.T) {
	err := readTable("moisture.csv", moistureColumns, func(r *record) error {
		moist, dry, grams := r.fraction("moisture_g_per_100g"), r.number("dry_matter_frac"), r.number("g_per_1g_dried10")
		if math.Abs(*dry-(1-*moist)) > 5.1e-5 || math.Abs(*grams-0.9/(1-*moist)) > 5.1e-4 {
			t.Errorf("%s: moisture %.4f, dry matter %.4f, %.3f g", r.text("name"), *moist, *dry, *grams)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestMoistureLinksResolve(t *testing.T) {
	c := mustLoad(t)
	seen := map[string]bool{}
	for _, link := range moistureLinks {
		if _, ok := c.Get(link.key); !ok {
			t.Errorf("%q: no material %q", link.name, link.key)
		}
		if !slices.ContainsFunc(c.moistures, func(m moisture) bool { return m.name == link.name }) {
			t.Errorf("no row %q", link.name)
		}
		id := link.key + " " + string(link.state)
		if seen[id] {
			t.Errorf("%s has two rows", id)
		}
		seen[id] = true
	}
	for _, key := range crispFruits {
		if m := mustGet(t, c, key); m.Category != categoryFruit {
			t.Errorf("%s is not a fruit", key)
		}
	}
}

// Two tables made apart (USDA and the Indian tables, or memory) should agree on
// how wet a plant is. Ten points of moisture cover what varieties differ by.
func TestTwoMoistureTablesAgree(t *testing.T) {
	c := mustLoad(t)
	compared := 0
	for _, link := range moistureLinks {
		m := mustGet(t, c, link.key)
		own, _, ok := m.moistureIn(link.state)
		second, _, found := c.tabulatedMoisture(link.key, link.state)
		if !ok || !found || link.key == "apricot" { // Indian apricots are dried hard, 17 % against 31 %
			continue
		}
		compared++
		if math.Abs(own-second) > 0.10 {
			t.Errorf("%s %s: %.3f and %.3f", link.key, link.state, own, second)
		}
	}
	if compared < 20 {
		t.Errorf("only %d compared", compared)
	}
}

// The medians are computed again from the catalogue's own USDA figures, where
// the catalogue has every row that the median names.
func TestMediansFollowFromTheRows(t *testing.T) {
	c := mustLoad(t)
	water, sugar := map[string]float64{}, map[string]float64{}
	put := func(to map[string]float64, source string, v *float64, unit float64) {
		if v != nil && strings.HasPrefix(source, "SR26:") {
			to[strings.TrimPrefix(source, "SR26:")] = *v * unit
		}
	}
	for _, m := range c.All() {
		put(water, m.MoistureFreshSource, m.MoistureFresh, 100)
		put(water, m.MoistureDriedSource, m.MoistureDried, 100)
		put(sugar, m.SugarSource, m.SugarPct, 1)
	}
	checked := 0
	for what, d := range c.medians {
		figures := water
		if strings.Contains(what, "sugar") {
			figures = sugar
		}
		var values []float64
		ids := splitList(strings.TrimPrefix(d.source, "SR26:"))
		for _, id := range ids {
			if v, ok := figures[id]; ok {
				values = append(values, v)
			}
		}
		if len(values) == 0 || len(values) != len(ids) {
			continue
		}
		checked++
		slices.Sort(values)
		n := len(values)
		median := (values[(n-1)/2] + values[n/2]) / 2
		if math.Abs(median-d.value) > 0.051 {
			t.Errorf("%s: %.2f, the rows have %.2f", what, d.value, median)
		}
	}
	if checked < 2 {
		t.Errorf("only %d medians could be checked", checked)
	}
}

// Every median that the code asks for is in the table, and is a moisture.
func TestMedianRowsResolve(t *testing.T) {
	c := mustLoad(t)
	named := 0
	for _, category := range builtInCategories {
		for _, s := range []state{stateFresh, stateDried} {
			what := medianRow(category, s)
			if what == "" {
				continue
			}
			named++
			if d, ok := c.medians[what]; !ok || d.value <= 0 || d.value >= 100 || !strings.Contains(what, "moisture") {
				t.Errorf("%s %s: row %q, %+v", category, s, what, d)
			}
		}
	}
	if _, ok := c.medians[freshFruitSugar]; !ok || named != 5 {
		t.Errorf("%d medians named, sugar %v", named, ok)
	}
}

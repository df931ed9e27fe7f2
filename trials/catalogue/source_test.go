package catalogue

import (
	"slices"
	"testing"
)

// citations returns every source text of the tables.
func citations(c *Catalogue) []string {
	var all []string
	for _, m := range c.materials {
		all = append(all, m.DoseLowSource, m.DoseHighSource, m.MoistureFreshSource, m.MoistureDriedSource,
			m.DryYieldSource, m.SugarSource, m.LiquidAbsorbedSource, m.HeatSource)
	}
	for _, row := range c.cautions() {
		all = append(all, row.SourceID)
	}
	for _, l := range c.limits() {
		all = append(all, l.SourceID)
	}
	for _, d := range c.medians {
		all = append(all, d.source)
	}
	for _, s := range c.spoons {
		all = append(all, s.source)
	}
	for _, plants := range c.stopped() {
		for _, p := range plants {
			all = append(all, p.SourceID)
		}
	}
	for _, a := range c.allergens() {
		all = append(all, a.SourceID)
	}
	for _, m := range c.moistures {
		all = append(all, m.source)
	}
	for _, f := range c.fruits {
		all = append(all, f.Source)
	}
	return slices.DeleteFunc(all, func(text string) bool { return text == "" })
}

func TestEveryCitationResolves(t *testing.T) {
	c := mustLoad(t)
	for _, text := range citations(c) {
		if got, want := len(c.Sources(text)), len(splitList(text)); got != want {
			t.Errorf("citation %q: %d of %d sources are known", text, got, want)
		}
	}
}

func TestSource(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		id      string
		ok      bool
		item    string
		checked bool
	}{
		{"SR26:09302", true, "09302", true},
		{"IFCT17:E015", true, "E015", true},
		{" D05 ", true, "", true},
		{"from memory", true, "", false},
		{"common practice, no source", true, "", false},
		{"SR26:", false, "", false},
		{"SR99:09302", false, "", false},
		{"", false, "", false},
	} {
		s, ok := c.source(tc.id)
		if ok != tc.ok || s.Item != tc.item || ok && s.Checked() != tc.checked {
			t.Errorf("Source(%q) = %+v, %v", tc.id, s, ok)
		}
		if ok && s.Title == "" {
			t.Errorf("Source(%q) has no title", tc.id)
		}
	}
}

func TestSourcesOfAList(t *testing.T) {
	c := mustLoad(t)
	var ids []string
	for _, s := range c.Sources("D05;SR26:02003;02004;nonsense; from memory") {
		ids = append(ids, s.ID)
	}
	if want := []string{"D05", "SR26:02003", "SR26:02004", "from memory"}; !slices.Equal(ids, want) {
		t.Errorf("sources %q, want %q", ids, want)
	}
	if c.Sources("") != nil {
		t.Error("no citation has sources")
	}
}

// The title of the memory source has a comma in it, which once split it over
// two columns.
func TestMemorySourceIsWhole(t *testing.T) {
	s, _ := mustLoad(t).source("from memory")
	if s.Title != "general knowledge of the trade, not checked" || s.Publisher != "-" {
		t.Errorf("title %q, publisher %q", s.Title, s.Publisher)
	}
}

package trials

import (
	"strings"
	"testing"
)

func TestMaterialsByAnyOfTheirNames(t *testing.T) {
	materials := shipped(t)
	for name, want := range map[string]string{"heather": "heather", "Heather tips": "heather", "roselle": "hibiscus",
		"HIBISCUS": "hibiscus"} {
		if m, err := materials.Find(name); err != nil || m.Key != want {
			t.Errorf("%q is %q, %v", name, m.Key, err)
		}
	}
	_, err := materials.Find("heathre")
	if p, ok := err.(*Problem); !ok || p.Code != NotFound || !strings.Contains(p.Hint, "heather") {
		t.Errorf("heathre: %v", err)
	}
	_, err = materials.Find("Moon Wort")
	if p, ok := err.(*Problem); !ok || p.Code != NotFound || p.Hint != "add it with: hedgerow material add moon-wort" {
		t.Errorf("Moon Wort: %+v", err)
	}
	_, err = materials.Find("ginger")
	if p, ok := err.(*Problem); !ok || p.Code != Invalid || !strings.Contains(p.Hint, "ginger-fresh") ||
		!strings.Contains(p.Hint, "ginger-dried") {
		t.Errorf("ginger: %+v", err)
	}
}

// A measured moisture comes before the catalogue's.
func TestMoistureAsMeasured(t *testing.T) {
	materials := shipped(t)
	raspberry, _ := materials.Get("raspberry")
	if f, err := materials.Moisture(raspberry, "fresh", ptr(80.0)); err != nil || f.Value != 0.8 ||
		f.Origin != OriginTyped {
		t.Errorf("%+v, %v", f, err)
	}
	if f, err := materials.Moisture(raspberry, "fresh", nil); err != nil || f.Value != 0.8575 ||
		f.Origin != OriginCatalogue || f.Source == "" {
		t.Errorf("%+v, %v", f, err) // USDA Standard Reference: 85.75 %
	}
	if _, err := materials.Moisture(Material{Key: "moonwort"}, "fresh", nil); err == nil ||
		!strings.Contains(err.Error(), "moonwort") {
		t.Errorf("%v", err)
	}
}

func TestOwnMaterialsRefuse(t *testing.T) {
	good := OwnMaterial{Record: Record{Name: "moor-mix"}, Class: "aroma", MoisturePct: ptr(10.0), SugarPct: ptr(2.0),
		GramsPerTsp: ptr(0.7)}
	edit := func(f func(*OwnMaterial)) error { m := good; f(&m); return m.Validate() }
	if err := good.Validate(); err != nil {
		t.Error(err)
	}
	cases := []struct {
		err  error
		want string
	}{
		{edit(func(m *OwnMaterial) { m.Name = "moor mix" }), "moor mix"},
		{edit(func(m *OwnMaterial) { m.Class = "smell" }), "smell"},
		{edit(func(m *OwnMaterial) { m.MoisturePct = ptr(100.0) }), "moisture 100"},
		{edit(func(m *OwnMaterial) { m.SugarPct = ptr(101.0) }), "sugar 101"},
		{edit(func(m *OwnMaterial) { m.GramsPerTsp = ptr(0.0) }), "spoon weight 0"},
	}
	for _, c := range cases {
		if CodeOf(c.err) != Invalid || !strings.Contains(c.err.Error(), c.want) {
			t.Errorf("%v, want %q", c.err, c.want)
		}
	}
}

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

// What is on the stop list is said at once, with its source, whatever the name.
func TestStopListIsTold(t *testing.T) {
	materials := shipped(t)
	for _, name := range []string{"tansy", "Golden Buttons", "yew-tips", "rue", "pennyroyal", "foxglove"} {
		_, err := materials.Find(name)
		p, ok := err.(*Problem)
		if !ok || p.Code != NotFound || !strings.Contains(p.Message, "on the stop list") ||
			strings.Contains(p.Hint, "add it") {
			t.Errorf("%s: %+v", name, err)
		}
		err = materials.CheckStopList(OwnMaterial{Record: Record{Name: name}})
		if p, ok := err.(*Problem); !ok || p.Code != Invalid || !strings.Contains(p.Message, " [") {
			t.Errorf("%s is taken: %v", name, err)
		}
		err = materials.CheckStopList(OwnMaterial{Record: Record{Name: name}, Reason: "dye bath"})
		if err != nil {
			t.Errorf("%s with a reason: %v", name, err)
		}
	}
	own := []OwnMaterial{
		{Record: Record{Name: "field-mix"}, CommonName: "Tansy"},
		{Record: Record{Name: "moor-mix"}, Reason: " "},
	}
	if materials.CheckStopList(own[0]) == nil {
		t.Error("a common name of the list is taken")
	}
	if err := materials.CheckStopList(own[1]); err != nil {
		t.Errorf("moor-mix: %v", err)
	}
	own[0].Reason = " "
	if materials.CheckStopList(own[0]) == nil {
		t.Error("a blank is taken for a reason")
	}
}

// A reason keeps the record, it makes no dose of it.
func TestNoDoseWhateverTheReason(t *testing.T) {
	n := &Notebook{Materials: []OwnMaterial{
		{Record: Record{Name: "tansy"}, Reason: "dye bath"}, {Record: Record{Name: "moor-mix"}},
	}}
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	for key, refused := range map[string]bool{"tansy": true, "sassafras": true, "moor-mix": false, "heather": false} {
		m, err := materials.Find(key)
		if err != nil {
			t.Fatal(err)
		}
		if err := materials.CheckDose(m); (err != nil) != refused {
			t.Errorf("%s: %v", key, err)
		}
	}
}

// A measured moisture comes before the catalogue's.
func TestMoistureAsMeasured(t *testing.T) {
	materials := shipped(t)
	raspberry, _ := materials.Get("raspberry")
	if f, err := materials.Moisture(raspberry, "fresh", ptr(80.0)); err != nil || f.Value != 0.8 ||
		f.Origin != originTyped {
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

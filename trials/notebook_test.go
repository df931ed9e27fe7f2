package trials

import (
	"reflect"
	"strings"
	"testing"
)

// Every kind of record is found by its name, and a missing one is a Problem that
// names what comes near or what there is.
func TestRecordsAreFoundByName(t *testing.T) {
	rec := func(name string) Record { return Record{ID: "id of " + name, Name: name} }
	n := &Notebook{
		Batches: []Batch{{Record: rec("elder-1")}}, Extracts: []Extract{{Record: rec("tea-1")}},
		Additions: []Addition{{Record: rec("elder-1.a1")}},
		Readings:  []Reading{{Record: rec("elder-1.r1")}}, Meters: []Meter{{Record: rec("float")}},
		Tastings: []Tasting{{Record: rec("spring")}}, Tasters: []Taster{{Record: rec("Taster A")}},
	}
	finders := []struct {
		name string
		find func(string) (string, error)
	}{
		{"elder-1", func(s string) (string, error) { r, err := n.Batch(s); return r.ID, err }},
		{"tea-1", func(s string) (string, error) { r, err := n.Extract(s); return r.ID, err }},
		{"elder-1.a1", func(s string) (string, error) { r, err := n.Addition(s); return r.ID, err }},
		{"elder-1.r1", func(s string) (string, error) { r, err := n.Reading(s); return r.ID, err }},
		{"float", func(s string) (string, error) { r, err := n.Meter(s); return r.ID, err }},
		{"spring", func(s string) (string, error) { r, err := n.Tasting(s); return r.ID, err }},
		{"Taster A", func(s string) (string, error) { r, err := n.Taster(s); return r.ID, err }},
	}
	for _, f := range finders {
		if id, err := f.find(f.name); err != nil || id != "id of "+f.name {
			t.Errorf("%s: %q, %v", f.name, id, err)
		}
		_, err := f.find(f.name + "x")
		if p, ok := err.(*Problem); !ok || p.Code != NotFound || !strings.Contains(p.Hint, f.name) {
			t.Errorf("%sx: %v", f.name, err)
		}
		_, err = f.find("quite another")
		if p, ok := err.(*Problem); !ok || !strings.Contains(p.Hint, "there is "+f.name) {
			t.Errorf("another: %v", err)
		}
	}
	if _, err := (&Notebook{}).Batch("elder-1"); err == nil ||
		!strings.Contains(err.(*Problem).Hint, "there is no batch yet") {
		t.Errorf("empty notebook: %v", err)
	}
	if got := n.TasterName("nobody"); got != "unknown taster" {
		t.Errorf("a taster that is gone is called %q", got)
	}
}

// Many records are not all listed in a hint.
func TestHintOfManyRecordsStaysShort(t *testing.T) {
	n := &Notebook{}
	for _, c := range "abcdefghijklmnop" {
		n.Batches = append(n.Batches, Batch{Record: Record{Name: "brew-of-the-long-name-" + string(c)}})
	}
	_, err := n.Batch("zzz")
	if hint := err.(*Problem).Hint; !strings.HasSuffix(hint, ", ...") || strings.Count(hint, "brew") != 8 {
		t.Error(hint)
	}
}

func TestServingsInOrderOfTheirCodes(t *testing.T) {
	n := &Notebook{Servings: []Serving{{TastingID: "g", Code: "731"}, {TastingID: "h", Code: "100"},
		{TastingID: "g", Code: "204"}}}
	got := n.ServingsOf("g")
	if len(got) != 2 || got[0].Code != "204" || got[1].Code != "731" {
		t.Errorf("%+v", got)
	}
}

// With shows what a change would do, and leaves the notebook as it was.
func TestWithDoesNotChangeTheNotebook(t *testing.T) {
	n, b := handBatch()
	before := *n
	larger := b
	larger.VolumeL = 40
	r := n.Readings[0]
	r.SG = ptr(1.040)
	with := n.With(larger).With(r).With(Loss{Record: Record{ID: "new"},
		BatchID: b.ID}).With(Extract{Record: Record{ID: "x", Name: "other"}})
	if got, _ := with.Batch("heather-1"); got.VolumeL != 40 || *with.Readings[0].SG != 1.040 || len(with.Losses) != 3 ||
		with.Extracts[0].Name != "other" {
		t.Errorf("changed notebook %+v", with)
	}
	if !reflect.DeepEqual(before, *n) || n.Batches[0].VolumeL != 20 || *n.Readings[0].SG != 1.0280 {
		t.Error("the notebook itself was changed")
	}
}

func TestReplacing(t *testing.T) {
	n := &Notebook{Extracts: []Extract{{Record: Record{ID: "x"}}, {Record: Record{ID: "y"}}},
		Additions: []Addition{{Record: Record{ID: "a"}}}}
	n.ReplaceExtract(Extract{Record: Record{ID: "y", Name: "new"}})
	n.ReplaceAddition(Addition{Record: Record{ID: "a", Name: "new"}})
	n.ReplaceAddition(Addition{Record: Record{ID: "none", Name: "new"}})
	if n.Extracts[0].Name != "" || n.Extracts[1].Name != "new" || n.Additions[0].Name != "new" || len(n.Additions) != 1 {
		t.Errorf("%+v %+v", n.Extracts, n.Additions)
	}
}

// Elderberries (raw seeds and stems poison) carry a warning; a material that is
// not there carries none.
func TestSeriousCautions(t *testing.T) {
	n := &Notebook{}
	if len(n.SeriousCautions("elderberry")) == 0 {
		t.Error("elderberry comes without a caution")
	}
	if got := n.SeriousCautions("moonwort"); len(got) != 0 {
		t.Errorf("%+v", got)
	}
}

// Ids must not clash when notebooks are merged: 26 characters of 5 bits.
func TestNewIDs(t *testing.T) {
	seen := map[string]bool{}
	for range 1000 {
		id := NewID()
		if len(id) != 26 || strings.ToLower(id) != id || seen[id] {
			t.Fatalf("id %q", id)
		}
		seen[id] = true
	}
}

func TestProblems(t *testing.T) {
	err := Refuse("type this", "%s is wrong", "that")
	if CodeOf(err) != Invalid || err.Error() != "that is wrong" || err.(*Problem).Hint != "type this" {
		t.Errorf("%+v", err)
	}
}

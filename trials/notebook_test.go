package trials

import (
	"reflect"
	"strings"
	"testing"
	"time"
)

// Every kind of record is found by its name, and a missing one is a Problem that
// names what comes near or what there is.
func TestRecordsAreFoundByName(t *testing.T) {
	rec := func(name string) Record { return Record{ID: "id of " + name, Name: name} }
	n := &Notebook{
		Batches: []Batch{{Record: rec("elder-1")}}, Extracts: []Extract{{Record: rec("tea-1")}}, Additions: []Addition{{Record: rec("elder-1.a1")}},
		Readings: []Reading{{Record: rec("elder-1.r1")}}, Meters: []Meter{{Record: rec("float")}}, Tastings: []Tasting{{Record: rec("spring")}}, Tasters: []Taster{{Record: rec("Taster A")}},
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
	if _, err := (&Notebook{}).Batch("elder-1"); err == nil || !strings.Contains(err.(*Problem).Hint, "there is no batch yet") {
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
	n := &Notebook{Servings: []Serving{{TastingID: "g", Code: "731"}, {TastingID: "h", Code: "100"}, {TastingID: "g", Code: "204"}}}
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
	with := n.With(larger).With(r).With(Loss{Record: Record{ID: "new"}, BatchID: b.ID}).With(Extract{Record: Record{ID: "x", Name: "other"}})
	if got, _ := with.Batch("heather-1"); got.VolumeL != 40 || *with.Readings[0].SG != 1.040 || len(with.Losses) != 3 || with.Extracts[0].Name != "other" {
		t.Errorf("changed notebook %+v", with)
	}
	if !reflect.DeepEqual(before, *n) || n.Batches[0].VolumeL != 20 || *n.Readings[0].SG != 1.0280 {
		t.Error("the notebook itself was changed")
	}
}

// A change that the account cannot take is refused, unless it did not hold
// before either.
func TestCheckAccount(t *testing.T) {
	n, b := handBatch()
	too := Loss{Record: Record{ID: "new", Name: "heather-1.l9"}, BatchID: b.ID, At: day(22), Kind: LossTrub, VolumeL: 30}
	broken := n.With(too)
	if err := broken.CheckAccount(n, b); CodeOf(err) != Invalid || !strings.Contains(err.Error(), "heather-1.l9") {
		t.Errorf("30 L out of 20 L: %v", err)
	}
	if err := broken.With(Loss{Record: Record{ID: "more", Name: "heather-1.l10"}, BatchID: b.ID, At: day(3), Kind: LossSample, VolumeL: 0.1}).CheckAccount(broken, b); err != nil {
		t.Errorf("a batch that is broken already is shut: %v", err)
	}
	late := b
	late.StartedAt = day(4)
	if err := n.With(late).CheckAccount(n, late); err == nil || !strings.Contains(err.Error(), "heather-1.r1") {
		t.Errorf("begun after its first reading: %v", err)
	}
	bare := b
	bare.OG = nil
	if err := n.With(bare).CheckAccount(n, bare); err != nil {
		t.Errorf("without original gravity there is no account to break: %v", err)
	}
}

// An extract made smaller than what was poured is refused.
func TestCheckPoured(t *testing.T) {
	n, _ := batchOf(heatherTea(), Addition{Record: Record{ID: "a", Name: "heather-1.a1"}, At: day(4), Stage: StageSecondary, ExtractID: ptr("x"), PouredL: ptr(0.7)})
	smaller := heatherTea()
	smaller.Passes = smaller.Passes[:1]
	if err := n.With(smaller).CheckPoured(n, smaller); CodeOf(err) != Invalid || !strings.Contains(err.Error(), "0.7 L were poured") {
		t.Errorf("%v", err)
	}
	if err := n.CheckPoured(n, heatherTea()); err != nil {
		t.Errorf("unchanged: %v", err)
	}
}

func TestCheckSplit(t *testing.T) {
	n, b := handBatch()
	jar := func(volume float64, at time.Time) Batch {
		return Batch{Record: Record{Name: "jar-1"}, ParentID: ptr(b.ID), Kind: KindJar, StartedAt: at, VolumeL: volume}
	}
	if err := n.CheckSplit(b, jar(4, day(30))); err != nil {
		t.Errorf("4 L of 20.4 L: %v", err)
	}
	for what, child := range map[string]Batch{"more than there is": jar(25, day(30)), "before the batch began": jar(4, day(-1)), "nothing": jar(0, day(30))} {
		if err := n.CheckSplit(b, child); CodeOf(err) != Invalid || err == nil {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestReplacing(t *testing.T) {
	n := &Notebook{Extracts: []Extract{{Record: Record{ID: "x"}}, {Record: Record{ID: "y"}}}, Additions: []Addition{{Record: Record{ID: "a"}}}}
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
	if CodeOf(problemOrNil(nil)) != Failed || problemOrNil(nil) != nil {
		t.Error("no error became one")
	}
	if got := SGFromPlato(12); got < 1.0483 || got > 1.0484 { // printed 12 P: 1.04833 to 1.0484
		t.Errorf("12 P is %g", got)
	}
	if got := SGFromPlato(500); got != 0 {
		t.Errorf("500 P is %g", got)
	}
}

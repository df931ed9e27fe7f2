package trials

import (
	"strings"
	"testing"
	"time"
)

// The limits are those that the checks state: what cannot be, or is beyond any
// brew; the words are what a brewer has to read.
func TestRecordsRefuseWhatCannotBe(t *testing.T) {
	good := Batch{Record: Record{Name: "heather-3"}, Kind: KindBatch, VolumeL: 12, OG: ptr(1.048)}
	edit := func(f func(*Batch)) Batch { b := good; f(&b); return b }
	pass := Pass{VolumeL: 0.4, StartC: 96, Minutes: 30, Separation: SeparationDrained}
	extract := Extract{MassG: 40, Form: "cut", Method: MethodTea}
	direct := Addition{Stage: StageSecondary, MaterialKey: "heather", Method: MethodContact, Form: "cut", MassG: ptr(40.0)}
	cases := []struct {
		name string
		err  error
		want string // part of the message; empty when the record is good
	}{
		{"good batch", good.Validate(), ""},
		{"zero volume", edit(func(b *Batch) { b.VolumeL = 0 }).Validate(), "volume 0 L"},
		{"negative volume", edit(func(b *Batch) { b.VolumeL = -5 }).Validate(), "volume -5 L"},
		{"gravity without its point", edit(func(b *Batch) { b.OG = ptr(1048.0) }).Validate(), "1048"},
		{"gravity too low", edit(func(b *Batch) { b.OG = ptr(0.95) }).Validate(), "0.95"},
		{"gravities swapped", edit(func(b *Batch) { b.OG, b.FG = ptr(1.010), ptr(1.048) }).Validate(),
			"final gravity 1.048 is above the original gravity 1.010"},
		{"unknown kind", edit(func(b *Batch) { b.Kind = "jug" }).Validate(), `kind of batch "jug"`},
		{"empty note", BatchNote{Text: "  "}.Validate(), "note is empty"},
		{"name with a dot", edit(func(b *Batch) { b.Name = "my.beer" }).Validate(), "my.beer"},
		{"sample too hot", edit(func(b *Batch) { b.OGSampleTempC = ptr(80.0) }).Validate(), "sample temperature 80"},
		{"more sugar than solids", OwnMaterial{Record: Record{Name: "x"}, SugarPct: ptr(60.0),
			MoisturePct: ptr(70.0)}.Validate(), "sugar 60 % is more than the solids, 30 %"},
		{"all solids sugar", OwnMaterial{Record: Record{Name: "x"}, SugarPct: ptr(30.0),
			MoisturePct: ptr(70.0)}.Validate(), ""},
		{"good extract", extract.Validate(), ""},
		{"no mass", Extract{Form: "cut", Method: MethodTea}.Validate(), "mass 0 g"},
		{"unknown form", Extract{MassG: 1, Form: "cutt", Method: MethodTea}.Validate(), `form "cutt"`},
		{"unknown method", Extract{MassG: 1, Form: "cut", Method: "soak"}.Validate(), `method "soak"`},
		{"all water", Extract{MassG: 1, Form: "cut", Method: MethodTea, MoisturePct: ptr(100.0)}.Validate(), "moisture 100"},
		{"tincture without strength", Extract{MassG: 1, Form: "cut", Method: MethodTincture}.Validate(), "strength"},
		{"good pass", pass.Validate(), ""},
		{"pass without time", Pass{VolumeL: 0.4, StartC: 96, Separation: SeparationDrained}.Validate(), "time 0 min"},
		{"pass hotter than steam", Pass{VolumeL: 0.4, StartC: 130, Minutes: 5,
			Separation: SeparationDrained}.Validate(), "130"},
		{"good addition", direct.Validate(), ""},
		{"unknown stage", Addition{Stage: "third"}.Validate(), `stage "third"`},
		{"spirit above 100", Addition{Stage: StagePackaging, LiquidKind: "spirit", VolumeL: ptr(0.1),
			StrengthPct: ptr(120.0)}.Validate(), "strength 120"},
		{"empty reading", Reading{}.Validate(), "empty"},
		{"pH off the scale", Reading{PH: ptr(15.0)}.Validate(), "pH 15"},
		{"equal buffers", Calibration{Buffer1: 4, Buffer2: 4, Read1: 4, Read2: 7}.Validate(), "both buffers"},
		{"equal readings", Calibration{Buffer1: 4, Buffer2: 7, Read1: 5, Read2: 5}.Validate(), "both readings"},
		{"claim upside down", Claim{LowGPerL: ptr(5.0), HighGPerL: ptr(2.0)}.Validate(), "from 5 down to 2"},
		{"loss of an unknown kind", Loss{Kind: "spill", VolumeL: 1}.Validate(), `"spill"`},
	}
	for _, c := range cases {
		switch {
		case c.want == "" && c.err != nil:
			t.Errorf("%s: %v", c.name, c.err)
		case c.want != "" && (c.err == nil || !strings.Contains(c.err.Error(), c.want)):
			t.Errorf("%s: error %v does not say %q", c.name, c.err, c.want)
		}
	}
}

func TestHintsNameWhatWasMeant(t *testing.T) {
	cases := []struct {
		err  error
		want string
	}{
		{Batch{Record: Record{Name: "x"}, Kind: KindBatch, VolumeL: 1, OG: ptr(1046.0)}.Validate(), "did you mean 1.046?"},
		{checkWord("form", "powdre", Forms), "did you mean powder?"},
		{checkWord("stage", "cellar", stages), "choose one of boil"},
	}
	for _, c := range cases {
		p, ok := c.err.(*Problem)
		if !ok || !strings.Contains(p.Hint, c.want) {
			t.Errorf("%v: hint does not say %q", c.err, c.want)
		}
	}
}

func TestScoresStayOnTheirScales(t *testing.T) {
	evening := Tasting{Record: Record{Name: "evening"}, Attributes: []string{"floral"}}
	cases := []struct {
		score Score
		good  bool
	}{
		{Score{Attribute: "floral", Intensity: ptr(0.0)}, true},
		{Score{Attribute: "floral", Intensity: ptr(10.0), Vote: ptr(1)}, true},
		{Score{Attribute: Overall, Liking: ptr(9.0)}, true},
		{Score{Attribute: "floral", Intensity: ptr(10.5)}, false},
		{Score{Attribute: "floral", Vote: ptr(2)}, false},
		{Score{Attribute: Overall, Liking: ptr(0.5)}, false},
		{Score{Attribute: "smoke", Intensity: ptr(1.0)}, false},
	}
	for _, c := range cases {
		if err := c.score.Validate(evening); (err == nil) != c.good {
			t.Errorf("%+v: %v", c.score, err)
		}
	}
}

func TestVotesAsPeopleWriteThem(t *testing.T) {
	for text, want := range map[string]int{"too little": -1, "little": -1, "-1": -1, "just right": 0, "Right": 0,
		"0": 0, "too-much": 1, "much": 1, "1": 1} {
		if got, err := ParseVote(text); err != nil || got != want {
			t.Errorf("%q is %d, %v; want %d", text, got, err, want)
		}
	}
	if _, err := ParseVote("meh"); err == nil {
		t.Error("meh was taken as a vote")
	}
}

func TestMissingRecordsNameNearOnes(t *testing.T) {
	n := &Notebook{Batches: []Batch{{Record: Record{Name: "elder-3"}}, {Record: Record{Name: "elder-4"}}}}
	_, err := n.Batch("elder-33")
	p, ok := err.(*Problem)
	if !ok || p.Code != NotFound || !strings.Contains(p.Hint, "elder-3") {
		t.Errorf("%v", err)
	}
}

func TestEventsOutsideTheLifeOfABatch(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2026, 3, d, 12, 0, 0, 0, time.UTC) }
	b := Batch{Record: Record{ID: "b", Name: "elder-3"}, StartedAt: day(5)}
	n := &Notebook{Batches: []Batch{b}, Packagings: []Packaging{{BatchID: "b", At: day(20)}}}
	if err := n.CheckTime(b, "reading", day(4), false); err == nil {
		t.Error("a reading before the batch began was taken")
	}
	if err := n.CheckTime(b, "addition", day(21), false); err == nil {
		t.Error("an addition to a packaged batch was taken")
	}
	if err := n.CheckTime(b, "addition", day(21), true); err != nil {
		t.Errorf("forced addition: %v", err)
	}
	if err := n.CheckTime(b, "reading", day(21), false); err != nil {
		t.Errorf("reading of a packaged batch: %v", err)
	}
}

// A name may have spaces and apostrophes, and must not read as a day or an amount.
func TestCheckName(t *testing.T) {
	for _, name := range []string{"heather-3", "Heather three", "Anna's ale", "été_1", "3rd brew", "day ale",
		"12 monkeys"} {
		if err := CheckName("batch", name); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
	for _, name := range []string{"", " heather", "heather ", "two  spaces", "b1.a1", "day 5", "today", "2026-03-05",
		"12L",
		"12 l", "500ml", "-x", "a\nb"} {
		if CheckName("batch", name) == nil {
			t.Errorf("%q was accepted", name)
		}
	}
}

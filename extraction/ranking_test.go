package extraction

import (
	"strings"
	"testing"

	"hedgerow/trials/figure"
)

// The rules of section 8, one steep for each.
func TestRankingReasons(t *testing.T) {
	ok := Steep{Method: Tea, Form: Crushed, MassG: 36, Passes: []Pass{stirred(450, Squeezed)}}
	with := func(change func(*Steep)) Steep { s := ok; change(&s); return s }
	cases := []struct {
		name    string
		class   Class
		steep   Steep
		mention string
	}{
		{"reliable", Water, ok, ""},
		{"boiled aroma", Aroma, Steep{Method: Boil, Form: Cut, MassG: 36, Passes: []Pass{{Minutes: 10}}}, "boil"},
		{"boiled tea aroma", Aroma, with(func(s *Steep) {
			s.Passes = []Pass{{VolumeML: 450, StartC: new(100.0), Minutes: 10, Boiling: true}}
		}), "boil"},
		{"boiled colour", Water, Steep{Method: Boil, Form: Cut, MassG: 36, Passes: []Pass{{Minutes: 10}}}, ""},
		{"fermenting", Aroma, Steep{Method: Contact, Form: Crushed, MassG: 36, Fermenting: true,
			Passes: []Pass{{Minutes: 4000}}}, "fermentation"},
		{"resin", Resin, ok, "resins"},
		{"resin in spirit", Resin, Steep{Method: Tincture, Form: Powder, MassG: 36,
			Passes: []Pass{{VolumeML: 450, Minutes: 20000}}}, "oil beyond"},
		{"tannin in strong spirit", Tannin, Steep{Method: Tincture, Form: Powder, MassG: 36,
			Passes: []Pass{{VolumeML: 450, Minutes: 20000, ABVPct: new(70.0)}}}, "above 60 %"},
		{"tannin in spirit", Tannin, Steep{Method: Tincture, Form: Powder, MassG: 36,
			Passes: []Pass{{VolumeML: 450, Minutes: 20000, ABVPct: new(60.0)}}}, ""},
		{"whole hard", Water, Steep{Method: FlameOut, Form: WholeHard, MassG: 36,
			Passes: []Pass{{Minutes: 20, Agitation: Stirred}}}, "whole hard"},
		{"whole hard for long", Water, Steep{Method: Contact, Form: WholeHard, MassG: 36,
			Passes: []Pass{{Minutes: 9000, Agitation: Stirred}}}, ""},
		{"swells", Water, with(func(s *Steep) { s.Kind = Swelling }), "swelling"},
		{"thick", Water, with(func(s *Steep) { s.Passes = []Pass{stirred(200, Squeezed)} }), "thick"},
		{"long", Water, Steep{Method: Contact, Form: Crushed, MassG: 36, Passes: []Pass{{Minutes: 20000}}}, "week"},
		{"reacts", Water, with(func(s *Steep) { s.Reacts = true }), "react"},
	}
	for _, c := range cases {
		r := run(t, c.steep)
		got := strings.Join(r.RankingReasons(c.class, Band{At80: figure.Between(1, 0.9, 1.1, 0.8)}), "; ")
		if (c.mention == "") != (got == "") || !strings.Contains(got, c.mention) {
			t.Errorf("%s: %q, want %q", c.name, got, c.mention)
		}
	}
	r := run(t, ok)
	if got := r.RankingReasons(Water, Band{At80: figure.Between(1, 0.7, 1.1, 0.8)}); len(got) != 1 ||
		!strings.Contains(got[0], "1.5") {
		t.Errorf("a factor of 1.57: %q, want one reason", got)
	}
	if got := r.RankingReasons(Water, Band{}); len(got) != 0 {
		t.Errorf("no dose at all: %q, want no reason", got)
	}
}

package extraction

import (
	"errors"
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
		{"fermenting", Aroma, Steep{Method: contact, Form: Crushed, MassG: 36, Fermenting: true,
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
		{"whole hard for long", Water, Steep{Method: contact, Form: WholeHard, MassG: 36,
			Passes: []Pass{{Minutes: 9000, Agitation: Stirred}}}, ""},
		{"swells", Water, with(func(s *Steep) { s.Kind = Swelling }), "swelling"},
		{"thick", Water, with(func(s *Steep) { s.Passes = []Pass{stirred(200, Squeezed)} }), "thick"},
		{"long", Water, Steep{Method: contact, Form: Crushed, MassG: 36, Passes: []Pass{{Minutes: 20000}}}, "week"},
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

// Section 8: in the table of section 6 only C keeps clearly within a factor of 1.5
// (1.32-1.96 is 1.48); F, 1.38-2.12, is 1.54.
func TestComparisonShowsPlacesOnly(t *testing.T) {
	c, err := Compare(Water, sectionSix(), Draws{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range c.Rows {
		if want := !strings.Contains("C", row.Name); row.RankingOnly != want {
			t.Errorf("%s: ranking only %v, %q, want %v", row.Name, row.RankingOnly, row.Reasons, want)
		}
		if row.Minutes < 0 || row.Handlings < 1 || row.MixL < 17 {
			t.Errorf("%+v", row)
		}
	}
}

func TestFreshAgainstDriedAroma(t *testing.T) {
	entry := func(name string, f Form, moisture float64) Entry {
		return Entry{name, Steep{Method: Tea, Form: f, MassG: 36, Moisture: new(moisture),
			Passes: []Pass{stirred(800, Squeezed)}}, Mix{IntoL: 17}}
	}
	entries := []Entry{entry("dried", Cut, 0.1), entry("fresh", freshChopped, 0.84)}
	for class, want := range map[Class]bool{Water: false, Aroma: true} {
		c, err := Compare(class, entries, Draws{N: 500, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(strings.Join(c.Warnings, " ")+strings.Join(c.Rows[0].Reasons, " "),
			"fresh against dried"); got != want {
			t.Errorf("%s: %q, want a word on fresh against dried: %v", class, c.Rows[0].Reasons, want)
		}
	}
}

func TestCompareRefuses(t *testing.T) {
	bad := sectionSix()
	bad[2].Steep.MassG = -1
	cases := []struct {
		class   Class
		entries []Entry
		draws   Draws
		mention string
	}{
		{Water, nil, Draws{}, "nothing to compare"},
		{Class(7), sectionSix(), Draws{}, "class 7"},
		{Water, sectionSix(), Draws{N: 1}, "1 draws"},
		{Water, sectionSix(), Draws{N: 1 << 30}, "draws"},
		{Water, bad, Draws{}, `method "C": mass -1`},
	}
	for _, c := range cases {
		_, err := Compare(c.class, c.entries, c.draws)
		var refused *inputError
		if !errors.As(err, &refused) || !strings.Contains(refused.Message, c.mention) {
			t.Errorf("error %v, want %q", err, c.mention)
		}
	}
}

// A method against itself differs by its own agitation alone: nobody can tell.
// A tea that gives nothing at the default held liquid, and a little in few draws,
// has no ratio.
func TestPairEdges(t *testing.T) {
	same := sectionSix()[5]
	dry := Entry{"dry", leaf36(stirred(120, Drained)), Mix{IntoL: 20}}
	c, err := Compare(Water, []Entry{same, same, dry}, Draws{N: 4000, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	if p := c.Pairs[0]; p.IsClear() || !near(p.P, 0.5, 0.05) {
		t.Errorf("against itself %+v, want a tie", p)
	}
	if p := c.Pairs[1]; p.Call != stronger || p.P < 0.98 || p.Ratio.Level != 0 {
		t.Errorf("against nothing %+v, want stronger without a ratio", p)
	}
	again, err := Compare(Water, []Entry{same, same, dry}, Draws{N: 4000, Seed: 5})
	if err != nil || again.Pairs[0].P != c.Pairs[0].P {
		t.Errorf("the same seed gives %v and %v (%v)", c.Pairs[0].P, again.Pairs[0].P, err)
	}
}

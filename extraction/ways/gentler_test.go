package ways

import (
	"math"
	"strings"
	"testing"

	"hedgerow/extraction"
)

// hotTea is cut leaf stirred at 95 C for 20 min, the base of the table below.
func hotTea() extraction.Steep {
	return extraction.Steep{
		Method: extraction.Tea,
		Form:   extraction.Cut,
		Kind:   extraction.LeafFlower,
		MassG:  30,
		Passes: []extraction.Pass{{VolumeML: 500, StartC: new(95.0),
			Minutes: 20, Agitation: extraction.Stirred, Separation: extraction.Drained}},
	}
}

// TestTanninPerWanted checks tannin beside acid and aroma of changed steeps against a
// table computed independently from the rates, ceilings and forms that Defaults
// prints: two digits, base 95 C for 20 min stirred = 1, half-lives of aroma counted in.
func TestTanninPerWanted(t *testing.T) {
	base := hotTea()
	before, err := base.Run()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what           string
		tempC, minutes float64
		agitation      extraction.Agitation
		acid           float64
	}{
		{"12 h at 4 C", 4, 720, extraction.Still, 0.30},
		{"2 h at 20 C", 20, 120, extraction.Still, 0.27},
		{"5 min at 95 C, stirred less", 95, 5, extraction.NowAndThen, 0.79},
		{"10 min at 60 C", 60, 10, extraction.Still, 0.47},
		{"10 min at 70 C", 70, 10, extraction.NowAndThen, 0.64},
	} {
		s := hotTea()
		s.Passes[0].StartC, s.Passes[0].Minutes, s.Passes[0].Agitation = new(c.tempC), c.minutes, c.agitation
		r, err := s.Run()
		if err != nil {
			t.Fatal(err)
		}
		if got := tanninPer(&r, extraction.Acid) / tanninPer(&before, extraction.Acid); math.Abs(got-c.acid) > 0.03 {
			t.Errorf("%s: tannin per acid %.3f of the base, want %.2f", c.what, got, c.acid)
		}
	}
	wet := extraction.Steep{
		Method: extraction.Contact,
		Form:   extraction.Cut,
		MassG:  30,
		Passes: []extraction.Pass{{StartC: new(20.0), Minutes: 7 * 1440}},
	}
	late, _ := wet.Run()
	wet.Passes[0].Minutes = 1440
	early, _ := wet.Run()
	if got := tanninPer(&early, extraction.Acid) / tanninPer(&late, extraction.Acid); math.Abs(got-0.66) > 0.02 {
		t.Errorf("pulled after a day: %.3f, want 0.66", got)
	}
}

// TestGentlerRanks checks the order that the evidence gives and what does not apply.
func TestGentlerRanks(t *testing.T) {
	s := hotTea()
	s.Passes = append(s.Passes, s.Passes[0])
	ways, err := Gentler(&s, extraction.Acid)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for i, w := range ways {
		list = append(list, w.What)
		if i > 0 && w.Place < ways[i-1].Place || w.Grade == "" || w.Because == "" || w.Kept == "" {
			t.Errorf("way %+v", w)
		}
	}
	got := strings.Join(list, "; ")
	for _, want := range []string{"cold: 12 h at 4 C", "cool: 2 h at 20 C", "at 65 C", "one pass only"} {
		at := strings.Index(got, want)
		if at < 0 {
			t.Fatalf("%q has no %q", got, want)
		}
		got = got[at:]
	}
	if strings.Contains(got, "pulled") || strings.Contains(got, "spirit") {
		t.Errorf("%q has what is of no tea", got)
	}
	s.Kind = extraction.Bean
	ways, _ = Gentler(&s, extraction.Acid)
	for _, w := range ways {
		if strings.HasPrefix(w.What, "co") {
			t.Errorf("coffee is not gentler %s", w.What)
		}
	}
	if _, err := Gentler(&s, extraction.Tannin); err == nil {
		t.Error("less tannin at the same tannin")
	}
	drops := extraction.Steep{
		Method: extraction.Tincture,
		Form:   extraction.Cut,
		Kind:   extraction.LeafFlower,
		MassG:  30,
		Passes: []extraction.Pass{{VolumeML: 300,
			ABVPct: new(60.0), Minutes: 5 * 1440, Separation: extraction.Drained}},
	}
	ways, err = Gentler(&drops, extraction.Acid)
	if err != nil || len(ways) == 0 || !strings.HasPrefix(ways[0].What, "in spirit") {
		t.Errorf("tincture: %+v, %v", ways, err)
	}
}

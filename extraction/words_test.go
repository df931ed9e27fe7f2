package extraction

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// The words that a pass may use; their numbers are judgement (words.go).
func TestFormWords(t *testing.T) {
	cases := []struct {
		words FormWords
		want  Form
	}{
		{FormWords{Word: "whole"}, WholeThin},
		{FormWords{Word: "Whole", HardKind: true}, WholeHard},
		{FormWords{Word: "cut", HardKind: true}, Cut},
		{FormWords{Word: "cracked"}, Cut},
		{FormWords{Word: "crushed"}, Crushed},
		{FormWords{Word: "powder"}, Powder},
		{FormWords{Word: "fresh"}, FreshWhole},
		{FormWords{Word: "fresh", IsCut: true}, FreshChopped},
		{FormWords{Word: "frozen"}, Frozen},
		{FormWords{Word: "zest"}, zest},
		{FormWords{Word: "puree"}, Puree},
		{FormWords{Word: "juice"}, Juice},
		{FormWords{Word: "whole_hard"}, WholeHard},
		{FormWords{Word: "frozen-thawed"}, Frozen},
	}
	for _, c := range cases {
		if got, err := FormFor(c.words); err != nil || got != c.want {
			t.Errorf("%+v is %s, %v, want %s", c.words, got, err, c.want)
		}
	}
}

// Every word that a value prints is read back as that value.
func TestWordsRoundTrip(t *testing.T) {
	for _, f := range Forms() {
		if got, err := FormFor(FormWords{Word: f.String()}); err != nil || got != f {
			t.Errorf("form %q is read as %s, %v", f, got, err)
		}
	}
	for _, w := range methodWords() {
		if got, err := ParseMethod(w); err != nil || got.String() != w {
			t.Errorf("method %q is read as %s, %v", w, got, err)
		}
	}
	for i, a := range []Agitation{Still, NowAndThen, Stirred, rollingBoil} {
		if got, err := ParseAgitation(agitationNames[i+1]); err != nil || got != a {
			t.Errorf("agitation %q is read as %d, %v", agitationNames[i+1], got, err)
		}
	}
	for _, s := range []Separation{Drained, Squeezed, ScrewPressed, LeftIn} {
		if got, err := ParseSeparation(s.String()); err != nil || got != s {
			t.Errorf("separation %q is read as %s, %v", s, got, err)
		}
	}
}

// Every word that help offers is read.
func TestOfferedWordsAreRead(t *testing.T) {
	for _, w := range agitationWords() {
		if _, err := ParseAgitation(w); err != nil {
			t.Error(err)
		}
	}
	for _, w := range separationWords() {
		if _, err := ParseSeparation(w); err != nil {
			t.Error(err)
		}
	}
	for _, w := range formWordsAllowed() {
		if _, err := FormFor(FormWords{Word: w}); err != nil {
			t.Error(err)
		}
	}
}

// Words that brewers use for the same things; common practice, no source.
func TestOtherWords(t *testing.T) {
	if m, err := ParseMethod("whirlpool"); m != FlameOut || err != nil {
		t.Errorf("whirlpool is %s, %v", m, err)
	}
	if m, err := ParseMethod("Cold infusion"); m != ColdTea || err != nil {
		t.Errorf("cold infusion is %s, %v", m, err)
	}
	if s, err := ParseSeparation("hand-pressed"); s != Squeezed || err != nil {
		t.Errorf("hand-pressed is %s, %v", s, err)
	}
	if a, err := ParseAgitation("now and then"); a != NowAndThen || err != nil {
		t.Errorf("now and then is %d, %v", a, err)
	}
}

func TestUnknownWords(t *testing.T) {
	_, form := FormFor(FormWords{Word: "crushd"})
	_, method := ParseMethod("tee")
	_, agitation := ParseAgitation("stired")
	_, separation := ParseSeparation("drian")
	cases := []struct {
		err              error
		mention, meaning string
	}{
		{form, `form "crushd"`, "crushed"}, {method, `method "tee"`, "tea"},
		{agitation, `agitation "stired"`, "stirred"}, {separation, `separation "drian"`, "drained"},
	}
	for _, c := range cases {
		var refused *inputError
		if !errors.As(c.err, &refused) || !strings.Contains(refused.Message, c.mention) ||
			!strings.Contains(refused.Hint, c.meaning) {
			t.Errorf("error %v, want %s with a hint at %s", c.err, c.mention, c.meaning)
		}
	}
	_, far := FormFor(FormWords{Word: "granite"})
	var refused *inputError
	if !errors.As(far, &refused) || !strings.HasPrefix(refused.Hint, "use one of whole, cut") {
		t.Errorf("granite: %v, want the list of forms", far)
	}
}

func TestNamesOutsideTheTables(t *testing.T) {
	names := []string{Form(99).String(), Method(-1).String(), Separation(9).String(), Class(9).String(),
		origin(9).String()}
	if slices.ContainsFunc(names, func(n string) bool { return n != "unknown" }) {
		t.Errorf("%q, want unknown throughout", names)
	}
}

// The rate factors and ceilings of sections 2 and 4: g by word, heat and bag; u
// and s_solv at and between the tabulated strengths (by hand).
func TestFactors(t *testing.T) {
	for _, c := range []struct {
		a     Agitation
		tempC float64
		bag   bool
		want  float64
	}{{Stirred, 4, false, 1}, {rollingBoil, 100, false, 1}, {NowAndThen, 90, false, 0.7}, {Still, 90, false, 0.5},
		{Still, 20, false, 0.1}, {unstated, 20, true, 0.05}, {Stirred, 20, true, 0.5}} {
		if got := c.a.rateFactor(c.tempC, c.bag); !near(got, c.want, 1e-12) {
			t.Errorf("%d at %v C, bag %v: %v, want %v", c.a, c.tempC, c.bag, got, c.want)
		}
	}
	for _, c := range []struct{ abv, resin, solvent float64 }{{0, 0.05, 1}, {5, 0.05, 0.83}, {8, 0.05, 0.75},
		{25, 0.3375, 0.4725}, {40, 0.60, 0.36}, {70, 0.95, 0.405}, {95, 1, 0.7}} {
		if u, s := Resin.Ceiling(c.abv), solventRateFactor(c.abv); !near(u, c.resin, 1e-12) || !near(s, c.solvent, 1e-12) {
			t.Errorf("%v %% vol: u %v, s %v, want %v and %v", c.abv, u, s, c.resin, c.solvent)
		}
	}
}

package trials

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestTasterNames(t *testing.T) {
	for text, want := range map[string]string{"A": "A", "  Taster \t A ": "Taster A", "Ángel": "Ángel"} {
		if got, err := TasterName(text); err != nil || got != want {
			t.Errorf("%q is %q, %v", text, got, err)
		}
	}
	for _, bad := range []string{"\u200b", "A\u202eB", "A\x1b[2J", "A\x00", "", "  ", "a,b", "a;b", "a=b", `a"b`,
		strings.Repeat("x", 41)} {
		if got, err := TasterName(bad); CodeOf(err) != Invalid || err == nil {
			t.Errorf("%q was taken as %q", bad, got)
		}
	}
}

// Two names of one person: where both scored the same cell, the score of the
// name that stays counts; everything else moves, notes too.
func TestMergeTasters(t *testing.T) {
	a, b := Taster{Record: Record{ID: "a", Name: "A"}}, Taster{Record: Record{ID: "b", Name: "Taster B"}}
	n := &Notebook{
		Tasters: []Taster{a, b},
		Scores: []Score{
			{ID: "1", ServingID: "s1", TasterID: "a", Attribute: "floral"},
			{ID: "2", ServingID: "s1", TasterID: "b", Attribute: "floral"},
			{ID: "3", ServingID: "s1", TasterID: "b", Attribute: Overall},
			{ID: "4", ServingID: "s2", TasterID: "b", Attribute: "floral"},
			{ID: "5", ServingID: "s2", TasterID: "c", Attribute: "floral"},
		},
		TasterNotes: []TasterNote{{ID: "6", TasterID: "b"}, {ID: "7", TasterID: "c"}},
	}
	m := n.MergeTasters(b, a)
	if len(m.Dropped) != 1 || m.Dropped[0].ID != "2" {
		t.Errorf("dropped %+v", m.Dropped)
	}
	if len(m.Moved) != 2 || m.Moved[0].ID != "3" || m.Moved[1].ID != "4" || m.Moved[0].TasterID != "a" ||
		m.Moved[1].TasterID != "a" {
		t.Errorf("moved %+v", m.Moved)
	}
	if len(m.Notes) != 1 || m.Notes[0].ID != "6" || m.Notes[0].TasterID != "a" {
		t.Errorf("notes %+v", m.Notes)
	}
	if n.Scores[2].TasterID != "b" || n.TasterNotes[0].TasterID != "b" {
		t.Error("the notebook itself was changed")
	}
}

// Two names are one taster where strings.EqualFold, the reference, says so;
// the letters have forms of several cases (the sign of Kelvin is a K).
func TestCaselessNamesAreThoseThatFoldEqual(t *testing.T) {
	names := rapid.StringOfN(rapid.SampledFrom([]rune("kKKsSſåÅÅ1 ")), 0, 3, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b := names.Draw(t, "a"), names.Draw(t, "b")
		if (caseless(a) == caseless(b)) != strings.EqualFold(a, b) {
			t.Fatalf("%q and %q: %q, %q", a, b, caseless(a), caseless(b))
		}
	})
}

package steeps

import (
	"testing"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// The kinds of plants as the note to the built-in tables maps them: some by name,
// the others by their tissue, seed by whether it is crushed; every material of the
// catalogue that holds liquid has one.
func TestKindsOfTheCatalogue(t *testing.T) {
	materials := shipped(t)
	for _, c := range []struct {
		key    string
		form   extraction.Form
		leftIn bool
		want   extraction.Kind
	}{
		{"heather", extraction.Cut, false, extraction.LeafFlower}, {"linden", extraction.Cut, false, extraction.Swelling},
		{"coriander-seed", extraction.WholeHard, false, extraction.SeedWhole},
		{"coriander-seed", extraction.Crushed, false, extraction.SeedCrushed},
		{"vanilla", extraction.Cut, false, extraction.Bark}, {"cacao-nib", extraction.Crushed, false, extraction.Nib},
		{"raspberry", extraction.Frozen, false, extraction.Fruit}, {"heather", extraction.Powder, true, extraction.Settled},
		{"heather", extraction.Powder, false, extraction.LeafFlower},
	} {
		m, ok := materials.Get(c.key)
		if !ok {
			t.Fatalf("%s is not in the catalogue", c.key)
		}
		if got := kindOf(m, c.form, c.leftIn); got != c.want {
			t.Errorf("%s, %v, left in %v, is %v, want %v", c.key, c.form, c.leftIn, got, c.want)
		}
	}
	for _, m := range materials.All() {
		if k := kindOf(m, extraction.Cut, false); k == extraction.UnknownKind && m.Kind != "dissolves" {
			t.Errorf("%s, a %q, is of no kind", m.Key, m.Kind)
		}
	}
}

// Sugar and syrup dissolve: when they are said to be out they take no beer along.
func TestWhatDissolvesHoldsNothing(t *testing.T) {
	for key, holds := range map[string]bool{"jaggery": false, "honey": false, "heather": true} {
		a := steeped(t, SteepRequest{Material: key, Form: "whole", Method: trials.MethodContact, MassG: 500, IntoL: 10,
			Treatments: []Treatment{{Minutes: 3 * 24 * 60}}})
		if got := a.Books.HeldL > 0; got != holds || a.Books.MixL <= 10 {
			t.Errorf("%s keeps %.3f of %.3f L", key, a.Books.HeldL, a.Books.MixL)
		}
	}
}

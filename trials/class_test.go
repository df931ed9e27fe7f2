package trials

import "testing"

// An attribute is a taste of a family by any of its words; words that say nothing of
// one are of none. Which taste is which is common knowledge of tasting.
func TestFamilyOf(t *testing.T) {
	for word, want := range map[string]string{"tartness": "acid", "Floral aroma": "aroma", "astringency": "tannin",
		"citrus": "aroma", "spice": "aroma", "colour": "colour", "bitterness": "small", "body": "", "balance": "", "": ""} {
		if got := FamilyOf(word); got != want {
			t.Errorf("%q is of %q, want %q", word, got, want)
		}
	}
}

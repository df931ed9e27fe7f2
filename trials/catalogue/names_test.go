package catalogue

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// keysOf returns the keys of materials.
func keysOf(list []Material) []string {
	keys := make([]string, 0, len(list))
	for _, m := range list {
		keys = append(keys, m.Key)
	}
	return keys
}

func TestLookup(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		name string
		want string // keys, separated by spaces
	}{
		{"rowan-berry", "rowan-berry"},
		{"Rowan Berries", "rowan-berry"},
		{"rowanberry", "rowan-berry"},
		{"ROWAN_BERRY", "rowan-berry"},
		{"raspberries", "raspberry"},
		{"roselle", "hibiscus"},
		{"Hibiscus sabdariffa", "hibiscus"},
		{"Rosmarinus officinalis", "rosemary"}, // the older name, in brackets
		{"Salvia rosmarinus", "rosemary"},
		{"Citrus sinensis", "orange-zest sweet-orange-peel"}, // written with an x in the table
		{"haw", "hawthorn-berry"},
		{"earl grey", "black-tea"},
		{"St. John\u2019s wort", "st-johns-wort"},
		{"sweet gale", "bog-myrtle"},
		{"treacle", "molasses"},
		{"damson", "plum"},
		{"ginger", "ginger-dried ginger-fresh"},
		{"Ginger, fresh", "ginger-fresh"},
		{"Zingiber officinale", "ginger-dried ginger-fresh"},
		{"Juniperus communis", "juniper-berry juniper-branch"},
		{"coriander", "coriander-seed"},
		{"cinnamon", "cassia cinnamon-ceylon"},
		{"orange", "bitter-orange-peel orange-zest sweet-orange-peel"},
		{"tea", "black-tea green-tea labrador-tea"},
		{"lime", ""}, // the fruit is not in the catalogue, and linden is another plant
		{"fresh", ""},
		{"root", ""},
		{"hops", ""},
		{"", ""},
		{" - ", ""},
	} {
		got := strings.Join(keysOf(c.Lookup(tc.name)), " ")
		if got != tc.want {
			t.Errorf("Lookup(%q) = %q, want %q", tc.name, got, tc.want)
		}
	}
}

func TestLookupFindsEveryKeyAndName(t *testing.T) {
	c := mustLoad(t)
	for _, m := range c.All() {
		if got := keysOf(c.Lookup(m.Key)); !slices.Equal(got, []string{m.Key}) {
			t.Errorf("Lookup(%q) = %q", m.Key, got)
		}
		for _, name := range []string{m.CommonName, m.BotanicalName} {
			if name != "" && !slices.Contains(keysOf(c.Lookup(name)), m.Key) {
				t.Errorf("Lookup(%q) does not find %s", name, m.Key)
			}
		}
	}
}

// However a key is written, it means the same material.
func TestLookupIgnoresCaseAndHyphens(t *testing.T) {
	c := mustLoad(t)
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(c.materials).Draw(t, "material")
		join := rapid.SampledFrom([]string{"-", " ", "_", "  ", ""}).Draw(t, "join")
		name := strings.ReplaceAll(m.Key, "-", join)
		if rapid.Bool().Draw(t, "upper") {
			name = strings.ToUpper(name)
		}
		if !slices.Contains(keysOf(c.Lookup(name)), m.Key) {
			t.Fatalf("Lookup(%q) does not find %s", name, m.Key)
		}
	})
}

func TestSuggest(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct {
		name string
		want string // keys, the nearest first
	}{
		{"hibicus", "hibiscus"},
		{"corriander", "coriander-seed"},
		{"chili", "chilli"},
		{"camomile", "chamomile"},
		{"elderflwr", "elderflower"},
		{"lemmon", "lemon-balm lemon-zest"},
		{"mint", "peppermint spearmint"},
		{"elder", "elderberry elderflower"},
		{"rowanbery", "rowan-berry"},
		{"xyz", ""},
		{"a", ""},
		{"", ""},
	} {
		if got := strings.Join(c.Suggest(tc.name), " "); got != tc.want {
			t.Errorf("Suggest(%q) = %q, want %q", tc.name, got, tc.want)
		}
	}
	if got := c.Suggest("berry"); len(got) > mostSuggestions {
		t.Errorf("%d suggestions", len(got))
	}
}

// A key with one letter left out is still guessed.
func TestSuggestMendsALostLetter(t *testing.T) {
	c := mustLoad(t)
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(c.materials).Draw(t, "material")
		if len(m.Key) < 6 {
			t.Skip("a short key may become another word")
		}
		i := rapid.IntRange(0, len(m.Key)-1).Draw(t, "letter")
		name := m.Key[:i] + m.Key[i+1:]
		if !slices.Contains(c.Suggest(name), m.Key) {
			t.Fatalf("Suggest(%q) = %q, without %s", name, c.Suggest(name), m.Key)
		}
	})
}

func TestSingular(t *testing.T) {
	for _, tc := range []struct{ plural, want string }{
		{"pods", "pod"},
		{"berries", "berry"},
		{"cherries", "cherry"},
		{"calamus", "calamus"},
		{"officinalis", "officinalis"},
		{"lemongrass", "lemongrass"},
		{"gas", "gas"},
	} {
		if got := singular(tc.plural); got != tc.want {
			t.Errorf("singular(%q) = %q, want %q", tc.plural, got, tc.want)
		}
	}
}

package evenings

import (
	"slices"
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// offeredWords are attributes to score by category of material: words that
// brewers use of beer (common practice, no source). The first names what the
// material is put in for, the last is what too much of it brings.
var offeredWords = map[string][]string{
	"fruit":            {"fruity", "tartness", "sweetness", "astringency"},
	"flower":           {"floral", "herbal", "bitterness", "astringency"},
	"leaf herb":        {"herbal", "fresh", "bitterness", "astringency"},
	"seed spice":       {"spicy", "citrus", "warming", "harshness"},
	"root":             {"earthy", "spicy", "bitterness", "harshness"},
	"bark-wood":        {"woody", "vanilla", "bitterness", "astringency"},
	"peel":             {"citrus", "fruity", "bitterness", "harshness"},
	"tea-coffee-cacao": {"roasty", "aroma", "bitterness", "astringency"},
	"sweet":            {"aroma", "sweetness", "body", "warming"},
}

// otherWords are offered for a material of no known category.
var otherWords = []string{"aroma", "flavour", "bitterness", "astringency"}

// OfferedAttributes are words to score a material by.
func OfferedAttributes(m trials.Material) []string {
	if words, ok := offeredWords[m.Category]; ok {
		return slices.Clone(words)
	}
	return slices.Clone(otherWords)
}

// OfferedFor collects the words for everything that went into some batches.
func OfferedFor(n *trials.Notebook, batches []trials.Batch) []string {
	materials, err := n.Catalogue()
	// words are an offer only: without a catalogue the tasting is set up all the same
	if err != nil {
		return nil
	}
	var list []string
	for _, b := range batches {
		for _, key := range ledger.MaterialsOf(n, b) {
			m, _ := materials.Get(key)
			for _, w := range OfferedAttributes(m) {
				if !slices.Contains(list, w) {
					list = append(list, w)
				}
			}
		}
	}
	if list == nil {
		return slices.Clone(otherWords)
	}
	return list
}

// OfferedHint is a hint that offers attributes.
func OfferedHint(words []string) string {
	return "add --attribute " + words[0] + "; offered here: " + strings.Join(words, ", ")
}

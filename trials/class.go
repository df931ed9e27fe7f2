package trials

import (
	"slices"
	"strings"
)

// ClassCount is how many solute classes there are.
const ClassCount = 7

// ClassNames are the words of the solute classes, by index: those that a dose is shown
// for first, then the families that the water class is made of.
var ClassNames = [ClassCount]string{"water", "aroma", "resin", "colour", "acid", "small", "tannin"}

// ShownClasses are the classes that a dose is shown for unless another is asked for:
// the first of ClassNames.
const ShownClasses = 3

// ClassIndex is the solute class that counts for a material: its own, or water.
func ClassIndex(m Material) int {
	return max(slices.Index(ClassNames[:], m.Class), 0)
}

// families are the words that panels use, by the family that tastes of them.
var families = map[string][]string{
	"acid":   {"tart", "tartness", "sour", "sourness", "acid", "acidity", "sweet", "sweetness"},
	"tannin": {"astringent", "astringency", "drying", "dryness", "tannin", "grip"},
	"aroma": {"aroma", "smell", "floral", "flower", "citrus", "spice", "spicy", "spiciness", "herbal", "fruity", "minty",
		"perfume", "perfumed"},
	"colour": {"colour", "color", "red", "redness"},
	"small":  {"bitter", "bitterness"},
}

// FamilyOf returns the solute family that an attribute is a taste of, by any of its
// words: "floral aroma", "tartness". It is empty where none is known.
func FamilyOf(attribute string) string {
	for _, word := range strings.FieldsFunc(strings.ToLower(attribute),
		func(r rune) bool { return r == ' ' || r == '-' }) {
		for _, family := range ClassNames {
			if slices.Contains(families[family], word) {
				return family
			}
		}
	}
	return ""
}

package quantity

import (
	"slices"
	"strings"
)

// unconvertible are the words for amounts whose weight nobody knows, with what
// to measure instead. They are the ones that people use in advice; a word that
// is missing here is refused as an unknown unit, which is less helpful but no
// less safe.
var unconvertible = []struct {
	words []string
	what  string
	hint  string
}{
	{[]string{"head", "heads", "umbel", "umbels", "flower", "flowers", "blossom", "blossoms", "bloom", "blooms"},
		"flower heads have no fixed weight", "strip the flowers from their stalks, weigh them and write grams"},
	{[]string{"handful", "handfuls", "armful", "armfuls", "bag", "bags", "bunch", "bunches", "sprig", "sprigs", "basket",
		"baskets", "bucket", "buckets", "pinch", "pinches", "dash", "scoop", "scoops", "jar", "jars"},
		"it has no fixed weight", "weigh it and write grams or ounces"},
	{[]string{"cube", "cubes", "spiral", "spirals", "stave", "staves", "inch", "inches", "sq", "square"},
		"wood by pieces or surface cannot be turned into a weight without its density", "weigh the wood and write grams"},
	{[]string{"bean", "beans", "stick", "sticks", "nut", "nuts", "nutmeg", "nutmegs", "pod", "pods", "clove", "cloves",
		"quill", "quills", "zest", "peel", "piece", "pieces", "each",
		"leaf", "leaves", "berry", "berries", "orange", "oranges", "lemon", "lemons", "lime", "limes", "grapefruit",
		"grapefruits", "fruit", "fruits", "chilli", "chillies", "chili", "chilies", "star", "stars", "root", "roots",
		"cone", "cones", "needle", "needles"},
		"pieces differ in weight",
		"weigh the pieces and write grams, or add the weight in brackets: 2 sticks (6 g) per 5 gal"},
}

// countless returns the error for the words at which r stands, up to a word
// such as "per" or a number, if one of them is an amount whose weight nobody
// knows.
func (r *reader) countless() error {
	for i := 0; ; i++ {
		t := r.peekAt(i)
		// what stands behind a number is another amount
		if t.kind != wordToken {
			return nil
		}
		for _, u := range unconvertible {
			if slices.Contains(u.words, lastPart(t.text)) {
				return r.fail(u.hint, "%s", u.what)
			}
		}
		if slices.Contains(perWords, t.text) {
			return nil
		}
	}
}

// isCountless reports whether word is an amount whose weight nobody knows.
func isCountless(word string) bool {
	for _, u := range unconvertible {
		if slices.Contains(u.words, lastPart(word)) {
			return true
		}
	}
	return false
}

// lastPart returns what follows the last hyphen of a word.
func lastPart(word string) string { return word[strings.LastIndex(word, "-")+1:] }

// noUnit returns the error for a number that no known unit follows.
func (r *reader) noUnit(example string) error {
	if err := r.countless(); err != nil {
		return err
	}
	t := r.peek()
	if t.kind == markToken && t.text == "-" && r.peekAt(1).kind == numberToken {
		return r.fail("write one number, and how sure it is as a limit: 12L+-0.5L", "a range is not one amount")
	}
	if t.kind != wordToken {
		return r.fail("write it with its unit, such as "+example, "the number has no unit")
	}
	return r.fail(didYouMean(t.text, unitNames(), "write it as "+example), "unknown unit %q", t.text)
}

// liquidForDry is the error for a volume where a weight of a dry material is
// needed.
func (r *reader) liquidForDry(u unit) error {
	if u.name == "fl oz" {
		return r.fail("weigh it and write oz (a mass) or grams",
			"fluid ounces measure a liquid, not the weight of a material")
	}
	return r.fail("weigh it and write grams or ounces", "%s is a volume: what it weighs depends on cutting and packing",
		u.name)
}

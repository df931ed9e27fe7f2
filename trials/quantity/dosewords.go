package quantity

import (
	"slices"
	"strings"
)

// perWords stand between the amount of a dose and the volume it is for. "To" is
// also the middle of a range and "in" also an inch; what follows decides.
var perWords = []string{"per", "in", "into", "for", "to", "each"}

// plainWords may stand in a dose and change nothing: the form of the material,
// its part, and words for the beer. The form matters for the effect but not for
// the grams, and is asked for elsewhere.
var plainWords = []string{
	"of", "the", "and", "whole", "cut", "crushed", "cracked", "ground", "powder", "powdered", "chopped", "sliced",
	"grated", "shredded",
	"frozen", "loose", "loosely", "packed", "level", "leaf", "leaves", "flower", "flowers", "petals", "seed", "seeds",
	"root", "berries",
	"batch", "brew", "beer", "wort", "mead", "must", "cider", "finished", "kit", "size",
}

// changingWords could change an amount in a way that is not read: none of them is
// passed over.
var changingWords = []string{"not", "no", "twice", "double", "triple", "heaped", "heaping", "rounded", "scant",
	"generous",
	"bit", "more", "less", "plus", "minus", "times", "without"}

// changes refuses a word that could change the amount: one of changingWords, and
// a number word where no number is due.
func (d *doseReader) changes(word string) error {
	// what has no weight, such as the zest of one orange, is refused for that
	number := d.unknown == nil && word != "a" && word != "an" && isNumberWord(word)
	if !number && !slices.Contains(changingWords, word) {
		return nil
	}
	return d.fail("write the amount in figures, such as 1.5 oz per 5 gal", "%q could change the amount and is not read",
		word)
}

// basis notes a word that says fresh or dry, and reports whether it was one.
func (d *doseReader) basis(word string) (bool, error) {
	said := ""
	switch word {
	case "fresh", "undried":
		said = basisFresh
	case "dry", "dried":
		said = basisDry
	default:
		return false, nil
	}
	if d.dose.BasisWord != "" && d.dose.BasisWord != said {
		return true, d.fail("enter the fresh and the dried amount on their own", "it says both fresh and dry")
	}
	d.dose.BasisWord = said
	return true, nil
}

// wordOn steps over one word: a basis, a plain word, or one that is not used. A
// unit without its number is refused.
func (d *doseReader) wordOn() error {
	word := d.peek().text
	if d.unknown == nil && isUnitWord(word) {
		return d.unexpected("write it as " + d.example)
	}
	if err := d.changes(word); err != nil {
		return err
	}
	d.at++
	if isBasis, err := d.basis(word); isBasis || err != nil {
		return err
	}
	// the name of the material that was asked for is no word left out
	material := strings.Fields(strings.ToLower(d.opt.Spoons.Material))
	if !slices.Contains(plainWords, word) && !slices.Contains(material, word) && !isCountless(word) {
		d.ignored = append(d.ignored, word)
	}
	return nil
}

// between reads the words and brackets between the amount and the volume.
func (d *doseReader) between() error {
	for !d.done() && !d.atPer() {
		t := d.peek()
		var err error
		switch {
		case t.kind == markToken && t.text == "(":
			err = d.weightInBrackets()
		case t.kind == numberToken && d.unknown != nil:
			// that the first amount has no weight says more than that there are two
			err = d.unknown
		case t.kind == numberToken:
			err = d.twoAmounts()
		case t.kind == wordToken:
			err = d.wordOn()
		case t.text == "," || t.text == "-":
			d.at++
		default:
			err = d.unexpected("write a dose such as 1.5 g/L or 1 oz per 5 gal")
		}
		if err != nil {
			return err
		}
	}
	return d.unknown
}

// atPer reports whether the volume of the dose begins here; "an ounce a gallon"
// has no "per", so an article before a volume counts as one.
func (d *doseReader) atPer() bool {
	t := d.peek()
	if t.kind == markToken {
		return t.text == "/"
	}
	if d.atWord("a", "an") {
		// tried and put back: only a unit behind it tells this article from that of "a handful"
		mark, assumed := d.at, len(d.assumed)
		d.at++
		u, err := d.unit()
		d.at, d.assumed = mark, d.assumed[:assumed]
		return err == nil && u.dim == volume
	}
	return d.atWord(perWords...)
}

// weightInBrackets reads "(5 g)", "(about 3 g each)" or words in brackets. A
// weight there is used in place of the amount before it.
func (d *doseReader) weightInBrackets() error {
	d.at++
	d.opening()
	if !d.atNumber() {
		return d.wordsInBrackets()
	}
	n, err := d.numbers()
	if err != nil {
		return err
	}
	u, err := d.unit()
	if err != nil {
		return err
	}
	if u.dim == mass {
		grams := n.times(u.scale)
		if d.word("each", "apiece") {
			grams = span{grams.low * d.count.low, grams.high * d.count.high, grams.isRange || d.count.isRange}
		}
		d.useBrackets(grams)
	}
	return d.wordsInBrackets()
}

// useBrackets takes the grams from brackets, and warns if they differ much from
// the weight before them.
func (d *doseReader) useBrackets(grams span) {
	const alike = 1.15 // rounding of kitchen figures; common practice, no source
	if d.unknown == nil && (grams.high > d.grams.high*alike || grams.high < d.grams.high/alike) {
		d.warn("the weight in brackets differs from the amount before it (%s g)", digits3(d.grams.high))
	}
	// a ppm before the brackets was complete; the weight in them has its volume still to come
	d.grams, d.unknown, d.complete, d.litres = grams, nil, false, span{}
	d.assumed = nil
	d.assume("the weight in brackets is used, " + digits3(grams.high) + " g")
}

// wordsInBrackets steps over words up to the closing bracket.
func (d *doseReader) wordsInBrackets() error {
	for !d.done() {
		switch t := d.peek(); {
		case d.mark(")"):
			return nil
		case t.kind == wordToken:
			if err := d.wordOn(); err != nil {
				return err
			}
		case t.kind == markToken && t.text == ",":
			d.at++
		default:
			return d.unexpected("write only a weight or a volume in brackets, such as (5 g)")
		}
	}
	return d.fail("close the bracket", "a bracket is not closed")
}

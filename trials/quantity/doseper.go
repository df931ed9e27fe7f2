package quantity

import (
	"slices"
)

// perHint is what to write where a dose has no volume.
const perHint = "write how much beer it is for, such as per 5 gal or in 19 L"

// perVolume reads the volume of a dose: "/L", "per gallon", "in a 23 litre
// batch", "per barrel (31 US gal)".
func (d *doseReader) perVolume() error {
	// anything else behind a complete strength is remarks, which the tail reads
	if d.complete && !d.atPer() {
		return nil
	}
	if d.complete {
		return d.fail("write it as 5 ppm or as 5 mg/L", "ppm is per litre already")
	}
	if d.done() {
		return d.fail(perHint, "there is no volume of beer in it")
	}
	d.perWord()
	count := span{low: 1, high: 1}
	if d.atNumber() {
		var err error
		if count, err = d.numbers(); err != nil {
			return err
		}
	}
	u, err := d.unit()
	if err != nil {
		return err
	}
	if u.dim == volume {
		count = d.partOn(count)
	}
	switch u.dim {
	case volume:
		d.litres = count.times(u.scale)
	case mass:
		return d.fail(perHint, "%s is a mass: a dose is per volume of beer", u.name)
	default:
		return d.noVolume(u)
	}
	return d.volumeInBrackets(u)
}

// perWord steps over what stands between the amount and the number or unit of
// the volume: "per", "/", "for each", "in a batch of", "in a" before a number.
func (d *doseReader) perWord() {
	if !d.mark("/") {
		d.word(perWords...)
	}
	d.word("each", "every", "the", "whole")
	// before a unit "a" is the number one, before a number or a batch only an article
	if d.atWord("a", "an") && (isNumber(d.peekAt(1)) || d.peekAt(1).text == "batch") {
		d.at++
	}
	if d.atWord("batch") && d.peekAt(1).text == "of" {
		d.at += 2
	}
}

// noVolume is the error for a dose that is per something else than a volume.
func (d *doseReader) noVolume(u unit) error {
	switch t := d.peek(); {
	case u.dim != none:
		return d.fail(perHint, "%s is %s: a dose is per volume of beer", u.name, u.dim.name())
	case t.kind == wordToken && slices.Contains([]string{"batch", "brew", "bottle", "glass", "keg", "carboy", "serving"},
		t.text):
		return d.fail(perHint, "a %s has no fixed volume", t.text)
	case t.kind == wordToken:
		return d.fail(didYouMean(t.text, unitNames(), perHint), "unknown volume %q", t.text)
	}
	return d.fail(perHint, "there is no unit of volume in it")
}

// volumeInBrackets reads a volume given again in brackets, which settles which
// gallon or barrel was meant by the unit before.
func (d *doseReader) volumeInBrackets(before unit) error {
	if !d.mark("(") {
		return nil
	}
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
	if u.dim == volume {
		d.litres = n.times(u.scale)
		d.assumed = slices.DeleteFunc(d.assumed, func(note string) bool { return note == before.note })
		d.assume("the volume in brackets is used, " + digits3(d.litres.high) + " L")
	}
	return d.wordsInBrackets()
}

// tail reads what follows the volume: "of beer", "of tea", "dried", or words
// that are not used.
func (d *doseReader) tail() error {
	for !d.done() {
		t := d.peek()
		switch {
		case d.atTea():
			d.at++
			d.dose.PerTea = true
		case t.kind == wordToken:
			if err := d.wordOn(); err != nil {
				return err
			}
		case t.kind == numberToken:
			if err := d.lateNumber(); err != nil {
				return err
			}
		case t.text == "(" || t.text == ")" || t.text == "," || t.text == "-":
			d.at++
		default:
			return d.unexpected("write a dose such as 1.5 g/L or 1 oz per 5 gal")
		}
	}
	return nil
}

// atTea reports whether r stands at a liquid that is not beer. Tea may also be
// the material, so it needs an "of": "30 g per litre of tea".
func (d *doseReader) atTea() bool {
	return d.atWord("infusion", "water", "liquor", "spirit", "vodka", "alcohol") || d.atWord("tea") &&
		d.peekAt(-1).text == "of"
}

// lateNumber steps over a time or temperature after the volume, such as "for 5
// days"; any other number may be a second amount and is refused.
func (d *doseReader) lateNumber() error {
	start := d.at
	if _, err := d.numbers(); err != nil {
		return err
	}
	u, err := d.unit()
	if err != nil {
		return err
	}
	if u.dim != duration && u.dim != temperature {
		return d.twoAmounts()
	}
	// said to the reader as not used: a time can hint at another dose, which only a person sees
	for _, t := range d.tokens[start:d.at] {
		d.ignored = append(d.ignored, t.text)
	}
	return nil
}

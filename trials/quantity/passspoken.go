package quantity

import (
	"math"
	"slices"
)

// taken is what the words of a pass stand for until it is known whether a figure
// says the same: what was typed as a figure wins.
type taken struct {
	american  bool     // the volume is in the units of a country
	bare      *measure // a number without a scale, which can only be a temperature
	bareEnd   *measure // the same after "cooling to"
	tempC     *float64 // what "just off the boil" stands for
	tempWords string
	overnight bool
	cools     bool // it was let cool, to an end that nobody said
}

// What the words of a pass stand for (common practice, no source).
const (
	offTheBoilC  = 96.0      // a kettle poured a moment after it boiled: 90 to 100
	boilingC     = 98.0      // boiling water as it is poured; no rolling boil
	fridgeC      = 4.0       //
	roomC        = 20.0      //
	overnightMin = 12 * 60.0 // 8 to 16 h
	coolsPerMin  = 0.02      // Newton's law for half a litre in a jug: 96 C to 62 C in half an hour
)

// passedWords change nothing in a pass. "Cold" still needs its temperature.
var passedWords = []string{"water", "at", "for", "then", "of", "with", "in", "the", "a", "an", "and", "steeped",
	"steep",
	"infused", "muslin", "mesh", "cloth", "about", "around", "roughly", "out", "cold", "hot", "no", "sorry", "actually",
	"lightly", "it", "just"}

// isPassed reports whether word changes nothing.
func (p *passReader) isPassed(word string) bool { return slices.Contains(passedWords, word) }

// spoken reads the words that stand for a temperature, a time or a way of
// cooling, and reports whether it found one.
func (p *passReader) spoken() (bool, error) {
	switch {
	case p.phrase([]string{"off the boil", "from the kettle", "just boiled"}):
		return true, p.spokenTemp(offTheBoilC, "just off the boil")
	case p.atWord("boiling") && p.peekAt(1).text == "water":
		p.at += 2
		return true, p.spokenTemp(boilingC, "boiling water, poured on,")
	case p.word("fridge", "refrigerator", "refrigerated"):
		return true, p.spokenTemp(fridgeC, "the fridge")
	case p.phrase([]string{"room temperature", "room temp"}):
		return true, p.spokenTemp(roomC, "room temperature")
	case p.word("overnight"):
		p.taken.overnight = true
		return true, nil
	case p.atWord("not") && slices.Contains([]string{"squeezed", "pressed", "wrung"}, p.peekAt(1).text):
		p.at += 2
		return true, p.fill(passWord{nil, separation, drained})
	case p.word("cooling", "cooled", "cool") || p.phrase([]string{"let cool", "left to cool"}):
		return true, p.cooling()
	}
	return false, nil
}

// spokenTemp keeps the temperature that words stand for.
func (p *passReader) spokenTemp(c float64, words string) error {
	if p.taken.tempC != nil {
		return p.fail("write the course as 96C>60C", "there are two temperatures in it")
	}
	p.taken.tempC, p.taken.tempWords = &c, words
	return nil
}

// cooling reads on after "cooling": "to 60", "down to 60C", or nothing.
func (p *passReader) cooling() error {
	p.word("down")
	if !p.word("to") {
		p.taken.cools = true
		return nil
	}
	if p.phrase([]string{"room temperature", "room temp"}) {
		// one degree short of the room, which a jug reaches in finite time
		p.taken.bareEnd = &measure{value: roomC + 1, unit: celsius}
		return nil
	}
	m, err := p.measure()
	if err != nil {
		return err
	}
	if m.unit.dim != temperature && m.unit.dim != none {
		return p.fail("write it as 95C cooling to 60C", "it cools to %s", m.unit.dim.name())
	}
	p.taken.bareEnd = &m
	return nil
}

// celsius is the unit of a temperature whose scale is not written.
var celsius, _ = fixedUnit("c")

// fahrenheit is the other scale.
var fahrenheit, _ = fixedUnit("f")

// fixedUnit returns the unit that a word stands for everywhere.
func fixedUnit(word string) (unit, bool) {
	for _, n := range fixedUnits {
		if slices.Contains(n.words, word) {
			return n.unit, true
		}
	}
	return unit{}, false
}

// bareTemp keeps a number without unit, which can only be a temperature: its scale
// is known when all is read.
func (p *passReader) bareTemp(m measure) error {
	if m.hasHalf || p.taken.bare != nil {
		return p.noUnit("400mL, 96C or 30min")
	}
	p.taken.bare = &m
	return nil
}

// take puts what words and bare numbers stand for where no figure says it.
func (p *passReader) take() error {
	t := &p.taken
	if t.bare != nil {
		if p.hasTemp || t.tempC != nil || len(p.pass.Curve) > 0 {
			return p.fail("write its unit, such as 400mL, 96C or 30min", "%s has no unit", digits3(t.bare.value))
		}
		m, err := p.scaled(*t.bare)
		if err != nil {
			return err
		}
		if err := p.temps(m); err != nil {
			return err
		}
	}
	if t.tempC != nil && !p.hasTemp {
		p.pass.StartC, p.hasTemp = *t.tempC, true
		p.assume(t.tempWords + " is taken as " + digits3(*t.tempC) + " C")
	}
	if t.overnight && !p.hasTime {
		p.pass.Minutes, p.hasTime = overnightMin, true
		p.assume("overnight is taken as 12 h")
	}
	return p.takeEnd()
}

// takeEnd puts the end of a steep that cooled. Without an end it is worked out by
// Newton's law towards the room; it is never kept at its start.
func (p *passReader) takeEnd() error {
	t := &p.taken
	switch {
	case t.bareEnd == nil && !t.cools || !p.hasTemp || p.pass.EndC != nil || len(p.pass.Curve) > 0:
		return nil
	case t.bareEnd != nil:
		m, err := p.scaled(*t.bareEnd)
		if err != nil {
			return err
		}
		end, err := p.celsius(m)
		p.pass.EndC = &end.Value
		return err
	case p.hasTime:
		end := math.Round(roomC + (p.pass.StartC-roomC)*math.Exp(-coolsPerMin*p.pass.Minutes))
		p.pass.EndC = &end
		p.assume("cooling to about " + digits3(end) + " C by the end is taken; write " + digits3(p.pass.StartC) +
			"C>60C where it was read")
	}
	return nil
}

// scaled gives a bare temperature its scale: that of the other in the text, else
// Celsius with metric liquid, and with the liquid of a country Fahrenheit where
// Celsius cannot be.
func (p *passReader) scaled(m measure) (measure, error) {
	if m.unit.dim == temperature {
		return m, nil
	}
	scale, name := celsius, "C"
	for _, t := range p.tokens {
		if t.kind == wordToken && (t.text == "f" || t.text == "fahrenheit") {
			scale, name = fahrenheit, "F"
		}
	}
	if p.taken.american && name == "C" {
		if m.value <= 110 {
			return m, p.fail("write 80C or 175F", "the temperature %s has no scale", digits3(m.value))
		}
		scale, name = fahrenheit, "F"
	}
	m.unit = scale
	p.assume(digits3(m.value) + " is read as " + digits3(m.value) + " " + name)
	return m, nil
}

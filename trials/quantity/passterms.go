package quantity

import "hedgerow/trials/figure"

// passWord is a word that may stand in a pass.
type passWord struct {
	words []string
	set   func(p *passText) *string // the field that it fills, nil for a flag
	value string
}

// passWords are the words for stirring and parting.
var passWords = []passWord{
	{[]string{boiling, "boiled", "boil"}, agitation, boiling},
	{[]string{stirred, "stirring", "stir"}, agitation, stirred},
	{[]string{nowAndThen, "now-and-again", "sometimes"}, agitation, nowAndThen},
	{[]string{still, "unstirred"}, agitation, still},
	{[]string{drained, "drain", "strained"}, separation, drained},
	{[]string{squeezed, "squeeze", "wrung"}, separation, squeezed},
	{[]string{pressed, "press"}, separation, pressed},
}

func agitation(p *passText) *string  { return &p.Agitation }
func separation(p *passText) *string { return &p.Separation }

// passKeys are the words that a value follows.
var passKeys = []string{"recovered", "held", "spent", "sg", "brix", "water-sg", "ph", "e"}

// passWordList returns every word of a pass, for near misses.
func passWordList() []string {
	list := append([]string{"bag", "sock", "equilibrium"}, passKeys...)
	for _, w := range passWords {
		list = append(list, w.words...)
	}
	return list
}

// wordOrKey reads a word of a pass or "recovered=360mL".
func (p *passReader) wordOrKey() error {
	if handled, err := p.spoken(); handled || err != nil {
		return err
	}
	if p.isPassed(p.peek().text) {
		p.at++
		return nil
	}
	if p.word("bag", "sock", "bagged") {
		p.pass.InBag = true
		return nil
	}
	if p.word("equilibrium") {
		return p.efficient(1)
	}
	for _, w := range passWords {
		if p.word(w.words...) {
			return p.fill(w)
		}
	}
	if p.atWord(passKeys...) {
		return p.keyed()
	}
	return p.unknownWord(p.peek().text, passWordList(),
		"the words are drained, squeezed or pressed; boiling, stirred, now-and-then or still; bag; recovered=, "+
			"held=, spent=, sg=, brix=, water-sg=, ph=; equilibrium or e=")
}

// fill notes a word; two different ones for the same thing are refused, but
// "stirred now and then" is one.
func (p *passReader) fill(w passWord) error {
	field := w.set(&p.pass)
	if *field == stirred && w.value == nowAndThen {
		*field = ""
	}
	if *field != "" && *field != w.value {
		return p.fail("write one of them", "it says both %s and %s", *field, w.value)
	}
	*field = w.value
	return nil
}

// keyed reads the value of a key; the = may be left out.
func (p *passReader) keyed() error {
	key := p.peek().text
	p.at++
	p.mark("=")
	switch key {
	case "e":
		m, err := p.measure()
		if err != nil {
			return err
		}
		if m.unit.dim != none {
			return p.fail("write a share of the way to equilibrium, such as e=0.7", "the efficiency has a unit")
		}
		return p.efficient(m.base().Value)
	case "recovered":
		return p.setMeasured(&p.pass.RecoveredL, key, volume)
	case "held":
		return p.setMeasured(&p.pass.HeldL, key, volume)
	case "spent":
		return p.setMeasured(&p.pass.SpentG, key, mass)
	case "ph":
		l, err := p.acidity()
		return p.setOnce(&p.pass.TeaPH, key, l, err)
	case "brix":
		l, err := p.brix()
		return p.setOnce(&p.pass.TeaBrix, key, l, err)
	case "water-sg":
		g, err := p.gravity()
		return p.setOnce(&p.pass.WaterSG, key, g.SG, err)
	}
	g, err := p.gravity()
	return p.setOnce(&p.pass.TeaSG, key, g.SG, err)
}

// mostBrix is the end of the scale of common refractometers.
const mostBrix = 32

// brix reads what a refractometer shows.
func (p *passReader) brix() (figure.Limited, error) {
	m, err := p.measure()
	if err != nil {
		return figure.Limited{}, err
	}
	l := m.base()
	switch {
	case m.unit.dim != none || m.relative:
		return l, p.fail("write what the refractometer shows, such as brix=2.4", "the Brix has a unit")
	case !(l.Value >= 0 && l.Value <= mostBrix):
		return l, p.fail("write it as brix=2.4", "%s Brix is outside 0 to %d", digits3(l.Value), mostBrix)
	}
	return l, nil
}

// setMeasured reads a volume or mass that was measured after the steep.
func (p *passReader) setMeasured(field **figure.Limited, key string, want dimension) error {
	example := "40mL"
	if want == mass {
		example = "120g"
	}
	m, err := p.measure()
	if err != nil {
		return err
	}
	if m.unit.dim == none {
		return p.noUnit(key + "=" + example)
	}
	if m.unit.dim != want {
		return p.fail("write "+key+"="+example, "%s is %s, not %s", key, m.unit.dim.name(), want.name())
	}
	l := m.base()
	if l.Value != 0 || want == mass { // nothing may have come out, or stayed
		err = p.positive(l, key+" amount")
	}
	return p.setOnce(field, key, l, err)
}

// setOnce fills a field that may be given once.
func (p *passReader) setOnce(field **figure.Limited, key string, l figure.Limited, err error) error {
	if err != nil {
		return err
	}
	if *field != nil {
		return p.fail("write it once", "%s is given twice", key)
	}
	*field = &l
	return nil
}

// efficient notes how near a pass came to equilibrium.
func (p *passReader) efficient(e float64) error {
	switch {
	case p.pass.Efficiency != nil:
		return p.fail("write equilibrium or e=0.7 once", "it says twice how near it came to equilibrium")
	case !(e >= 0 && e <= 1):
		return p.fail("write a share from 0 to 1, such as e=0.7", "efficiency %s is outside 0 to 1", digits3(e))
	}
	p.pass.Efficiency = &e
	return nil
}

// check refuses a pass with something missing or contradictory.
func (p *passReader) check() error {
	// first, for the readings bring the temperatures and the time that are asked for below
	if err := p.finishCurve(); err != nil {
		return err
	}
	if err := p.take(); err != nil {
		return err
	}
	if p.isStage {
		return p.checkStage()
	}
	settled := p.pass.Efficiency != nil
	switch {
	case !p.hasVolume:
		return p.fail("add the liquid put in, such as 400mL", "the pass has no volume")
	case settled && p.hasTemp != p.hasTime:
		return p.fail("write both, or neither", "a pass with an efficiency has only one of temperature and time")
	case !p.hasTemp && !settled && p.pass.Agitation == boiling:
		return p.fail("add the temperature too, such as 100C, or 95C high in the hills", "the pass has no temperature")
	case !p.hasTemp && !settled:
		return p.fail("add the temperature, such as 96C, or 96C>60C if it cooled", "the pass has no temperature")
	case !p.hasTime && !settled:
		return p.fail("add how long it steeped, such as 30min", "the pass has no time")
	case p.pass.RecoveredL != nil && p.pass.HeldL != nil:
		return p.fail("write one of them, the other follows", "it gives both the recovered and the held liquid")
	case p.pass.TeaSG != nil && p.pass.TeaBrix != nil:
		return p.fail("write the one you trust more", "it gives both a gravity and a refractometer reading of the liquid")
	case p.pass.WaterSG != nil && p.pass.TeaSG == nil:
		return p.fail("add sg=1.006, what it showed in the tea", "it gives what the hydrometer shows in water alone")
	}
	return nil
}

package quantity

import (
	"strings"

	"hedgerow/trials/figure"
)

// passText is one steep, as read. What was not written is nil or empty.
type passText struct {
	VolumeL     figure.Limited      // liquid put in, litres at VolumeTempC, or at 20 C
	VolumeTempC *float64            // temperature at which VolumeL was measured: "400mL@96C"
	StartC      float64             // temperature at the start, from Curve if there is one
	HasTemp     bool                // StartC was written; only a stage and a pass with Efficiency go without
	EndC        *float64            // at the end, nil for constant
	Curve       []figure.CurvePoint // thermometer readings, in place of one or two temperatures
	Minutes     float64             // time of contact
	Agitation   string              // one of the words below
	InBag       bool                // in a bag or sock
	Separation  string              // one of the words below
	RecoveredL  *figure.Limited     // liquid that came out, litres
	HeldL       *figure.Limited     // liquid that stayed in the material, litres
	SpentG      *figure.Limited     // weighed spent material
	TeaSG       *figure.Limited     // gravity of the liquid that came out
	TeaBrix     *figure.Limited     // what a refractometer showed of it, degrees Brix
	WaterSG     *figure.Limited     // plain water by the hydrometer that read TeaSG
	TeaPH       *figure.Limited     // its pH
	// share of the way to equilibrium, 1 for "equilibrium"; it stands for temperature and time
	Efficiency  *float64
	Assumptions []string // which cup or gallon was meant
	AsWritten   string   // the text as typed
}

// The words for how a steep is stirred and how the liquid is parted from the
// material.
const (
	boiling    = "boiling"      // a rolling boil, which also drives off aroma
	stirred    = "stirred"      // all the time
	nowAndThen = "now-and-then" // stirred, but not all the time
	still      = "still"        // left alone

	drained  = "drained"  // by its own weight
	squeezed = "squeezed" // by hand
	pressed  = "pressed"  // with a screw press
)

// passExample is what hints show.
const passExample = "400mL 96C>60C 30min drained"

// ParsePass returns the pass that text gives: a volume, a temperature or a
// course of temperatures, a time, and words, in any order: "400mL 96C>60C 30min
// drained", "300mL 95C 15min squeezed", "400mL@96C 96C>80C 30min stirred
// recovered=360mL", "1L 96C@0min,89C@5min,72C@20min bag pressed".
//
// The volume is that at 20 C unless written "@96C". How the liquid was parted
// (drained, squeezed, pressed) and stirred (boiling, stirred, now-and-then,
// still) and the bag are words; what was measured afterwards is recovered= or
// held= (volumes), spent= (a mass), sg= and ph=, brix= (a refractometer) and
// water-sg= (plain water by the same hydrometer). A pass of which only is known how
// near it came to equilibrium is "400mL equilibrium drained" or "400mL e=0.7
// drained"; it may go without temperature and time.
//
// A missing volume, temperature or time is an *Error that says what to add; the
// time may be left out where a curve ends. Zero and negative amounts and an
// unknown word, with its nearest, are errors too.
func ParsePass(text string, opt Options) (passText, error) {
	return parsePass(text, opt, passReader{})
}

// parsePass reads a pass or a stage into an empty p.
func parsePass(text string, opt Options, p passReader) (passText, error) {
	r, err := newReader(text, opt, p.example())
	if err != nil {
		return passText{}, err
	}
	p.reader, p.pass = r, passText{AsWritten: strings.TrimSpace(text)}
	for !r.done() {
		if err := p.part(); err != nil {
			return passText{}, err
		}
	}
	if err := p.check(); err != nil {
		return passText{}, err
	}
	p.pass.Assumptions, p.pass.HasTemp = r.assumed, p.hasTemp
	return p.pass, nil
}

// passReader holds what is known of a pass while it is read. Zero could be a
// temperature, so what was written is remembered beside the numbers.
type passReader struct {
	*reader
	pass                        passText
	hasVolume, hasTemp, hasTime bool
	isStage                     bool // material put in itself: no liquid, nothing parted
	taken                       taken
}

// example is what hints show.
func (p *passReader) example() string {
	if p.isStage {
		return stageExample
	}
	return passExample
}

// part reads one part of a pass.
func (p *passReader) part() error {
	t := p.peek()
	switch {
	case t.kind == markToken && t.text == ",":
		p.at++
		return nil
	case t.kind == numberToken:
		return p.figure()
	case t.kind == wordToken && isNumberWord(t.text) && p.startsFigure():
		return p.figure()
	case t.kind == wordToken:
		return p.wordOrKey()
	}
	return p.unexpected("write it as " + p.example())
}

// startsFigure reports whether the number word here begins a figure: "a" does
// before a unit, as in "an hour", and not in "a muslin bag".
func (p *passReader) startsFigure() bool {
	if !p.atWord("a", "an") {
		return true
	}
	next := p.peekAt(1)
	return isNumber(next) || isUnitWord(next.text)
}

// figure reads a number with its unit; the unit says what it is. A number
// without one can only be the start of "96>60C".
func (p *passReader) figure() error {
	m, err := p.measure()
	if err != nil {
		return err
	}
	next := p.peek()
	switch {
	case next.kind == wordToken && next.text == "x" && m.unit.dim == none:
		return p.fail(`write each pass on its own: --pass "200mL 90C 10min" --pass "200mL 90C 10min"`,
			"it is %s passes in one", digits3(m.value))
	// poured on, a spoon is a volume; only dry material is weighed by it
	case m.unit.dim == volume || m.unit.dim == spoon:
		return p.liquid(m)
	case m.unit.dim == temperature && next.kind == markToken && next.text == "@":
		return p.curvePoint(m)
	case m.unit.dim == temperature, m.unit.dim == none && next.kind == markToken && next.text == ">":
		return p.temps(m)
	case m.unit.dim == duration:
		return p.time(m)
	case m.unit.dim == none && next.kind == markToken && next.text == "-":
		return p.falling(m)
	case m.unit.dim == none && (next.kind != wordToken || p.isPassed(next.text)):
		return p.bareTemp(m)
	case m.unit.dim == none:
		return p.noUnit("400mL, 96C or 30min")
	}
	return p.fail("write it as "+p.example(), "%s has no place in a pass", m.unit.dim.name())
}

// liquid notes the liquid put in, and the temperature at which it was measured.
func (p *passReader) liquid(m measure) error {
	l, _, err := p.chain(m)
	if err != nil {
		return err
	}
	if p.hasVolume {
		return p.fail("write the liquid put in once; what came out is recovered=360mL", "there are two volumes in it")
	}
	p.assume(m.unit.note)
	p.taken.american = m.unit.note != ""
	p.pass.VolumeL, p.hasVolume = l, true
	if err := p.positive(l, "volume"); err != nil || !p.mark("@") {
		return err
	}
	at, err := p.temperature()
	if err != nil {
		return err
	}
	p.pass.VolumeTempC = &at.Value
	return p.noLimit(at, "temperature")
}

// temps notes one temperature or the start and end.
func (p *passReader) temps(m measure) error {
	span, err := p.tempSpanFrom(m)
	if err != nil {
		return err
	}
	if p.hasTemp {
		return p.fail("write the course as 96C>60C, or as readings 96C@0min,89C@5min", "there are two temperatures in it")
	}
	p.pass.StartC, p.pass.EndC, p.hasTemp = span.StartC, span.EndC, true
	return p.noLimit(m.base(), "temperature")
}

// time notes how long it steeped.
func (p *passReader) time(m measure) error {
	l, err := p.minutes(m)
	if err != nil {
		return err
	}
	if p.hasTime {
		return p.fail("write the time once", "there are two times in it")
	}
	p.pass.Minutes, p.hasTime = l.Value, true
	if err := p.positive(l, "time"); err != nil {
		return err
	}
	return p.noLimit(l, "time")
}

// falling reads "92-64C" after its first number: two temperatures that fall are a
// course, and anything else with a hyphen is no one amount.
func (p *passReader) falling(first measure) error {
	p.mark("-")
	second, err := p.measure()
	if err != nil {
		return err
	}
	if second.unit.dim != temperature || second.value >= first.value {
		return p.fail("write one number, and how sure it is as a limit: 12L+-0.5L; a course of temperatures as 96C>60C",
			"a range is not one amount")
	}
	first.unit = second.unit
	if err := p.temps(first); err != nil {
		return err
	}
	end, err := p.celsius(second)
	p.pass.EndC = &end.Value
	return err
}

// noLimit refuses a limit where it would be dropped.
func (p *passReader) noLimit(l figure.Limited, what string) error {
	if !l.HasLimit {
		return nil
	}
	return p.fail("write limits with volumes, masses and gravities only", "the %s of a pass takes no limit", what)
}

// stageExample is what hints show.
const stageExample = "98C>92C 10min now-and-then"

// ParseStage returns the stage that text gives: material put into wort or beer
// itself, so a time and what else is known, in any order: "5d", "20C 5d still
// bag", "98C>92C 10min now-and-then", "98C@0min,95C@5min,92C@10min". The
// temperature may be left out.
//
// A missing time is an *Error, and so are liquid and words for parting liquid and
// material: those belong to a pass, see ParsePass.
func ParseStage(text string, opt Options) (passText, error) {
	return parsePass(text, opt, passReader{isStage: true})
}

// checkStage refuses a stage with something that belongs to a pass.
func (p *passReader) checkStage() error {
	t := &p.pass
	switch {
	case p.hasVolume || t.RecoveredL != nil || t.HeldL != nil || t.SpentG != nil || t.TeaSG != nil || t.TeaPH != nil ||
		t.TeaBrix != nil || t.WaterSG != nil:
		return p.fail("write it as "+stageExample, "material put in itself has no liquid of its own")
	case t.Separation != "":
		return p.fail("leave "+t.Separation+" out", "material put in itself is not parted from a tea")
	case !p.hasTime && t.Efficiency == nil:
		return p.fail("add how long it is in, such as 5d", "it does not say how long")
	}
	return nil
}

package quantity

import "hedgerow/trials/figure"

// ParseCurve returns the readings that text gives: "96C@0min,89C@5min,72C@20min".
// There are at least two, the first is at the start and the times increase;
// otherwise it returns an *Error.
func ParseCurve(text string) ([]figure.CurvePoint, error) {
	r, err := newReader(text, Options{}, "96C@0min,89C@5min,72C@20min")
	if err != nil {
		return nil, err
	}
	p := passReader{reader: r}
	for !r.done() {
		m, err := r.measure()
		if err != nil {
			return nil, err
		}
		if err := p.curvePoint(m); err != nil {
			return nil, err
		}
		r.mark(",")
	}
	if err := p.finishCurve(); err != nil {
		return nil, err
	}
	return p.pass.Curve, nil
}

// curvePoint reads on after the temperature of a reading.
func (p *passReader) curvePoint(m measure) error {
	const example = "write readings as 96C@0min,89C@5min,72C@20min"
	temp, err := p.celsius(m)
	if err != nil {
		return err
	}
	if !p.mark("@") {
		return p.unexpected(example)
	}
	at, err := p.measure()
	if err != nil {
		return err
	}
	l, err := p.minutes(at)
	if err != nil {
		return err
	}
	curve := p.pass.Curve
	switch {
	case temp.HasLimit || l.HasLimit:
		return p.fail(example, "a reading takes no limit")
	case l.Value < 0:
		return p.fail(example, "a time is negative")
	case len(curve) == 0 && l.Value != 0:
		return p.fail("write the first one as 96C@0min", "the first reading is not at the start")
	case len(curve) > 0 && l.Value <= curve[len(curve)-1].Minutes:
		return p.fail(example, "the times of the readings do not increase")
	}
	p.pass.Curve = append(curve, figure.CurvePoint{TempC: temp.Value, Minutes: l.Value})
	return nil
}

// finishCurve takes the temperatures of a curve, and its length if no time was
// written.
func (p *passReader) finishCurve() error {
	curve := p.pass.Curve
	if len(curve) == 0 {
		return nil
	}
	last := curve[len(curve)-1]
	switch {
	case p.hasTemp:
		return p.fail("write the course as 96C>60C, or as readings 96C@0min,89C@5min",
			"it has both readings and a course of temperatures")
	case len(curve) < 2:
		return p.fail("write at least two, such as 96C@0min,72C@20min", "there is only one reading")
	case p.hasTime && p.pass.Minutes < last.Minutes:
		return p.fail("leave the time out, or make it at least that of the last reading", "it ends before its last reading")
	}
	// nobody reads a thermometer longer than it steeps
	if !p.hasTime {
		p.pass.Minutes, p.hasTime = last.Minutes, true
	}
	p.pass.StartC, p.pass.EndC, p.hasTemp = curve[0].TempC, &last.TempC, true
	return nil
}

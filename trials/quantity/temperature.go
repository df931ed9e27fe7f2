package quantity

import (
	"fmt"
	"strings"

	"hedgerow/trials/figure"
)

// tempSpan is the temperature of a steep: constant, or falling from start to
// end.
type tempSpan struct {
	StartC float64  // at the start, C
	EndC   *float64 // nil for a constant temperature
}

// ParseTemperature returns the temperature that text gives, in degrees Celsius:
// "96C", "205F", "96 degrees C", "96C+-2C". It returns an *Error for a number
// without a scale, since 60 is a sensible temperature in either, for a limit in
// per cent, and for what checkTemp refuses.
func ParseTemperature(text string) (figure.Limited, error) {
	return parse(text, Options{}, "temperature", "96C or 205F", (*reader).temperature)
}

// ParseTempSpan returns the temperatures of a steep: "96C>60C", "96>60C",
// "205F>140F", "96C to 60C", or one temperature that is kept. It returns an
// *Error as ParseTemperature does; a limit is read but not kept.
func ParseTempSpan(text string) (tempSpan, error) {
	return parse(text, Options{}, "temperature", "96C or 96C>60C", (*reader).tempSpan)
}

// checkTemp returns an *Error unless tempC lies in figure.TempMinC to figure.TempMaxC. A value
// that would be sensible in Fahrenheit is asked about.
func checkTemp(tempC float64, asWritten string) error {
	if tempC >= figure.TempMinC && tempC <= figure.TempMaxC {
		return nil
	}
	hint := "check the number and its scale, such as 96C or 205F"
	// 230 F is 110 C, the hottest that is allowed
	if tempC > figure.TempMaxC && tempC <= 230 && !strings.ContainsAny(asWritten, "fF") {
		hint = fmt.Sprintf("did you mean %s F?", digits3(tempC))
	}
	return &Error{Value: asWritten, Problem: fmt.Sprintf("%s C is outside %g to %g C", digits3(tempC), figure.TempMinC,
		figure.TempMaxC), Hint: hint}
}

// temperature reads one temperature with its scale.
func (r *reader) temperature() (figure.Limited, error) {
	m, err := r.measure()
	if err != nil {
		return figure.Limited{}, err
	}
	return r.celsius(m)
}

// celsius checks that m is a possible temperature and returns it in Celsius,
// t(C) = (t(F) - 32) / 1.8 [4].
func (r *reader) celsius(m measure) (figure.Limited, error) {
	switch {
	case m.unit.dim == none && r.peek().kind == wordToken:
		return figure.Limited{}, r.noUnit("96C or 205F")
	case m.unit.dim == none:
		return figure.Limited{}, r.fail("write 96C or 205F", "the temperature has no scale")
	case m.unit.dim != temperature:
		return figure.Limited{}, r.fail("write a temperature such as 96C or 205F", "it is %s, not a temperature",
			m.unit.dim.name())
	case m.relative:
		return figure.Limited{}, r.fail("write it as 96C+-2C", "a temperature has no limit in %%")
	}
	l := m.base()
	return l, checkTemp(l.Value, r.text)
}

// tempSpan reads one temperature or two with > or "to" between them; a start
// without a scale has that of the end.
func (r *reader) tempSpan() (tempSpan, error) {
	first, err := r.measure()
	if err != nil {
		return tempSpan{}, err
	}
	return r.tempSpanFrom(first)
}

// tempSpanFrom reads on after the first number of a span. A span may also rise:
// a cold steep that warms up on the bench.
func (r *reader) tempSpanFrom(first measure) (tempSpan, error) {
	var second *measure
	if r.mark(">") || r.word("to") {
		m, err := r.measure()
		if err != nil {
			return tempSpan{}, err
		}
		if first.unit.dim == none {
			first.unit = m.unit
		}
		second = &m
	}
	start, err := r.celsius(first)
	if err != nil {
		return tempSpan{}, err
	}
	span := tempSpan{StartC: start.Value}
	if second != nil {
		end, err := r.celsius(*second)
		if err != nil {
			return tempSpan{}, err
		}
		span.EndC = &end.Value
	}
	return span, nil
}

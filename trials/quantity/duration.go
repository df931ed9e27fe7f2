package quantity

import "hedgerow/trials/figure"

// ParseDuration returns the minutes that text gives, above zero: "20min",
// "1h30", "1.5 h", "14h", "5d", "2 weeks", "1 d 12 h". A plain m is a minute; a
// month has no fixed length and is an *Error, as is a number without unit.
func ParseDuration(text string) (figure.Limited, error) {
	return parse(text, Options{}, "time", "20min, 14h or 5d", (*reader).duration)
}

// duration reads a time above zero.
func (r *reader) duration() (figure.Limited, error) {
	r.word("for", "about", "around", "roughly")
	m, err := r.measure()
	if err != nil {
		return figure.Limited{}, err
	}
	l, err := r.minutes(m)
	if err != nil {
		return figure.Limited{}, err
	}
	return l, r.positive(l, "time")
}

// minutes reads on after the first number of a time, of which it may be only
// the hours: "1 h 30 min" is a chain of units, "1h30" is a way of writing it
// where the minutes have no unit but stand close to the hour.
func (r *reader) minutes(m measure) (figure.Limited, error) {
	switch {
	case m.unit.dim == none && r.peek().kind == wordToken:
		return figure.Limited{}, r.noUnit("20min, 14h or 5d")
	case m.unit.dim == none:
		return figure.Limited{}, r.fail("write 20min, 14h or 5d", "the time has no unit")
	case m.unit.dim != duration:
		return figure.Limited{}, r.fail("write a time such as 20min, 14h or 5d", "it is %s, not a time", m.unit.dim.name())
	}
	l, _, err := r.chain(m)
	if err != nil {
		return l, err
	}
	if t := r.peek(); m.unit.name == "h" && !m.hasHalf && t.isWhole() && !t.spaced && t.value < minPerHour {
		r.at++
		l.Value += t.value
	}
	return l, nil
}

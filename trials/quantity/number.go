package quantity

import "strconv"

// figures reads digits with a decimal point or comma ("1.5", "1,5"), a fraction
// ("3/4") or a mixed number ("1 1/2", "1-1/2"), and adds the token. sign is 1 or
// -1.
func (l *lexer) figures(sign float64) error {
	t := token{kind: numberToken, text: l.digits()}
	var err error
	switch c := l.look(0); {
	case (c == '.' || c == ',') && isDigit(l.look(1)):
		err = l.decimals(&t)
	case c == '/' && isDigit(l.look(1)):
		t.value, t.text, err = l.fraction(t.text)
	default:
		if t.value, err = l.float(t.text); err == nil {
			err = l.mixed(&t)
		}
	}
	if err != nil {
		return err
	}
	if sign < 0 {
		t.value, t.text = -t.value, "-"+t.text
	}
	l.add(t)
	return nil
}

// decimals reads the ".048" of "1.048" or the ",5" of "1,5"; t holds the digits
// before it. A comma before exactly three digits is noted: it may have been
// meant to group thousands, unless nothing but a zero stands before it.
func (l *lexer) decimals(t *token) error {
	mark := l.look(0)
	l.place++
	whole, frac := t.text, l.digits()
	// two marks are grouping marks, by one custom or the other: which is thousands cannot be told
	if next := l.look(0); (next == '.' || next == ',') && isDigit(l.look(1)) {
		return l.fail("write 1500 or 1.5, without grouping marks", "the number has two decimal marks")
	}
	t.comma3 = mark == ',' && len(frac) == 3 && len(whole) <= 3 && whole != "0"
	t.text = whole + string(mark) + frac
	var err error
	t.value, err = l.float(whole + "." + frac)
	return err
}

// digits reads a possibly empty run of digits.
func (l *lexer) digits() string {
	start := l.place
	for isDigit(l.look(0)) {
		l.place++
	}
	return string(l.runes[start:l.place])
}

// float converts digits with at most one point to a number within the limits of
// the package.
func (l *lexer) float(digits string) (float64, error) {
	v, err := strconv.ParseFloat(digits, 64)
	switch {
	case err != nil, v > maxNumber: // digits can only fail by being too many
		return 0, l.fail("check the number and its unit", "the number is too large")
	case v != 0 && v < minNumber:
		return 0, l.fail("check the number and its unit", "the number is too small")
	}
	return v, nil
}

// fraction reads the "/4" of "3/4"; the numerator is already read.
func (l *lexer) fraction(numerator string) (float64, string, error) {
	l.place++
	denominator := l.digits()
	text := numerator + "/" + denominator
	n, err := l.float(numerator)
	if err != nil {
		return 0, text, err
	}
	d, err := l.float(denominator)
	if err != nil {
		return 0, text, err
	}
	if d == 0 {
		return 0, text, l.fail("write a fraction such as 3/4", "the fraction %s divides by zero", text)
	}
	return n / d, text, nil
}

// mixed adds the fraction of a mixed number to t, if one follows: after white
// space, or after a hyphen. "1-1/2" cannot be a range, which would run backwards.
func (l *lexer) mixed(t *token) error {
	start := l.place
	numerator := l.mixedNumerator(t.value)
	if numerator == "" || l.look(0) != '/' || !isDigit(l.look(1)) {
		l.place = start
		return nil
	}
	f, text, err := l.fraction(numerator)
	if err != nil {
		return err
	}
	if f >= 1 || f == 0 {
		l.place = start // "2 5/4" is no mixed number; the reader will object
		return nil
	}
	t.value += f
	t.text += " " + text
	return nil
}

// mixedNumerator steps over what joins whole and its fraction and returns the
// digits behind it, "" if the two are not joined.
func (l *lexer) mixedNumerator(whole float64) string {
	if last := len(l.tokens) - 1; !l.spaced && last >= 0 && l.tokens[last].kind == wordToken {
		return "" // the 30 of "1h30 1/2 cup"
	}
	start := l.place
	if l.look(0) == '-' && whole >= 1 {
		l.place++
		return l.digits()
	}
	for l.look(0) == ' ' {
		l.place++
	}
	if l.place == start {
		return ""
	}
	return l.digits()
}

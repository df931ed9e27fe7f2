package quantity

import (
	"slices"
	"strconv"
)

// figures reads digits with a decimal point or comma, a fraction ("3/4") or a
// mixed number ("1 1/2", "1-1/2"), and adds the token.
func (l *lexer) figures(sign float64) error {
	whole := l.digits()
	t := token{kind: numberToken, text: whole}
	var err error
	switch c := l.look(0); {
	case (c == '.' || c == ',') && isDigit(l.look(1)):
		l.place++
		frac := l.digits()
		t.comma3 = c == ',' && len(frac) == 3 && len(whole) <= 3 && whole != "0"
		t.text += string(c) + frac
		if next := l.look(0); (next == '.' || next == ',') && isDigit(l.look(1)) {
			return l.fail("write 1500 or 1.5, without grouping marks", "the number has two decimal marks")
		}
		t.value, err = l.float(whole + "." + frac)
	case c == '/' && isDigit(l.look(1)):
		t.value, t.text, err = l.fraction(whole)
	default:
		t.value, err = l.float(whole)
		if err == nil {
			err = l.mixed(&t)
		}
	}
	if err != nil {
		return err
	}
	t.value *= sign
	if sign < 0 {
		t.text = "-" + t.text
	}
	l.add(t)
	return nil
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
	case v > maxNumber:
		return 0, l.fail("check the number and its unit", "the number is too large")
	case err != nil:
		return 0, l.fail("write a number such as 12 or 1.5", "the number cannot be read")
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

// mixed adds the fraction of a mixed number to t, if there is one: after white
// space, or after a hyphen when a range from t to the fraction would run
// backwards.
func (l *lexer) mixed(t *token) error {
	start := l.place
	joined := l.look(0) == '-' && t.value >= 1
	if joined {
		l.place++
	}
	for l.look(0) == ' ' && !joined {
		l.place++
	}
	numerator := ""
	if l.place > start {
		numerator = l.digits()
	}
	if numerator == "" || l.look(0) != '/' || !isDigit(l.look(1)) {
		l.place = start
		return nil
	}
	f, text, err := l.fraction(numerator)
	if err != nil {
		return err
	}
	if f >= 1 || f == 0 {
		l.place = start
		return nil
	}
	t.value += f
	t.text += " " + text
	return nil
}

// countWords are the words for whole numbers, by value; fractionWords those for
// parts.
var (
	countWords    = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	fractionWords = []struct {
		names []string
		value float64
	}{
		{[]string{"half", "halves"}, 1.0 / 2},
		{[]string{"third", "thirds"}, 1.0 / 3},
		{[]string{"quarter", "quarters", "fourth", "fourths"}, 1.0 / 4},
		{[]string{"sixth", "sixths"}, 1.0 / 6},
		{[]string{"eighth", "eighths"}, 1.0 / 8},
	}
)

// isNumberWord reports whether word stands for a number or begins one.
func isNumberWord(word string) bool {
	_, part := partWord(word)
	return part || word == "a" || word == "an" || slices.Contains(countWords, word)
}

// partWord returns the value of a word such as "half".
func partWord(word string) (float64, bool) {
	for _, f := range fractionWords {
		if slices.Contains(f.names, word) {
			return f.value, true
		}
	}
	return 0, false
}

// atNumber reports whether r stands at a number in figures or words.
func (r *reader) atNumber() bool { return isNumber(r.peek()) }

// isNumber reports whether t is a number in figures or a number word.
func isNumber(t token) bool {
	return t.kind == numberToken || t.kind == wordToken && isNumberWord(t.text)
}

// number reads a number in figures or words: "12", "three quarters", "half a",
// "one and a half", "1/2 a".
func (r *reader) number() (float64, error) {
	t := r.peek()
	switch {
	case t.kind == numberToken && t.comma3:
		return 0, r.fail("write it without the comma, or with a decimal point", "%q can be read in two ways", t.text)
	case t.kind == numberToken:
		r.at++
		v := t.value
		if t.isWhole() {
			v += r.andPart()
		}
		r.article()
		return v, nil
	case t.kind == wordToken && isNumberWord(t.text):
		return r.spelled(), nil
	}
	return 0, r.noNumber()
}

// noNumber is the error for a text that has no number where one is due.
func (r *reader) noNumber() error {
	if err := r.countless(); err != nil {
		return err
	}
	t := r.peek()
	switch t.kind {
	case wordToken:
		return r.fail("write it as "+r.example, "there is no number before %q", t.text)
	case endToken:
		return r.fail("write it as "+r.example, "a number is missing at the end")
	}
	return r.fail("write it as "+r.example, "there is %q where a number is due", t.text)
}

// spelled reads a number word at which r stands.
func (r *reader) spelled() float64 {
	first := r.peek().text
	r.at++
	if v, ok := partWord(first); ok {
		r.article()
		return v
	}
	count := 1.0
	if i := slices.Index(countWords, first); i >= 0 {
		count = float64(i)
	}
	if v, ok := partWord(r.peek().text); ok {
		r.at++
		r.article()
		return count * v
	}
	return count + r.andPart()
}

// andPart reads "and a half" after a whole number and returns the part, else 0.
func (r *reader) andPart() float64 {
	if !r.atWord("and") {
		return 0
	}
	ahead := 1
	if w := r.peekAt(ahead).text; w == "a" || w == "an" || w == "one" {
		ahead++
	}
	v, ok := partWord(r.peekAt(ahead).text)
	if ok {
		r.at += ahead + 1
	}
	return v
}

// article steps over the "a" of "half a" and the "of a" of "3/4 of an".
func (r *reader) article() {
	mark := r.at
	r.word("of")
	if !r.word("a", "an") {
		r.at = mark
	}
}

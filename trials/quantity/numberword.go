package quantity

import "slices"

// countWords are the words for whole numbers, by value; fractionWords those for
// parts.
var (
	countWords = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
		"eleven", "twelve"}
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
		// below one the article belongs to the number; after a whole one it would begin something else
		if v < 1 {
			r.article() // "1/2 a teaspoon"
		}
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

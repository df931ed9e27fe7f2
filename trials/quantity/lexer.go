package quantity

import (
	"strings"
	"unicode"
)

// oneSign brings the many ways of typing a sign to one: dashes and the minus
// sign, arrows, degree signs (which say nothing that the letter behind them does
// not), narrow spaces, fractions in one character, and abbreviations with
// points. A fraction gets a space before it, so that "1½" is "1 1/2".
var oneSign = strings.NewReplacer(
	"\u2212", "-", "\u2010", "-", "\u2011", "-", "\u2013", "-", "\u2014", "-",
	"+/-", "+-", "\u00b1", "+-",
	"->", ">", "\u2192", ">",
	"\u2264", "<", "\u2044", "/",
	"\u00b0", " ", "\u00ba", " ", "\u02da", " ",
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\t", " ",
	"\u00b5", "u", "\u03bc", "u",
	"\u00bd", " 1/2", "\u00bc", " 1/4", "\u00be", " 3/4",
	"\u2153", " 1/3", "\u2154", " 2/3", "\u215b", " 1/8", "\u215c", " 3/8", "\u215d", " 5/8", "\u215e", " 7/8",
	"[", "(", "]", ")", ";", ",",
	"u.s.", "us", "u.k.", "uk", "now and then", "now-and-then",
)

// lexer splits a text into tokens.
type lexer struct {
	*reader
	runes  []rune
	place  int  // in runes
	spaced bool // white space was just read
}

// scan fills in the tokens. It returns an *Error for an empty or overlong text, a
// malformed number or a character that has no meaning here.
func (l *lexer) scan() error {
	if strings.TrimSpace(l.text) == "" {
		return l.fail("write it as "+l.example, "nothing is written")
	}
	l.runes = []rune(oneSign.Replace(strings.ToLower(l.text)))
	// refused before it is read: what long text holds is no amount
	if len(l.runes) > maxRunes {
		return l.fail("write it as "+l.example, "it is longer than %d letters", maxRunes)
	}
	for l.place < len(l.runes) {
		if err := l.step(); err != nil {
			return err
		}
	}
	if len(l.tokens) == 0 { // a lone full stop
		return l.fail("write it as "+l.example, "nothing is written")
	}
	return nil
}

// step reads one token or steps over one space.
func (l *lexer) step() error {
	c := l.look(0)
	switch {
	case unicode.IsSpace(c):
		l.place++
		l.spaced = true
		return nil
	case isDigit(c) || c == '.' && isDigit(l.look(1)):
		return l.figures(1)
	case c == '-' && l.isSign():
		l.place++
		return l.figures(-1)
	case unicode.IsLetter(c):
		l.letters()
		return nil
	}
	return l.sign(c)
}

// look returns the rune some places ahead, 0 past the end.
func (l *lexer) look(ahead int) rune {
	if i := l.place + ahead; i >= 0 && i < len(l.runes) {
		return l.runes[i]
	}
	return 0
}

// add appends a token and notes whether white space came before it.
func (l *lexer) add(t token) {
	t.spaced = l.spaced
	l.spaced = false
	l.tokens = append(l.tokens, t)
}

// isSign reports whether the hyphen at which l stands makes a number negative,
// in contrast to the hyphen of a range ("3-5", "3 -5", "3g-5g"). After a word
// the space decides: "400mL -2C" is a volume and a temperature below zero.
// a hyphen with no number behind it is a mark, whatever stands before it
func (l *lexer) isSign() bool {
	if !isDigit(l.look(1)) && (l.look(1) != '.' || !isDigit(l.look(2))) {
		return false
	}
	if len(l.tokens) == 0 {
		return true
	}
	switch last := l.tokens[len(l.tokens)-1]; last.kind {
	case wordToken:
		return l.spaced && last.text != "%"
	case markToken:
		return last.text != ")"
	}
	return false
}

// letters reads letters with hyphens and apostrophes between them, since names
// of materials are written so ("cherry-sour"). A number word before a hyphen
// ("five-gallon") is a word of its own.
func (l *lexer) letters() {
	start := l.place
	for unicode.IsLetter(l.look(0)) || (l.look(0) == '-' || l.look(0) == '\'') && unicode.IsLetter(l.look(1)) {
		l.place++
	}
	text := string(l.runes[start:l.place])
	if first, _, ok := strings.Cut(text, "-"); ok && isNumberWord(first) {
		l.place = start + len([]rune(first))
		text = first
		l.add(token{kind: wordToken, text: text})
		l.place++ // the hyphen
		l.spaced = true
		return
	}
	l.add(token{kind: wordToken, text: text})
	if l.look(0) == '.' { // the point of an abbreviation
		l.place++
	}
}

// sign reads one sign. Full stops at the end of the text and hyphens between a
// number and its unit mean nothing; a character that no amount has is refused
// here, so that nothing else has to deal with it.
func (l *lexer) sign(c rune) error {
	switch {
	case c == '%':
		l.add(token{kind: wordToken, text: "%"})
	case c == '+' && l.look(1) == '-':
		l.place++
		l.add(token{kind: markToken, text: "+-"})
	case c == '-' && l.joinsUnit(), c == '.' && l.place == len(l.runes)-1:
		l.spaced = true
	case strings.ContainsRune("/>@=()-,~<", c):
		l.add(token{kind: markToken, text: string(c)})
	default:
		return l.fail("write it as "+l.example, "%q has no meaning here", string(c))
	}
	l.place++
	return nil
}

// joinsUnit reports whether the hyphen only joins a number and its unit, as in
// "5-gallon".
func (l *lexer) joinsUnit() bool {
	return l.place > 0 && isDigit(l.look(-1)) && unicode.IsLetter(l.look(1))
}

// isDigit reports whether c is one of 0 to 9.
func isDigit(c rune) bool { return c >= '0' && c <= '9' }

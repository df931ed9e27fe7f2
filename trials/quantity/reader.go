package quantity

import (
	"slices"
	"strings"
)

// tokenKind tells the pieces of a text apart.
type tokenKind int

const (
	endToken tokenKind = iota
	numberToken
	wordToken // letters, or a single %
	markToken // punctuation: / > @ = ( ) - , ~ < and +-
)

// token is one piece of a text.
type token struct {
	kind   tokenKind
	text   string  // lower case
	value  float64 // of a number
	comma3 bool    // a number with a comma before exactly three digits
	spaced bool    // white space, or the start of the text, comes before it
}

// isWhole reports whether t is a number written as digits only.
func (t token) isWhole() bool {
	return t.kind == numberToken && strings.Trim(t.text, "0123456789") == ""
}

// reader walks over the tokens of one text and remembers what it assumed. Its
// methods step over what they understand and leave the rest; a method that
// finds nothing leaves at where it was.
type reader struct {
	text    string // as typed, for messages
	example string // what could have been typed, for hints
	opt     Options
	tokens  []token
	at      int
	assumed []string
}

// newReader splits text into tokens; example is what hints show.
func newReader(text string, opt Options, example string) (*reader, error) {
	r := &reader{text: text, example: example, opt: opt}
	l := &lexer{reader: r, spaced: true}
	return r, l.scan()
}

// parse reads the whole of text as one thing; what names it.
func parse[T any](text string, opt Options, what, example string, read func(*reader) (T, error)) (T, error) {
	var zero T
	r, err := newReader(text, opt, example)
	if err != nil {
		return zero, err
	}
	v, err := read(r)
	if err != nil {
		return zero, err
	}
	if err := r.end(what); err != nil {
		return zero, err
	}
	return v, nil
}

// peek returns the token at which r stands; peekAt looks further ahead.
func (r *reader) peek() token { return r.peekAt(0) }

func (r *reader) peekAt(ahead int) token {
	if i := r.at + ahead; i >= 0 && i < len(r.tokens) {
		return r.tokens[i]
	}
	return token{}
}

// done reports whether nothing is left.
func (r *reader) done() bool { return r.at >= len(r.tokens) }

// mark steps over the punctuation m and reports whether it was there.
func (r *reader) mark(m string) bool {
	if t := r.peek(); t.kind != markToken || t.text != m {
		return false
	}
	r.at++
	return true
}

// word steps over one of the words and reports whether it was there.
func (r *reader) word(words ...string) bool {
	if !r.atWord(words...) {
		return false
	}
	r.at++
	return true
}

// atWord reports whether r stands at one of the words.
func (r *reader) atWord(words ...string) bool {
	t := r.peek()
	return t.kind == wordToken && slices.Contains(words, t.text)
}

// assume notes an assumption once.
func (r *reader) assume(text string) {
	if text != "" && !slices.Contains(r.assumed, text) {
		r.assumed = append(r.assumed, text)
	}
}

// rest returns what is left of the text, for messages.
func (r *reader) rest() string {
	var b strings.Builder
	for i, t := range r.tokens[min(r.at, len(r.tokens)):] {
		if i > 0 && t.spaced {
			b.WriteByte(' ')
		}
		b.WriteString(t.text)
	}
	return b.String()
}

// end refuses anything that is left after what was read; what names it.
func (r *reader) end(what string) error {
	if r.done() {
		return nil
	}
	return r.fail("write only the "+what+", such as "+r.example, "%q is left over after the %s", r.rest(), what)
}

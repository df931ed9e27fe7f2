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
	kind    tokenKind
	text    string  // lower case
	value   float64 // of a number
	comma3  bool    // a number with a comma before exactly three digits
	spaced  bool    // white space, or the start of the text, comes before it
	decimal bool    // a number with a decimal point or comma
}

// reader walks over the tokens of one text and remembers what it assumed.
type reader struct {
	text    string // as typed, for messages
	opt     Options
	tokens  []token
	at      int
	assumed []string
}

// newReader splits text into tokens.
func newReader(text string, opt Options) (*reader, error) {
	tokens, err := scan(text)
	if err != nil {
		return nil, err
	}
	return &reader{text: text, opt: opt, tokens: tokens}, nil
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
func (r *reader) end(what, hint string) error {
	if r.done() {
		return nil
	}
	return r.fail(hint, "%q is left over after the %s", r.rest(), what)
}

package main

import (
	"fmt"
	"io"
	"unicode"
	"unicode/utf8"
)

// plain passes text on without what could steer a terminal or mislead a reader:
// names and notes come from people, and files from others. A control byte, or one
// that is no UTF-8, becomes U+FFFD; what has no width or turns the direction of
// writing is left out. In JSON both are escaped, so that nothing is lost.
type plain struct {
	w      io.Writer
	json   func() bool
	begun  []byte // a character of which the rest is still to come
	failed error  // the first failure to write
}

// Write implements io.Writer.
func (p *plain) Write(text []byte) (int, error) {
	out := text
	if len(p.begun) > 0 || !harmless(text) {
		out = p.cleaned(append(p.begun, text...))
	}
	if _, err := p.w.Write(out); err != nil {
		if p.failed == nil {
			p.failed = err
		}
		return 0, err
	}
	return len(text), nil
}

// end passes on what is left of a character that never came to its end.
func (p *plain) end() {
	if len(p.begun) > 0 {
		p.begun = nil
		io.WriteString(p.w, string(utf8.RuneError))
	}
}

// harmless reports whether a text is plain ASCII, as most is.
func harmless(text []byte) bool {
	for _, b := range text {
		if b >= 0x7f || b < ' ' && b != '\n' && b != '\t' {
			return false
		}
	}
	return true
}

// cleaned is the text as it may be shown; the begin of a character at its end is
// kept for later.
func (p *plain) cleaned(text []byte) []byte {
	out := make([]byte, 0, len(text)+8)
	json := p.json()
	p.begun = nil
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		if r == utf8.RuneError && size == 1 && !utf8.FullRune(text) {
			p.begun = append([]byte{}, text...)
			break
		}
		switch {
		case !steers(r):
			out = utf8.AppendRune(out, r)
		case json:
			out = appendEscaped(out, r)
		case r == '\u2028' || r == '\u2029':
			out = append(out, ' ')
		case unicode.IsControl(r):
			out = utf8.AppendRune(out, utf8.RuneError)
		}
		text = text[size:]
	}
	return out
}

// steers reports whether a character does something in place of showing something:
// controls but for line end and tab, all of format (the Unicode category Cf: joined
// and zero-width spaces, marks of direction, tags), line separators, letters that
// are blank, and the supplementary variation selectors.
func steers(r rune) bool {
	switch {
	case r == '\n' || r == '\t':
		return false
	case unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == '\u2028', r == '\u2029':
		return true
	case r == '\u115f', r == '\u1160', r == '\u3164', r == '\uffa0', r == '\u034f', r == '\u180e':
		return true
	}
	return r >= 0xe0000 && r <= 0xe0fff
}

// appendEscaped adds a character as JSON escapes it.
func appendEscaped(out []byte, r rune) []byte {
	const beyondBMP = 0x10000
	if r >= beyondBMP {
		r -= beyondBMP
		return fmt.Appendf(out, `\u%04x\u%04x`, 0xd800+r>>10, 0xdc00+r&0x3ff)
	}
	return fmt.Appendf(out, `\u%04x`, r)
}

// behind is the stream that a plain one passes on to.
func behind(stream any) any {
	if p, ok := stream.(*plain); ok {
		return p.w
	}
	return stream
}

// guard puts plain streams in the place of the output of a command; the function
// it returns puts them back and returns why the answer could not be written, nil
// if it could.
func (e *env) guard() func() error {
	stdout, stderr := e.stdout, e.stderr
	json := func() bool { return e.flags.json }
	out, said := &plain{w: stdout, json: json}, &plain{w: stderr, json: json}
	e.stdout, e.stderr = out, said
	return func() error {
		out.end()
		said.end()
		e.stdout, e.stderr = stdout, stderr
		return out.failed
	}
}

package document

import (
	"strings"
	"testing"
)

// drawn draws a document with one of the writers.
func drawn(t testing.TB, write func(*strings.Builder) error) string {
	t.Helper()
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// asText draws for a terminal of that width.
func asText(t testing.TB, d Document, width int) string {
	t.Helper()
	return drawn(t, func(b *strings.Builder) error { return WriteText(b, d, Style{Width: width}) })
}

// asMarkdown and asCSV draw a
func asMarkdown(t testing.TB, d Document) string {
	t.Helper()
	return drawn(t, func(b *strings.Builder) error { return WriteMarkdown(b, d) })
}

func asCSV(t testing.TB, d Document) string {
	t.Helper()
	return drawn(t, func(b *strings.Builder) error { return WriteCSV(b, d) })
}

// checkClean fails on any character that could steer a terminal.
func checkClean(t testing.TB, what, text string) {
	t.Helper()
	for _, r := range text {
		switch {
		case r == '\n':
		case r < 0x20, r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 &&
			r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x2028, r == 0x2029:
			t.Errorf("%s has the character %U: %q", what, r, text)
			return
		}
	}
}

// hostile is what a pasted note may hold: colours, a bell, a carriage return
// that hides what went before, eight-bit controls, an override of the writing
// direction.
const hostile = "\x1b[31mred\x1b[0m\a \rgone\x00 \u009b31m \u202eback\u202c \x7f\ttab"

package document

import (
	"fmt"
	"strings"
	"unicode"
)

// clean drops characters that could steer a terminal: a taster's note may hold
// anything. Tabs become spaces, line ends stay.
func clean(s string) string { return strings.Map(harmless, s) }

// harmless maps a character to what is shown of it, -1 for nothing.
func harmless(r rune) rune {
	switch {
	case r == '\n':
		return r
	// a blank, not nothing: two words must not grow together
	case r == '\t' || r == '\v' || r == '\f' || r == '\u2028' || r == '\u2029':
		return ' '
	case steers(r):
		return -1
	}
	return r
}

// steers reports whether a character is a control, of seven or eight bits, or
// turns the direction of writing.
func steers(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }

// oneLine is clean text on one line.
func oneLine(s string) string { return strings.Join(strings.Fields(clean(s)), " ") }

// cleaned returns the document with clean text. Only cells and titles of columns
// keep their line ends.
func (d Document) cleaned() Document {
	out := d
	for _, text := range []*string{&out.Made, &out.Over, &out.Title, &out.Lead, &out.Foot} {
		*text = oneLine(*text)
	}
	out.Remarks = mapped(d.Remarks, oneLine)
	out.Facts = make([]Fact, len(d.Facts))
	for i, f := range d.Facts {
		out.Facts[i] = Fact{Term: oneLine(f.Term), Text: oneLine(f.Text), Votes: f.Votes}
	}
	out.Sections = make([]Section, len(d.Sections))
	for i, s := range d.Sections {
		out.Sections[i] = s.cleaned()
	}
	return out
}

// cleaned returns the section with clean text.
func (s Section) cleaned() Section {
	out := s // how it is set is no text
	out.Heading, out.Side = oneLine(s.Heading), oneLine(s.Side)
	out.Paragraphs, out.Notes = mapped(s.Paragraphs, oneLine), mapped(s.Notes, oneLine)
	if s.Table != nil {
		t := s.Table.cleaned()
		out.Table = &t
	}
	return out
}

// cleaned returns the table with clean text.
func (t Table) cleaned() Table {
	out := Table{Columns: append([]Column{}, t.Columns...), Rows: make([][]string, len(t.Rows))}
	for i := range out.Columns {
		out.Columns[i].Title = clean(out.Columns[i].Title)
	}
	for i, r := range t.Rows {
		// a cell may have lines: titles of two lines and intervals under their values
		out.Rows[i] = mapped(r, clean)
	}
	return out
}

// mapped applies f to every line of a list.
func mapped(list []string, f func(string) string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = f(s)
	}
	return out
}

// escapeSteering writes what steers a terminal as \u escapes; in JSON such
// characters can only stand inside strings, where the escape means the same.
func escapeSteering(s string) string {
	// nearly every answer: none of it is copied then
	if !strings.ContainsFunc(s, func(r rune) bool { return r != '\n' && steers(r) }) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if r != '\n' && steers(r) {
			fmt.Fprintf(&b, `\u%04x`, r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

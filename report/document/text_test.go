package document

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// sample is a document with everything in it.
func sample() Document {
	return Document{Title: "Ledger of heather-1", Sections: []Section{
		{Paragraphs: []string{"One sentence that is long enough to be broken over two lines of forty."}},
		{Heading: "Steps", Table: &Table{
			Columns: []Column{{Title: "day", Right: true}, {Title: "what happened", Wrap: true},
				{Title: "% vol", Right: true}, {Title: "RE %", Right: true, Wide: true}},
			Rows: [][]string{{"0", "started: 12 L at OG 1.048", "0.0", "11.9"}, {"11", "0.6 L water", "4.72 ±0.28", "4.19"}},
		}, Notes: []string{"the strength would gain most from a better original gravity"}},
	}}
}

// Read and judged: title and headings underlined, numbers to the right, the
// text column broken to the width, notes marked and hanging, no space at the end
// of a line, the wide column left out.
func TestTextLayout(t *testing.T) {
	const want = `Ledger of heather-1
===================

One sentence that is long enough to be
broken over two lines of forty.

Steps
-----
day  what happened                 % vol
────────────────────────────────────────
  0  started: 12 L at OG             0.0
     1.048
 11  0.6 L water              4.72 ±0.28

* the strength would gain most from a
  better original gravity
`
	if got := asText(t, sample(), 40); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// At any width: no line is longer than the page as far as its words allow, and
// nothing is lost but the wide column.
func TestTextKeepsToThePage(t *testing.T) {
	for _, width := range []int{34, 40, 60, 80, 120} {
		text := asText(t, sample(), width)
		for _, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > width {
				t.Errorf("width %d: line of %d: %q", width, utf8.RuneCountInString(line), line)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("width %d: space at the end of %q", width, line)
			}
		}
		for _, word := range []string{"started:", "1.048", "4.72", "broken", "original"} {
			if !strings.Contains(text, word) {
				t.Errorf("width %d: %q is lost", width, word)
			}
		}
	}
	all := drawn(t, func(b *strings.Builder) error { return WriteText(b, sample(), Style{Width: 80, All: true}) })
	if !strings.Contains(all, "RE %") || !strings.Contains(all, "11.9") {
		t.Errorf("the wide column is not shown when asked for:\n%s", all)
	}
}

// hostileDocument has it in every place.
func hostileDocument() Document {
	return Document{Title: hostile, Sections: []Section{{Heading: hostile, Paragraphs: []string{hostile},
		Table: &Table{Columns: []Column{{Title: hostile}, {Title: "n"}},
			Rows: [][]string{{hostile, "1"}}}, Notes: []string{hostile}}}}
}

func TestControlCharactersAreStripped(t *testing.T) {
	d := hostileDocument()
	checkClean(t, "text", asText(t, d, 80))
	checkClean(t, "Markdown", drawn(t, func(b *strings.Builder) error { return WriteMarkdown(b, d) }))
	checkClean(t, "CSV", drawn(t, func(b *strings.Builder) error { return WriteCSV(b, d) }))
	checkClean(t, "JSON", drawn(t, func(b *strings.Builder) error { return WriteJSON(b, d) }))
	checkClean(t, "paragraph", Wrap(hostile, 80))
	if got := asText(t, d, 80); !strings.Contains(got, "red") || !strings.Contains(got, "gone") {
		t.Errorf("the words are lost too:\n%s", got)
	}
}

// Columns stay straight although control characters were dropped: the width
// counts what is shown.
func TestColumnsStayStraight(t *testing.T) {
	d := Document{Sections: []Section{{Table: &Table{Columns: []Column{{Title: "note"}, {Title: "n"}},
		Rows: [][]string{{"\x1b[31mred\x1b[0m", "1"}, {"plain", "2"}}}}}}
	lines := strings.Split(asText(t, d, 80), "\n")
	if strings.LastIndex(lines[2], "1") != strings.LastIndex(lines[3], "2") {
		t.Errorf("columns are not straight:\n%s", strings.Join(lines, "\n"))
	}
}

// Any text at any width is drawn, clean.
func TestAnyTextIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.String()
		d := Document{Title: word.Draw(t, "title"),
			Sections: []Section{{Heading: word.Draw(t, "heading"), Paragraphs: []string{word.Draw(t, "paragraph")},
				Table: &Table{Columns: []Column{{Title: word.Draw(t, "column"), Wrap: true}},
					Rows: [][]string{{word.Draw(t, "cell")}}}, Notes: []string{word.Draw(t, "note")}}}}
		var b strings.Builder
		if err := WriteText(&b, d, Style{Width: rapid.IntRange(1, 100).Draw(t, "width")}); err != nil {
			t.Fatal(err)
		}
		if !utf8.ValidString(b.String()) {
			t.Fatalf("%q", b.String())
		}
		for _, r := range b.String() {
			if r != '\n' && (r < 0x20 || r >= 0x7f && r < 0xa0) {
				t.Fatalf("character %U in %q", r, b.String())
			}
		}
	})
}

// The lines of a cell stay lines in a column that is wide enough for two of them.
func TestLinesOfACellStay(t *testing.T) {
	d := Document{Sections: []Section{{Table: &Table{Columns: []Column{{Title: "what to do", Wrap: true}},
		Rows: [][]string{{"not asked\nhedgerow ask"}, {"a much longer line than the others"}}}}}}
	if got := asText(t, d, 80); !strings.Contains(got, "not asked\nhedgerow ask\n") {
		t.Errorf("got\n%s", got)
	}
}

// A table of numbers that is too wide with two blanks between its columns stands with one:
// 4 columns of 19 are 82 with gaps of two and 79 with gaps of one (by hand).
func TestTightTable(t *testing.T) {
	cell := strings.Repeat("8", 19)
	d := Document{Sections: []Section{{Table: &Table{
		Columns: []Column{{Title: "a", Right: true}, {Title: "b", Right: true}, {Title: "c", Right: true},
			{Title: "d", Right: true}},
		Rows: [][]string{{cell, cell, cell, cell}}}}}}
	for line := range strings.SplitSeq(asText(t, d, 80), "\n") {
		if w := utf8.RuneCountInString(line); w > 79 {
			t.Errorf("a line of %d: %q", w, line)
		}
	}
}

// A title that says more than a line holds is broken like a paragraph, and underlined as far
// as its longest line: by hand, at 20 columns.
func TestLongTitle(t *testing.T) {
	d := Document{Title: "No dose of this plant is suggested", Sections: []Section{{Paragraphs: []string{"Why."}}}}
	if got, want := asText(t, d, 20), "No dose of this\nplant is suggested\n==================\n\nWhy.\n"; got != want {
		t.Errorf("got\n%s", got)
	}
}

// A line does not end between a number and its unit: "90" and "%)" on two lines are no reading.
func TestNumbersStayWithTheirUnits(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"between 2.1 and 3.9 g/L (90 %), within", 29, "between 2.1 and 3.9 g/L\n  (90 %), within"},
		{"between 2.1 and 3.9 g/L", 20, "between 2.1 and\n  3.9 g/L"},
		{"from 5.2 to 5.0 ±0.3 % vol.", 25, "from 5.2 to 5.0\n  ±0.3 % vol."},
		{"as 80 C falling", 5, "as\n  80 C\n  falling"},
		// a word that only looks like a unit breaks as any other
		{"give 3 Cakes", 8, "give 3\n  Cakes"},
	} {
		if got := Wrap(c.text, c.width); got != c.want {
			t.Errorf("%q at %d:\n%s\nwant:\n%s", c.text, c.width, got, c.want)
		}
	}
}

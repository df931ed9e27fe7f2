package document

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"hedgerow/report/plot"
	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// Read and judged against the GitHub Flavored Markdown specification (tables,
// section 4.10): header, rule with alignment, one line a row, all columns.
func TestMarkdownLayout(t *testing.T) {
	const want = `# Ledger of heather-1

One sentence that is long enough to be broken over two lines of forty.

## Steps

| day | what happened | % vol | RE % |
| ---: | --- | ---: | ---: |
| 0 | started: 12 L at OG 1.048 | 0.0 | 11.9 |
| 11 | 0.6 L water | 4.72 ±0.28 | 4.19 |

- the strength would gain most from a better original gravity

`
	if got := asMarkdown(t, sample()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A backslash before a punctuation character makes it text (CommonMark 2.4);
// <, > and & are written as entities (2.5).
func TestMarkdownIsEscaped(t *testing.T) {
	for text, want := range map[string]string{
		"a|b":                     `a\|b`,
		`a\|b`:                    `a\\\|b`,
		"*very* _good_":           `\*very\* \_good\_`,
		"<script>x</script>":      "&lt;script&gt;x&lt;/script&gt;",
		"[win](javascript:alert)": `\[win\](javascript:alert)`,
		"![x](http://e)":          `!\[x\](http://e)`,
		"`rm`":                    "\\`rm\\`",
		"# heading":               `\# heading`,
		"&lt;b&gt;":               "&amp;lt;b&amp;gt;",
		"~~gone~~":                `\~\~gone\~\~`,
		"4.72 ±0.28 (x/÷ 2)":      "4.72 ±0.28 (x/÷ 2)",
	} {
		if got := escapeMarkdown(text); got != want {
			t.Errorf("%q is written %q, want %q", text, got, want)
		}
	}
}

// A line end in a note cannot begin a block of its own, nor a row.
func TestMarkdownLinesStayTogether(t *testing.T) {
	text := "first\n\n# second\n| x |\n- y"
	d := Document{Title: text, Sections: []Section{{Heading: text, Paragraphs: []string{text}, Notes: []string{text},
		Table: &Table{Columns: []Column{{Title: text}}, Rows: [][]string{{text}}}}}}
	for _, line := range strings.Split(asMarkdown(t, d), "\n") {
		if line != "" && !strings.Contains(line, "first") && line != "| --- |" {
			t.Errorf("a line of its own: %q", line)
		}
	}
}

// Every cell of every row is one cell, whatever is in it: unescaped bars are
// counted as the specification does.
func TestMarkdownRowsKeepTheirColumns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.SampledFrom([]rune("ab |\\*_<>\n`[]#-\t"))).Draw(t, "cell")
		var b strings.Builder
		if err := WriteMarkdown(&b, tableOf([]string{text, "x"})); err != nil {
			t.Fatal(err)
		}
		row := strings.Split(b.String(), "\n")[2]
		bars := 0
		for i := 0; i < len(row); i++ {
			switch row[i] {
			case '\\':
				i++
			case '|':
				bars++
			}
		}
		if bars != 3 {
			t.Fatalf("%q became %q with %d bars", text, row, bars)
		}
	})
}

// The first table only, with all columns; RFC 4180 quotes; titles on one line.
func TestCSVLayout(t *testing.T) {
	d := sample()
	d.Sections[1].Table.Columns[2].Title = "% vol\nbefore"
	const want = "day,what happened,% vol before,RE %\n" +
		"0,started: 12 L at OG 1.048,0.0,11.9\n11,0.6 L water,4.72 ±0.28,4.19\n"
	if got := asCSV(t, d); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := asCSV(t, Document{Sections: []Section{{Paragraphs: []string{"nothing yet"}}}}); got != "" {
		t.Errorf("a document without a table gives %q", got)
	}
}

// Cells that a spreadsheet would run get an apostrophe (the characters are those
// of the OWASP page on CSV injection, full-width ones included), numbers do not.
func TestCSVFormulasAreDisarmed(t *testing.T) {
	cases := map[string]string{
		"=1+1": "'=1+1", "+1+1": "'+1+1", "-2+3": "'-2+3", "@SUM(A1)": "'@SUM(A1)",
		"=cmd|' /C calc'!A0": "'=cmd|' /C calc'!A0",
		"\t=1":               "'=1", "\r=1": "'=1", "\x00=1+1": "'=1+1", "\n=1+1": "'=1+1",
		" =1+1": "'=1+1", "\u202e=1": "'=1", "＝1+1": "'＝1+1", "＠x": "'＠x",
		"-1": "-1", "+0.5": "+0.5", "-0.25": "-0.25", "-": "-", "1.5": "1.5", "": "", "plain": "plain",
		"a=b": "a=b", "2026-03-01": "2026-03-01",
	}
	for cell, want := range cases {
		text := asCSV(t, tableOf([]string{cell, "x"}))
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(rows) != 2 || strings.TrimSpace(rows[1][0]) != want {
			t.Errorf("%q is written %q, want %q (%v)", cell, rows, want, err)
		}
	}
	text := asCSV(t, Document{Sections: []Section{{Table: &Table{Columns: []Column{{Title: "=HYPERLINK(1)"}},
		Rows: [][]string{{"x"}}}}}})
	if !strings.HasPrefix(text, "'=") {
		t.Errorf("a title that is a formula: %q", text)
	}
}

// Whatever is in the cells, a CSV reader gets as many rows and columns back.
func TestCSVIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cells := []string{rapid.String().Draw(t, "a"), rapid.String().Draw(t, "b")}
		var b strings.Builder
		if err := WriteCSV(&b, tableOf(cells, []string{"x", "y"})); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
		if err != nil || len(rows) != 3 || len(rows[1]) != 2 {
			t.Fatalf("%q became %q, %v", cells, rows, err)
		}
	})
}

// JSON keeps what was written, signs of markup as they are, and ends its line.
func TestJSONIsPlain(t *testing.T) {
	text := drawn(t, func(b *strings.Builder) error {
		return WriteJSON(b, map[string]any{"note": "<b> & \u009b \x7f \x1b é", "v": figure.StatedExactly(1.5)})
	})
	if !strings.HasSuffix(text, "}\n") || !strings.Contains(text, "<b> &") {
		t.Errorf("%q", text)
	}
	var back struct {
		Note string         `json:"note"`
		V    map[string]any `json:"v"`
	}
	if err := json.Unmarshal([]byte(text), &back); err != nil || back.Note != "<b> & \u009b \x7f \x1b é" {
		t.Errorf("read back %q, %v", back.Note, err)
	}
	if len(back.V) != 1 {
		t.Errorf("an estimate without interval has %v", back.V)
	}
	var b strings.Builder
	if err := WriteJSON(&b, figure.StatedExactly(math.NaN())); err == nil {
		t.Errorf("NaN was written: %q", b.String())
	}
	if b.Len() != 0 {
		t.Errorf("half an answer was written: %q", b.String())
	}
}

// tableOf is a document with a table of two columns.
func tableOf(rows ...[]string) Document {
	return Document{Sections: []Section{{Table: &Table{Columns: []Column{{Title: "a"}, {Title: "b"}}, Rows: rows}}}}
}

// By hand: a number and its unit, and the two words of a strength, stay on one line; a
// word that only looks like a unit after a word does not.
func TestBound(t *testing.T) {
	const nb = "\u00a0"
	for text, want := range map[string]string{
		"2.9 g/L next": "2.9" + nb + "g/L next", "to 4.8 % vol.": "to 4.8" + nb + "%" + nb + "vol.",
		"(6 %)": "(6" + nb + "%)", "the L line": "the L line", "": "", "10 jars": "10 jars",
	} {
		if got := bound(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

// A page draws the votes of a cell, keeps the number beside them, hides the wide columns,
// and draws a picture under its heading; a terminal draws it only when asked to.
func TestPageDraws(t *testing.T) {
	p := plot.Plot{Title: "A & B", X: plot.Axis{Low: 1, High: 10, Log: true}, Legend: "O a trial",
		Panel: []plot.Panel{{Y: plot.Axis{High: 100}, Height: 100, Points: []plot.Point{{X: 3, Y: 50, Shape: plot.Disc,
			Ink: plot.Black, Char: 'O'}}}}}
	d := Document{Title: "T", Facts: []Fact{{Term: "Votes", Votes: []int{10, 80, 10}, Text: "10, 80, 10"}},
		Sections: []Section{{Heading: "Pictures", Pictures: []Picture{{Plot: p}}},
			{Table: &Table{Columns: []Column{{Title: "trial"}, {Title: "right", Right: true, Ballot: plot.JustRight},
				{Title: "hidden", Wide: true}, {Title: "done", Wide: true, Paper: true}},
				Rows: [][]string{{"a", "3", "x9", "y9"}}}}}}
	page := drawn(t, func(b *strings.Builder) error { return WriteHTML(b, d) })
	for _, want := range []string{"<title>A &amp; B</title>", "80 just right", "</svg>3</td>", "y9"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(page, "x9") {
		t.Error("the page shows a wide column")
	}
	if text := asText(t, d, 80); strings.Contains(text, "O a trial") || strings.Contains(text, "Pictures") {
		t.Errorf("a pipe draws the picture:\n%s", text)
	}
	text := drawn(t, func(b *strings.Builder) error { return WriteText(b, d, Style{Width: 80, Pictures: true}) })
	if !strings.Contains(text, "O a trial") {
		t.Errorf("a terminal does not draw the picture:\n%s", text)
	}
	for _, line := range strings.Split(text, "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("%q is wider than the terminal", line)
		}
	}
}

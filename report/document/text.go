package document

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// comfortable is the least width that a wrapped column is squeezed to at first,
// narrowest that when the table is still wider than the page.
const comfortable, narrowest = 14, 10

// WriteText draws the document for a terminal of the style's width.
func WriteText(w io.Writer, d Document, s Style) error {
	d = d.cleaned()
	var b strings.Builder
	if d.Title != "" {
		title := wrap(d.Title, s.Width, "")
		fmt.Fprintf(&b, "%s\n%s\n", title, strings.Repeat("=", longestLine(title)))
	}
	writeFacts(&b, d, s.Width)
	for i, section := range d.Sections {
		if section.Paper || !section.tells(s) {
			continue
		}
		if i > 0 || d.Title != "" {
			b.WriteByte('\n')
		}
		writeSection(&b, section, s)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// writeFacts draws what to know at a glance, the terms in a gutter of their own.
func writeFacts(b *strings.Builder, d Document, width int) {
	for _, line := range []string{d.Made, d.Lead} {
		if line != "" {
			b.WriteString(wrap(line, width, "") + "\n")
		}
	}
	gutter := 0
	for _, f := range d.Facts {
		gutter = max(gutter, text.StringWidth(f.Term)+2)
	}
	if len(d.Facts) > 0 {
		b.WriteByte('\n')
	}
	for _, f := range d.Facts {
		lines := strings.Split(wrap(f.Text, max(width-gutter, comfortable), ""), "\n")
		fmt.Fprintf(b, "%s%s\n", text.Pad(f.Term, gutter, ' '), strings.Join(lines, "\n"+strings.Repeat(" ", gutter)))
	}
	for _, r := range d.Remarks {
		b.WriteString(wrap("* "+r, width, "  ") + "\n")
	}
}

// tells reports whether a section has anything to show in a style.
func (section Section) tells(s Style) bool {
	if len(section.Pictures) == 0 || len(section.Paragraphs) > 0 || section.Table != nil || len(section.Notes) > 0 {
		return true
	}
	return s.Pictures && slices.ContainsFunc(section.Pictures, func(p Picture) bool {
		return p.Plot.Chars(min(pictureWidth, s.Width-labelWidth)) != nil
	})
}

// pictureWidth is how many columns a picture in characters has at most, labelWidth how
// many its labels take.
const pictureWidth, labelWidth = 60, 10

// writePictures draws those pictures of a section that can be drawn in characters.
func writePictures(b *strings.Builder, section Section, width int) {
	for _, p := range section.Pictures {
		lines := p.Plot.Chars(min(pictureWidth, width-labelWidth))
		if lines == nil {
			continue
		}
		// names in it come from people
		b.WriteString(clean(strings.Join(lines, "\n")) + "\n")
		if section.Table != nil {
			b.WriteByte('\n')
		}
	}
}

// writeSection draws one section.
func writeSection(b *strings.Builder, section Section, s Style) {
	if section.Heading != "" {
		fmt.Fprintf(b, "%s\n%s\n", section.Heading, strings.Repeat("-", text.StringWidth(section.Heading)))
	}
	for _, p := range section.Paragraphs {
		b.WriteString(wrap(p, s.Width, "") + "\n")
	}
	if len(section.Pictures) > 0 && s.Pictures {
		writePictures(b, section, s.Width)
	}
	if section.Table != nil {
		if len(section.Paragraphs) > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(drawTable(section.Table.visible(s.All), s.Width) + "\n")
	}
	if len(section.Notes) > 0 && (section.Table != nil || len(section.Paragraphs) > 0) {
		b.WriteByte('\n')
	}
	if section.Short {
		b.WriteString(wrap(Capital(strings.Join(section.Notes, "; "))+".", s.Width, "") + "\n")
		return
	}
	for _, n := range section.Notes {
		b.WriteString(wrap("* "+n, s.Width, "  ") + "\n")
	}
}

// drawTable draws a table without vertical lines, no wider than the page if
// its wrapped columns allow.
func drawTable(t Table, width int) string {
	tw := table.NewWriter()
	style := table.StyleLight
	// the library writes heads in capitals, which spoils units: g/L and mL
	style.Format.Header = text.FormatDefault
	style.Options = table.Options{SeparateHeader: true}
	gap := gapFor(t, width)
	style.Box.PaddingLeft, style.Box.PaddingRight = "", strings.Repeat(" ", gap)
	tw.SetStyle(style)
	head := make(table.Row, len(t.Columns))
	for i, c := range t.Columns {
		head[i] = c.Title
	}
	tw.AppendHeader(head)
	for _, r := range t.Rows {
		row := make(table.Row, len(r))
		for i, cell := range r {
			row[i] = cell
		}
		tw.AppendRow(row)
	}
	tw.SetColumnConfigs(columnConfigs(t, width, gap))
	lines := strings.Split(tw.Render(), "\n")
	for i := range lines {
		// blanks at line ends show up in copies and comparisons of text
		lines[i] = strings.TrimRight(lines[i], " ")
		if rule := strings.TrimSuffix(lines[i], strings.Repeat("─", gap)); strings.Trim(rule, "─") == "" && rule != "" {
			lines[i] = rule // the padding of the last column needs no rule
		}
	}
	return strings.Join(lines, "\n")
}

// columnConfigs sets alignment, and the width of the wrapped columns so that
// the whole fits the page.
func columnConfigs(t Table, width, gap int) []table.ColumnConfig {
	widths := naturalWidths(t)
	fit(t, widths, width, gap)
	configs := make([]table.ColumnConfig, len(t.Columns))
	for i, c := range t.Columns {
		configs[i] = table.ColumnConfig{Number: i + 1, WidthMax: widths[i], WidthMaxEnforcer: wrapCell,
			Align: text.AlignLeft, AlignHeader: text.AlignLeft}
		if c.Right {
			configs[i].Align, configs[i].AlignHeader = text.AlignRight, text.AlignRight
		}
	}
	return configs
}

// wrapCell breaks the lines of a cell one by one: taken together, two that fit a line
// would be run into one.
func wrapCell(cell string, width int) string {
	lines := strings.Split(cell, "\n")
	for i, line := range lines {
		lines[i] = text.WrapSoft(line, width)
	}
	return strings.Join(lines, "\n")
}

// naturalWidths returns the widest line of each column.
func naturalWidths(t Table) []int {
	widths := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		widths[i] = longestLine(c.Title)
		for _, r := range t.Rows {
			widths[i] = max(widths[i], longestLine(r[i]))
		}
	}
	return widths
}

// longestLine returns the width of the longest line of a cell.
func longestLine(cell string) int { return text.LongestLineLen(cell) }

// fit narrows the wrapped columns until the table is as wide as the page or
// nothing more can be narrowed, and returns by how much it is still too wide.
func fit(t Table, widths []int, page, gap int) (excess int) {
	// the last column's gap is blank and may stand outside the page
	excess = -gap - page
	for _, w := range widths {
		excess += w + gap
	}
	for _, least := range []int{comfortable, narrowest} {
		// one column at a time, the widest first: words then break where there is most room
		for excess > 0 && narrow(t, widths, least) {
			excess--
		}
	}
	return excess
}

// gapFor is the gap between columns: two blanks, or one where the table would else be
// wider than the page, since a line that breaks is worse than one that is tight.
func gapFor(t Table, page int) int {
	if fit(t, naturalWidths(t), page, 2) > 0 {
		return 1
	}
	return 2
}

// narrow takes one off the widest wrapped column, the last of several, and
// reports whether there was one wider than least.
func narrow(t Table, widths []int, least int) bool {
	widest := -1
	for i, c := range t.Columns {
		if c.Wrap && widths[i] > least && (widest < 0 || widths[i] >= widths[widest]) {
			widest = i
		}
	}
	if widest < 0 {
		return false
	}
	widths[widest]--
	return true
}

// Wrap breaks a text into lines of at most width, the second and later ones
// indented by two spaces. A command in it can still be pasted: it stands on one line
// where it fits there, and else goes on after a backslash.
func Wrap(text string, width int) string { return WrapAfter(text, width, "  ") }

// WrapAfter is Wrap with another indent.
func WrapAfter(text string, width int, indent string) string {
	const goesOn = " \\"
	var list []string // words, and commands that fit on a line
	for _, p := range commandsIn(unbroken(clean(text))) {
		whole := strings.Join(p, " ")
		if len(p) == 1 || textWidth(indent+whole) <= width {
			list = append(list, whole)
			continue
		}
		line := ""
		for _, word := range p {
			if line != "" && textWidth(indent+line+" "+word+goesOn) > width {
				list = append(list, line+goesOn)
				line = ""
			}
			line = strings.TrimSpace(line + " " + word)
		}
		list = append(list, line)
	}
	return wrapWords(list, width, indent)
}

// commandsIn parts words into commands to type, from "hedgerow" to where the
// sentence goes on, and single words.
func commandsIn(words []string) [][]string {
	var list [][]string
	open, quoted := false, false
	for _, w := range words {
		if !open {
			list = append(list, nil)
		}
		last := len(list) - 1
		list[last] = append(list[last], w)
		open = open || strings.TrimLeft(w, "`(") == "hedgerow"
		if strings.Count(w, `"`)%2 == 1 {
			quoted = open && !quoted
		}
		open = open && (quoted || !strings.ContainsAny(w[len(w)-1:], ",;:)`"))
	}
	return list
}

// wrap breaks a paragraph into lines of at most width, the second and later
// ones indented.
func wrap(paragraph string, width int, indent string) string {
	return wrapWords(unbroken(paragraph), width, indent)
}

// textWidth counts columns, not bytes: ± and ÷ take two bytes and wide letters two
// columns.
func textWidth(s string) int { return text.StringWidth(s) }

// wrapWords is wrap of words that are not broken.
func wrapWords(words []string, width int, indent string) string {
	var lines []string
	line := ""
	for _, word := range words {
		if line != "" && textWidth(line+" "+word) > width {
			lines = append(lines, line)
			line = indent + word
			continue
		}
		if strings.TrimSpace(line) != "" {
			line += " "
		}
		line += word
	}
	return strings.Join(append(lines, line), "\n")
}

package sheets

import (
	"strings"
)

// row is one row of a sheet. Cells are as written, without the quotes round them.
type row struct {
	line  int // physical line on which it starts, from 1
	cells []string
}

// blank reports whether no cell of the row holds anything.
func (r row) blank() bool {
	for _, c := range r.cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// cell returns the cell of a column from 0, empty past the end of the row.
func (r row) cell(i int) string {
	if i < 0 || i >= len(r.cells) {
		return ""
	}
	return r.cells[i]
}

// separators are the signs that may part cells, in the order in which they win
// where several would do.
const separators = "\t;,|"

// scanner takes a text apart into rows. It is no csv.Reader: sheets have line ends
// of one lone carriage return, quotes in the middle of a cell, and rows of any
// length, and each row must know its line.
type scanner struct {
	text      string
	at, line  int
	separator byte
	open      int // line of a quote that never closes, else 0
}

// grid takes the text apart at a separator. The line of a quote that is never
// closed is returned too, else 0.
func grid(text string, separator byte) (rows []row, unclosed int) {
	s := scanner{text: text, line: 1, separator: separator}
	for s.at < len(text) {
		rows = append(rows, s.row())
	}
	return rows, s.open
}

// row reads up to the next line end that is not quoted.
func (s *scanner) row() row {
	r := row{line: s.line}
	for {
		r.cells = append(r.cells, s.cell())
		switch {
		case s.at >= len(s.text):
			return r
		case s.text[s.at] == s.separator:
			s.at++
			// a separator at the very end of the text opens one more cell
			if s.at >= len(s.text) {
				r.cells = append(r.cells, "")
				return r
			}
		default:
			s.newline()
			return r
		}
	}
}

// newline steps over CRLF, LF or CR.
func (s *scanner) newline() {
	if strings.HasPrefix(s.text[s.at:], "\r\n") {
		s.at++
	}
	s.at++
	s.line++
}

// cell reads one cell and stops at the separator, the line end or the end.
func (s *scanner) cell() string {
	start := s.at
	for s.at < len(s.text) && s.text[s.at] == ' ' {
		s.at++
	}
	// a quote anywhere else is a letter, such as the inch of a 12" spoon
	if s.at < len(s.text) && s.text[s.at] == '"' {
		return s.quoted()
	}
	s.at = start
	return s.plain()
}

// plain reads up to the separator or the line end.
func (s *scanner) plain() string {
	start := s.at
	for s.at < len(s.text) && s.text[s.at] != s.separator && s.text[s.at] != '\n' && s.text[s.at] != '\r' {
		s.at++
	}
	return s.text[start:s.at]
}

// quoted reads a cell in quotes, in which a doubled quote stands for one. Line ends
// in it become one newline each.
func (s *scanner) quoted() string {
	from := s.line
	s.at++
	var b strings.Builder
	for s.at < len(s.text) {
		switch c := s.text[s.at]; {
		case c == '"' && strings.HasPrefix(s.text[s.at:], `""`):
			b.WriteByte('"')
			s.at += 2
		case c == '"':
			s.at++
			// what stands between the closing quote and the separator is kept: nothing is dropped unseen
			b.WriteString(strings.TrimRight(s.plain(), " "))
			return b.String()
		case c == '\n' || c == '\r':
			b.WriteByte('\n')
			s.newline()
		default:
			b.WriteByte(c)
			s.at++
		}
	}
	if s.open == 0 {
		s.open = from
	}
	return b.String()
}

// sepLine takes the "sep=;" away with which some programs begin a file; the
// separator is 0 where there is none. The lines that follow keep their numbers.
func sepLine(text string) (separator byte, rest string) {
	const mark = "sep="
	if len(text) < len(mark)+1 || !strings.EqualFold(text[:len(mark)], mark) {
		return 0, text
	}
	end := strings.IndexAny(text, "\r\n")
	if end < 0 {
		end = len(text)
	}
	if strings.TrimSpace(text[len(mark)+1:end]) != "" {
		return 0, text
	}
	// the line stays, empty, so that those behind it count on
	return text[len(mark)], text[end:]
}

package sheets

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"
)

// decoded is the text of a file, and a word by which a person can see whether its
// letters were read as they were meant; empty where there is nothing to doubt.
type decoded struct {
	text    string
	foreign string
}

// decode turns the bytes of a file into text: UTF-8, else Windows-1252. What is no
// CSV at all is a Fault that says how to save it.
func decode(data []byte) (decoded, *Fault) {
	if why, do := notCSV(data); why != "" {
		return decoded{}, &Fault{Line: 1, Column: 1, Why: why, Do: do}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if utf8.Valid(data) {
		return decoded{text: string(data)}, nil
	}
	text := fromWindows1252(data)
	return decoded{text: text, foreign: foreignWord(text)}, nil
}

// notCSV says what a file is that is no text with separators, and what to do.
func notCSV(data []byte) (why, do string) {
	start := bytes.TrimLeft(bytes.TrimPrefix(data, []byte("\ufeff")), " \t\r\n")
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return "it is a spreadsheet file or a zip archive, not a CSV", "open it in the spreadsheet and save it as CSV"
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return "it is UTF-16", "save it again as 'CSV UTF-8'"
	case bytes.HasPrefix(start, []byte("<")):
		return "it is a web page (HTML)", "open it in the spreadsheet and save it as CSV"
	case bytes.HasPrefix(start, []byte("SQLite format 3")):
		return "it is a database", "a notebook is joined with: hedgerow merge OTHER.db"
	case bytes.IndexByte(data, 0) >= 0:
		return "it holds zero bytes, as UTF-16 does", "save it again as 'CSV UTF-8'"
	case len(start) == 0:
		return "it is empty", "save the sheet again as CSV"
	}
	return "", ""
}

// upper1252 are the signs of bytes 0x80 to 0x9f in Windows-1252; the rest of the
// upper half is Latin-1. A byte without a sign is the replacement character.
// Source: unicode.org, MAPPINGS/VENDORS/MICSFT/WINDOWS/CP1252.TXT.
var upper1252 = [32]rune{
	'\u20ac', '\ufffd', '\u201a', '\u0192', '\u201e', '\u2026', '\u2020', '\u2021',
	'\u02c6', '\u2030', '\u0160', '\u2039', '\u0152', '\ufffd', '\u017d', '\ufffd',
	'\ufffd', '\u2018', '\u2019', '\u201c', '\u201d', '\u2022', '\u2013', '\u2014',
	'\u02dc', '\u2122', '\u0161', '\u203a', '\u0153', '\ufffd', '\u017e', '\u0178',
}

// fromWindows1252 reads each byte as one sign.
func fromWindows1252(data []byte) string {
	var b strings.Builder
	b.Grow(len(data) + len(data)/8)
	for _, c := range data {
		if c >= 0x80 && c < 0xa0 {
			b.WriteRune(upper1252[c-0x80])
			continue
		}
		b.WriteRune(rune(c))
	}
	return b.String()
}

// foreignWord returns the first word with a letter outside ASCII, else the first
// word with any such sign.
func foreignWord(text string) string {
	words := strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(`,;"`, r) })
	for _, telling := range []func(rune) bool{
		func(r rune) bool { return r >= utf8.RuneSelf && unicode.IsLetter(r) },
		func(r rune) bool { return r >= utf8.RuneSelf },
	} {
		for _, w := range words {
			if strings.ContainsFunc(w, telling) {
				return w
			}
		}
	}
	return ""
}

// steers reports whether a sign could steer a terminal or turn the direction of
// writing; line ends and tabs do not count, as they stand in notes.
func steers(r rune) bool {
	return r != '\n' && r != '\t' && unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || isWidthless(r)
}

// isWidthless reports whether nothing is seen of a sign, so that two names that
// differ by it look alike.
func isWidthless(r rune) bool {
	return r >= '\u200b' && r <= '\u200d' || r == '\u2060' || r == '\ufeff' || r == '\u00ad'
}

package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf8"
)

// nasty are texts that would steer a terminal or hide something: an escape
// sequence (ECMA-48), its one-byte form, a bell, a return that overwrites, an
// override of direction and an isolate (Unicode Standard Annex 9), zero-width
// characters, tags, a byte that is no UTF-8.
var nasty = []string{"\x1b[31mred", "\u009b31mred", "a\x07b", "safe\rEVIL", "abc\u202edcba", "\u2066x\u2069",
	"a\u200bb",
	"a\ufeffb", "a\u00adb", "x\U000e0041y", "a\x80b", "line\u2028line", "\x00", "\x7f", "a\x9bb"}

// steering lists what is left of the above in a text.
func steering(text string) (left []string) {
	for _, r := range text {
		if steers(r) {
			left = append(left, string(r))
		}
	}
	if !utf8.ValidString(text) {
		left = append(left, "no UTF-8")
	}
	return left
}

// What people type, and what stands in a notebook that somebody else wrote, comes
// to no terminal and no page as it is, in no format, and JSON loses nothing of it.
func TestNoTextSteersTheTerminal(t *testing.T) {
	t.Parallel()
	for _, text := range nasty {
		db := filepath.Join(t.TempDir(), "n.db")
		for _, line := range [][]string{{"batch", "new", "moor", "--volume", "12L", "--og", "1.046", "--style", text},
			{"batch", "new", "fen", "--volume", "12L"}, {"batch", "note", "moor", "n " + text},
			{"claim", "add", "heather", "3 g/L", "--source", text}, {"batch", "new", text, "--volume", "1L"},
			{"tasting", "new", "night", "--serving", "moor,fen", "--attribute", "floral", "--taster", text},
			{"tasting", "new", "late", "--serving", "moor,fen", "--attribute", "floral", "--taster", "A"}} {
			if _, said := typed(db, line...); steering(said) != nil {
				t.Errorf("%q says %q", line, said)
			}
		}
		spoil(t, db, "UPDATE batch SET note = '\x1b[2J', style = 'x\u202ey\x1b'",
			"UPDATE taster SET name = name || '\x1b]0;t\x07'")
		page := filepath.Join(t.TempDir(), "page.html")
		for _, line := range [][]string{{"batch", "show", "moor"}, {"batch", "list"}, {"claim", "list"}, {"taster", "list"},
			{"tasting", "show", "late"}, {"tasting", "sheet", "late"}, {"batch", "show", text}, {text}, {"--" + text},
			{"ledger", "moor"}, {"tasting", "sheet", "late", "--html", page}, {"config", "set", "gallon", text}} {
			for _, format := range []string{"--quiet", "--json", "--csv", "--markdown"} {
				if _, said := typed(db, append(line, format)...); steering(said) != nil {
					t.Errorf("%q %s says %q", line, format, said)
				}
			}
		}
		if written, _ := os.ReadFile(page); len(written) == 0 || steering(string(written)) != nil {
			t.Errorf("the page has %q", steering(string(written)))
		}
	}
}

// In JSON the characters are escaped, so that a program reads what was typed.
func TestJSONKeepsWhatItEscapes(t *testing.T) {
	db := filepath.Join(t.TempDir(), "n.db")
	const note = "a\u200bb\u202ec\U000e0041\u009b\u2028z"
	if code, said := typed(db, "batch", "new", "moor", "--volume", "12L", "--note", note); code != exitDone {
		t.Fatal(said)
	}
	_, said := typed(db, "batch", "show", "moor", "--json")
	var read struct{ Batch struct{ Note string } }
	if err := json.Unmarshal([]byte(said), &read); err != nil || read.Batch.Note != note || steering(said) != nil {
		t.Errorf("read %q (%v), want %q", read.Batch.Note, err, note)
	}
}

// Characters that arrive in pieces come out whole; a piece without its rest is
// told.
func TestPlainTakesPieces(t *testing.T) {
	const text = "10 °C – 🌿\n"
	var out strings.Builder
	p := &plain{w: &out, json: func() bool { return false }}
	if _, err := io.Copy(p, iotest.OneByteReader(strings.NewReader(text+"\xf0\x9f"))); err != nil {
		t.Fatal(err)
	}
	p.end()
	if out.String() != text+"\ufffd" {
		t.Errorf("came out as %q", &out)
	}
}

// An answer that cannot be written after something was saved says so, and is no
// failure; without anything saved it is one.
func TestAnswerThatCannotBeWritten(t *testing.T) {
	db := filepath.Join(t.TempDir(), "n.db")
	var said strings.Builder
	full := func(args ...string) int {
		said.Reset()
		e := envOf(strings.NewReader(""), &said)
		e.stdout = fullDisk{}
		return run(e, append([]string{"--db", db}, args...))
	}
	for _, line := range [][]string{{"batch", "new", "moor", "--volume", "12L"}, {"batch", "new", "fen", "--volume", "2L",
		"--json"}} {
		if code := full(line...); code != exitDone ||
			!strings.Contains(said.String(), "saved, but the answer could not be written") {
			t.Errorf("%v: exit %d: %s", line, code, &said)
		}
	}
	dir := t.TempDir()
	for _, line := range [][]string{{"export", filepath.Join(dir, "e.json")}, {"backup", filepath.Join(dir, "b.db")},
		{"demo", "--into", filepath.Join(dir, "d.db")}, {"restore", filepath.Join(dir, "b.db"), "--yes"}} {
		if code := full(line...); code != exitDone || !strings.Contains(said.String(), "saved, but the answer") {
			t.Errorf("%v: exit %d: %s", line, code, &said)
		}
	}
	if code := full("batch", "list"); code != exitFailed || !strings.Contains(said.String(), "no room") {
		t.Errorf("exit %d: %s", code, &said)
	}
	if _, list := typed(db, "batch", "list", "--csv"); !strings.Contains(list, "moor") || !strings.Contains(list, "fen") {
		t.Errorf("kept %s", list)
	}
}

// fullDisk takes nothing.
type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errNoRoom }

// errNoRoom is what a full disk says.
var errNoRoom = errors.New("no room left")

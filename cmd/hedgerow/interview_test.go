package main

import (
	"io"
	"path/filepath"
	"strings"
	"testing"
)

// linesThen gives its lines one by one, and does something before one of them.
type linesThen struct {
	lines  []string
	before int
	do     func()
}

// Read implements io.Reader.
func (l *linesThen) Read(p []byte) (int, error) {
	if l.before == 0 {
		l.do()
	}
	l.before--
	if len(l.lines) == 0 {
		return 0, io.EOF
	}
	n := copy(p, l.lines[0]+"\n")
	l.lines = l.lines[1:]
	return n, nil
}

// Each answer of an interview is taken only if the tasting still asks for it, not
// only those of a glass that is done.
func TestInterviewLooksAtTheTastingAnew(t *testing.T) {
	for want, change := range map[string][]string{
		"tasting night is closed": {"tasting", "close", "night"},
		"no tasting \"night\"":    {"tasting", "delete", "night", "--yes"},
		"":                        {"tasting", "edit", "night", "--name", "evening"},
	} {
		db := filepath.Join(t.TempDir(), "n.db")
		for _, line := range [][]string{
			{"batch", "new", "low", "--volume", "4L", "--og", "1.046"},
			{"batch", "new", "top", "--volume", "4L", "--og", "1.046"},
			{"tasting", "new", "night", "--serving", "low", "--serving", "top", "--attribute", "floral", "--taster", "A",
				"--taster", "B", "--seed", "3"},
			{"tasting", "score", "night", "--taster", "B", "--serving", "421", "liking=5"},
		} {
			if code, said := typed(db, line...); code != exitDone {
				t.Fatal(said)
			}
		}
		var said strings.Builder
		in := &linesThen{lines: []string{"6", "right", "7"}, before: 1, do: func() {
			if code, said := typed(db, change...); code != exitDone {
				t.Error(said) // Fatal would end the goroutine that reads
			}
		}}
		e := envOf(in, &said)
		e.flags.db = db
		defer e.close()
		n, err := e.reading()
		if err != nil {
			t.Fatal(err)
		}
		night, err := n.Tasting("night")
		if err != nil {
			t.Fatal(err)
		}
		err = e.interview(night, scoreOptions{taster: "A"})
		if want == "" && err == nil {
			continue
		}
		if err == nil || want == "" || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: the interview ends with %v, want %q", change, err, want)
		}
		if !strings.Contains(said.String(), "what was said of glass 1 is not kept") ||
			strings.Contains(said.String(), "liking") {
			t.Errorf("%v: it goes on:\n%s", change, &said)
		}
	}
}

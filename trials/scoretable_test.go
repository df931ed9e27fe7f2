package trials

import (
	"fmt"
	"io"
	"strings"
	"testing"
)

// longTable is a table of many lines: 110 glasses, each scored by every taster,
// with notes of about 170 letters.
func longTable(lines int) string {
	var b strings.Builder
	b.WriteString("serving,taster,floral,floral vote,liking,note\n")
	for i := range lines {
		fmt.Fprintf(&b, "%s,T%d,10,right,7,%s\n", glassCode(i%110), i/110, strings.Repeat("soft and flowery ", 10))
	}
	return b.String()
}

// glassCode is the code of the i-th of many glasses.
func glassCode(i int) string { return fmt.Sprint(100 + i) }

// longEvening is a tasting with as many glasses as longTable scores.
func longEvening() (*Notebook, Tasting) {
	n, g := evening()
	n.Servings = nil
	for i := range 110 {
		n.Servings = append(n.Servings, Serving{ID: "s" + glassCode(i), TastingID: "g", BatchID: "b1", Code: glassCode(i)})
	}
	return n, g
}

// The last line of a table of over 4 MiB is what was pasted: every line is
// there and a 10 is no 1.
func TestLongScoreTableIsReadToItsEnd(t *testing.T) {
	const lines = 24_000
	text := longTable(lines)
	if len(text) < 4<<20 {
		t.Fatalf("the table has only %d bytes", len(text))
	}
	n, g := longEvening()
	marks, err := ParseScoreTable(strings.NewReader(text), g)
	if err != nil || len(marks) != lines {
		t.Fatalf("%d of %d lines, %v", len(marks), lines, err)
	}
	e, err := n.Enter(g, marks, false, day(41))
	if err != nil || len(e.Scores) != 2*lines || len(e.Notes) != lines || len(e.NewTasters) != (lines+109)/110 {
		t.Fatalf("%d scores, %d notes, %d tasters, %v", len(e.Scores), len(e.Notes), len(e.NewTasters), err)
	}
	for _, s := range e.Scores {
		if s.Attribute == "floral" && *s.Intensity != 10 {
			t.Fatalf("a 10 became %g", *s.Intensity)
		}
	}
}

// endless gives comment lines for ever.
type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = "#\n"[i%2]
	}
	return len(p), nil
}

// What is too long is refused whole: exactly the limit is read, a byte more is
// not, and the message names the limit and what to do.
func TestScoreTablePastTheLimitIsRefused(t *testing.T) {
	_, g := evening()
	head := "serving,taster,floral\n417,A,10\n"
	fill := int64(scoreTableLimitMiB<<20 - len(head))
	for _, over := range []int64{0, 1} {
		marks, err := ParseScoreTable(io.MultiReader(strings.NewReader(head), io.LimitReader(endless{}, fill+over)), g)
		if over == 0 && (err != nil || len(marks) != 1) {
			t.Errorf("at the limit: %d lines, %v", len(marks), err)
		}
		if over == 1 && (CodeOf(err) != Invalid || !strings.Contains(err.Error(), "32 MiB")) {
			t.Errorf("past the limit: %d lines, %v", len(marks), err)
		}
	}
}

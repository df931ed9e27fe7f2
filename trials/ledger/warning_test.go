package ledger

import (
	"strings"
	"testing"

	"hedgerow/dilution"
)

// A program gets the code, a reader the sentence; what has no code or no record
// goes without.
func TestWarningForProgramsAndReaders(t *testing.T) {
	colour := dilution.NoteColour
	for _, c := range []struct {
		w            Warning
		code, toRead string
	}{
		{Warning{Record: "b.a1", Note: colour, Text: "not counted"}, "b.a1: colour: not counted", "b.a1: not counted"},
		{Warning{Record: "b.r1", Text: "too little liquid: 40 mL"}, "b.r1: too little liquid: 40 mL",
			"b.r1: too little liquid: 40 mL"},
		{Warning{Record: "b.r1", Code: CodeOneGravity, Text: "moves"}, "b.r1: one-gravity-corrected: moves", "b.r1: moves"},
		{Warning{Text: "plain words"}, "plain words", "plain words"},
	} {
		if c.w.String() != c.code || c.w.Words() != c.toRead {
			t.Errorf("%q and %q, want %q and %q", c.w.String(), c.w.Words(), c.code, c.toRead)
		}
	}
	both := warningsOf("b", dilution.NoteFermenting|dilution.NoteColour)
	if len(both) != 2 || both[0].Note != dilution.NoteFermenting || both[1].Note != dilution.NoteColour {
		t.Errorf("two remarks are %v", both)
	}
}

// A remark on the state is made once, however many steps of the account an event
// takes: 1.125 to 1.010 are above 10 % vol.
func TestRemarkOnTheStateIsMadeOnce(t *testing.T) {
	n, b := readBeer(10, 1.125, 1.010, nil)
	if text := strings.Join(TextsOf(ledgerOf(t, n, b).Warnings), "\n"); strings.Count(text, ": strong: ") != 1 {
		t.Errorf("said %q", text)
	}
}

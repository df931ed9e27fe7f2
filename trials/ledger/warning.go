package ledger

import (
	"slices"
	"strings"

	"hedgerow/dilution"
)

// Warning is a remark on an account.
type Warning struct {
	Record string         // name of the record that it is about, "" for the account as a whole
	Note   dilution.Notes // the one remark of the arithmetic that it is, 0 for any other
	Code   string         // stable word for a program, where it is no remark of the arithmetic
	Text   string         // words for the reader
}

// warningsOf puts the remarks of a result as warnings about a record.
func warningsOf(record string, notes dilution.Notes) []Warning {
	var list []Warning
	for _, n := range notes.Each() {
		list = append(list, Warning{Record: record, Note: n, Text: n.Text()})
	}
	return list
}

// Words is the remark for a reader: "record: text".
func (w Warning) Words() string { return joined(w.Record, w.Text) }

// String is the remark for a program: "record: code: text".
func (w Warning) String() string { return joined(w.Record, w.Note.Code()+w.Code, w.Text) }

// joined puts what is not empty behind one another.
func joined(parts ...string) string {
	var filled []string
	for _, p := range parts {
		if p != "" {
			filled = append(filled, p)
		}
	}
	return strings.Join(filled, ": ")
}

// TextsOf are the warnings as String gives them; none is an empty list.
func TextsOf(warnings []Warning) []string {
	texts := make([]string, len(warnings))
	for i, w := range warnings {
		texts[i] = w.String()
	}
	return texts
}

// FermentableWentIn reports whether something that can ferment was added.
func (l Ledger) FermentableWentIn() bool {
	return slices.ContainsFunc(l.Warnings, func(w Warning) bool { return w.Note == dilution.NoteFermenting })
}

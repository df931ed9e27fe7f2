package checks

import (
	"bytes"
	_ "embed" // for the table of origins
	"encoding/csv"
	"strings"
)

//go:embed rows/sources.csv
var originRows []byte

// The kinds of origin that an expected value can have, the surest first.
const (
	Published  = "published"              // printed in a named text, and copied from it
	Computed   = "computed independently" // by a program that shares no formula code with this one
	ClosedForm = "closed form"            // a formula, named or by hand, that anyone can work out again
)

// Origin says where the expected values of some check rows come from.
type Origin struct {
	Key    string `json:"key"`              // as the rows name it
	Kind   string `json:"kind"`             // Published, Computed or ClosedForm
	Author string `json:"author,omitempty"` // who printed the value or the formula, empty for none
	Year   string `json:"year,omitempty"`   // of that text; "undated" and "from memory" are said here
	Title  string `json:"title,omitempty"`  // of that text
	Place  string `json:"place"`            // table or page; how and with what it was computed; which formula
	Read   string `json:"read,omitempty"`   // how much of the text was read; whose program computed it
}

// Words returns the origin as one line, without its kind.
func (o Origin) Words() string {
	var parts []string
	for _, part := range []string{o.Author, o.Year, o.Title, o.Place, o.Read} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, "; ")
}

// Origins returns the origins of the rows that come with the program, those of
// one kind together, the surest kind first.
func Origins() ([]Origin, error) {
	records, err := csv.NewReader(bytes.NewReader(originRows)).ReadAll()
	if err != nil {
		return nil, err
	}
	var all []Origin
	for _, r := range records[1:] {
		all = append(all, Origin{Key: r[0], Kind: r[1], Author: r[2], Year: r[3], Title: r[4], Place: r[5], Read: r[6]})
	}
	return all, nil
}

package report

import (
	"slices"
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// Nothing is claimed of a plant without what it rests on: each row of the
// cautions and of the limits says what was read, and each source that such a row
// names is spelt out below.
func TestCautionsAndLimitsCarryTheirEvidence(t *testing.T) {
	materials, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	words := []string{"read: ", "secondary: ", "named, not reopened: ", "common practice, no source", "from memory"}
	rows := 0
	for _, m := range materials.All() {
		sections := Material(materials, m, quantity.Metric).Document.Sections
		named := sourceIDs(sections)
		for _, s := range sections {
			if s.Heading != "Cautions" && s.Heading != "Legal limits, as quoted" {
				continue
			}
			for _, row := range s.Table.Rows {
				rows++
				evidence := row[len(row)-1]
				if !slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(evidence, w) }) {
					t.Errorf("%s: %q rests on %q", m.Key, row[0], evidence)
				}
				_, ids, _ := strings.Cut(evidence, ": ")
				for id := range strings.SplitSeq(ids, "; ") {
					if id != "" && !slices.Contains(named, id) {
						t.Errorf("%s: source %s is not spelt out", m.Key, id)
					}
				}
			}
		}
	}
	if rows == 0 {
		t.Error("no material has a caution")
	}
}

// sourceIDs returns the ids that the section of sources spells out.
func sourceIDs(sections []document.Section) []string {
	var ids []string
	for _, s := range sections {
		if s.Heading != "Sources" {
			continue
		}
		for _, note := range s.Notes {
			id, _, _ := strings.Cut(note, ": ")
			ids = append(ids, id)
		}
	}
	return ids
}

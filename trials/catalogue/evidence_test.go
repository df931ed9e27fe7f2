package catalogue

import (
	"encoding/csv"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rawRows reads an embedded table as it lies there, by column, so that no reader
// of ours can leave a row or a column out.
func rawRows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := files.Open("data/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	reader := csv.NewReader(f)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	if err != nil || len(records) < 2 {
		t.Fatalf("%s: %d lines, %v", name, len(records), err)
	}
	var rows []map[string]string
	for _, r := range records[1:] {
		row := map[string]string{}
		for i, column := range records[0] {
			row[column] = r[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// sourced names for each table the columns that state something, by the column
// that says whence; "*" stands for the row as a whole.
var sourced = map[string]map[string]string{
	"catalogue.csv": {"dose_low_g_per_l": "dose_low_src", "dose_high_g_per_l": "dose_high_src",
		"moisture_fresh_pct": "moisture_fresh_src", "moisture_dried_pct": "moisture_dried_src",
		"dry_yield_kg_per_100kg_fresh": "dry_yield_src", "sugar_pct": "sugar_src",
		"liquid_absorbed_ml_per_g": "liquid_absorbed_src", "heat_notes": "heat_src"},
	"cautions.csv":       {"*": "source_id"},
	"limits.csv":         {"*": "source_id"},
	"stoplist.csv":       {"*": "source_id", "mistaken_for": "pair_source_id"},
	"allergens.csv":      {"*": "source_id"},
	"spoons.csv":         {"*": "source_id"},
	"class_defaults.csv": {"*": "source_id"},
	"moisture.csv":       {"*": "source"},
	"fruit.csv":          {"*": "usda_ndb"}, // a row of the USDA table each
	"sources.csv":        {},                // looked at by checkNamed
}

// Every built-in row says where it comes from, in words that lead to a named
// source, or says that nothing does.
func TestEveryBuiltInRowHasASource(t *testing.T) {
	c := mustLoad(t)
	names, err := fs.Glob(files, "data/*.csv")
	if err != nil || len(names) != len(sourced) {
		t.Fatalf("%d tables, %v; this test knows %d", len(names), err, len(sourced))
	}
	for name, columns := range sourced {
		for i, row := range rawRows(t, name) {
			for value, source := range columns {
				if text, stated := row[value]; value != "*" && (!stated || text == "" || text == "-") {
					continue
				}
				if name != "fruit.csv" && len(c.Sources(row[source])) == 0 || row[source] == "" {
					t.Errorf("%s, row %d: %s has the source %q", name, i+2, value, row[source])
				}
			}
		}
	}
}

// nameless titles name no text that can be looked up.
var nameless = regexp.MustCompile(`(?i)^(-|n\.d\.|` +
	`(a |the |some )?(web ?)?(page|site|table|text|book|paper|blog|forum|article|note)s?)?$`)

// Every source has a title of its own and somebody who stands for it; only memory
// and practice, which say so, have nobody. What was read is said too.
func TestNoSourceIsNameless(t *testing.T) {
	for _, row := range rawRows(t, "sources.csv") {
		s := Source{ID: row["source_id"], Kind: row["kind"], Title: row["title"], Publisher: row["publisher"]}
		if !s.Checked() {
			continue
		}
		if nameless.MatchString(s.Title) || nameless.MatchString(s.Publisher) {
			t.Errorf("%s: title %q of %q names nothing", s.ID, s.Title, s.Publisher)
		}
		if row["read"] == "" || strings.Contains(row["read"]+row["title"], "session") {
			t.Errorf("%s: read %q", s.ID, row["read"])
		}
	}
}

// Cautions and limits carry one of the words of evidence.
func TestCautionsAndLimitsHaveEvidence(t *testing.T) {
	words := []string{evidenceRead, EvidenceSecondary, EvidenceEarlier, EvidencePractice, EvidenceMemory}
	for _, name := range []string{"cautions.csv", "limits.csv"} {
		for i, row := range rawRows(t, name) {
			if !slices.Contains(words, row["evidence"]) {
				t.Errorf("%s, row %d: evidence %q", name, i+2, row["evidence"])
			}
		}
	}
}

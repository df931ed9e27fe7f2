package checks

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// nameless are words that stand where a name should: a page, a table, a text of
// nobody. A source that can be looked up has more to say of itself.
var nameless = regexp.MustCompile(`(?i)^(a |the |some )?(web ?)?` +
	`(page|site|table|text|book|paper|blog|forum|article|note)s?$`)

// Every check row names an origin that is described, and every origin says of a
// published value who, when, what, where and how much was read of it; of a
// computed one how and with what; of a closed form which.
func TestEveryRowHasAnOrigin(t *testing.T) {
	all, err := Origins()
	if err != nil {
		t.Fatal(err)
	}
	origins := map[string]Origin{}
	for _, o := range all {
		if _, twice := origins[o.Key]; twice {
			t.Errorf("origin %q stands twice", o.Key)
		}
		origins[o.Key] = o
		checkOrigin(t, o)
	}
	used := map[string]bool{}
	for _, table := range CheckRows() {
		records, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range records[1:] {
			if _, ok := origins[row[5]]; !ok {
				t.Errorf("%s %s: origin %q is not described", row[0], row[1], row[5])
			}
			used[row[5]] = true
		}
	}
	for key := range origins {
		if !used[key] {
			t.Errorf("no row has the origin %q", key)
		}
	}
}

// checkOrigin looks for what each kind must say.
func checkOrigin(t *testing.T, o Origin) {
	t.Helper()
	for what, word := range map[string]string{"author": o.Author, "title": o.Title, "place": o.Place} {
		if nameless.MatchString(word) {
			t.Errorf("%s: the %s is %q, which names nothing", o.Key, what, word)
		}
	}
	if strings.Contains(o.Words(), ".md") || strings.Contains(o.Words(), "see doc") {
		t.Errorf("%s points at a file of its own: %s", o.Key, o.Words())
	}
	missing := o.Place == ""
	switch o.Kind {
	case Published:
		missing = missing || slices.Contains([]string{o.Author, o.Year, o.Title}, "") ||
			!regexp.MustCompile(`read in (full|part)|at second hand`).MatchString(o.Read)
	case Computed:
		missing = missing || !regexp.MustCompile(`separate program|shares only`).MatchString(o.Read)
	case ClosedForm:
		// a formula that is named after a text says how it was read
		missing = missing || o.Author != "" && (o.Year == "" || o.Title == "" || o.Read == "")
	default:
		t.Errorf("%s: kind %q", o.Key, o.Kind)
	}
	if missing {
		t.Errorf("%s does not say enough: %+v", o.Key, o)
	}
}

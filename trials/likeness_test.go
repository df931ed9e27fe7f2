package trials

import "testing"

// Pairs that Unicode Technical Standard 39 lists as confusable, and pairs that
// differ to the eye.
func TestNamesThatLookAlike(t *testing.T) {
	for _, pair := range [][2]string{{"moor-1", "Moor-1"}, {"moor", "mооr"}, {"Taster A", "Taster А"},
		{"Taster A", "Taster Α"},
		{"moor", "mo\u200bor"}, {"moor", "\ufeffmoor"}, {"moor", "moor\u202e"}, {"moor", "ｍｏｏｒ"},
		{"straße", "STRAẞE"}} {
		if Likeness(pair[0]) != Likeness(pair[1]) {
			t.Errorf("%q and %q are two names", pair[0], pair[1])
		}
	}
	for _, pair := range [][2]string{{"moor-1", "moor-2"}, {"moor", "móor"}, {"вереск", "heather"}, {"a-b", "a_b"},
		{"a", "o"}} {
		if Likeness(pair[0]) == Likeness(pair[1]) {
			t.Errorf("%q and %q are one name", pair[0], pair[1])
		}
	}
	n := &Notebook{Batches: []Batch{{Record: Record{Name: "Moor-1"}}, {Record: Record{Name: "moor-1"}}}}
	for _, name := range []string{"Moor-1", "moor-1"} { // from a notebook of before
		if b, err := n.Batch(name); err != nil || b.Name != name {
			t.Errorf("%s: found %s (%v)", name, b.Name, err)
		}
	}
	if b, err := n.Batch("MOOR-1"); err != nil || b.Name != "Moor-1" {
		t.Errorf("found %s (%v)", b.Name, err)
	}
}

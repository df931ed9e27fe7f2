package trials

import "testing"

// The name stands as words of its own, in whatever case.
func TestSpeaks(t *testing.T) {
	for source, want := range map[string]bool{
		"Brewer B": true, "told by brewer b, in May": true, "Brewer Bee": false, "": false, "a card": false,
		"Brewer-B's card": true, "xBrewer B": false,
	} {
		if got := Speaks(source, "Brewer B"); got != want {
			t.Errorf("Speaks(%q) = %v", source, got)
		}
	}
}

// There is a name for each of any number, none twice.
func TestBrewerNamesOfMany(t *testing.T) {
	n := &Notebook{}
	for i := range 60 {
		n.Batches = append(n.Batches, Batch{Brewer: string(rune('A' + i))})
	}
	seen := map[string]bool{}
	for _, name := range n.BrewerNames() {
		if seen[name] || CheckBrewer(name) != nil {
			t.Errorf("%q: %v", name, CheckBrewer(name))
		}
		seen[name] = true
	}
	if len(seen) != 60 {
		t.Errorf("%d names", len(seen))
	}
}

package trials

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// SettingBrewer is how the keys begin under which a notebook keeps the names of other
// brewers; the id of their notebook follows. They are not for the user to set.
const SettingBrewer = "brewer:"

// BrewerNames returns the names of the other brewers whose batches are in the notebook, by
// the id of their notebook. One without a name, or with one that cannot be used or is
// another's, is Brewer B, C, D ... in order of id.
func (n *Notebook) BrewerNames() map[string]string {
	ids := map[string]bool{}
	for _, b := range n.Batches {
		if b.Brewer != "" {
			ids[b.Brewer] = true
		}
	}
	names, taken := map[string]string{}, map[string]bool{Likeness(ownBrewer): true}
	sorted := slices.Sorted(maps.Keys(ids))
	for _, id := range sorted {
		name := n.Settings[SettingBrewer+id]
		if CheckBrewer(name) == nil && !taken[Likeness(name)] {
			names[id], taken[Likeness(name)] = name, true
		}
	}
	next := 1
	for _, id := range sorted {
		for names[id] == "" {
			if name := nthBrewer(next); !taken[Likeness(name)] {
				names[id], taken[Likeness(name)] = name, true
			}
			next++
		}
	}
	return names
}

// ownBrewer is what a study calls the brewer whose notebook it is from.
const ownBrewer = "me"

// nthBrewer is Brewer B for 1, and so on; one's own would be A.
func nthBrewer(n int) string {
	if n < 26 {
		return "Brewer " + string(rune('A'+n))
	}
	return fmt.Sprintf("Brewer %d", n+1)
}

// CheckBrewer refuses a name that a brewer cannot have.
func CheckBrewer(name string) error {
	if err := CheckName("brewer", name); err != nil {
		return err
	}
	if Likeness(name) == Likeness(ownBrewer) {
		return Refuse(`choose another, such as "Brewer B"`, "brewer name %q is your own", name)
	}
	return nil
}

// Speaks reports whether the source of advice is the named brewer: the name stands in it
// as words of their own.
func Speaks(source, brewer string) bool {
	words := func(text string) string {
		return " " + strings.Join(strings.FieldsFunc(Likeness(text), func(r rune) bool {
			return !('0' <= r && r <= '9') && strings.ToLower(string(r)) == strings.ToUpper(string(r))
		}), " ") + " "
	}
	return strings.Contains(words(source), words(brewer))
}

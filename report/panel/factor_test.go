package panel

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the order of the labels, each is found again at its place, and the
// places are given out in order of first appearance.
func TestNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOf(rapid.SampledFrom([]string{"a", "b", "c", "d", ""})).Draw(t, "values")
		levels, of := number(len(values), func(i int) string { return values[i] })
		var first []string
		for i, v := range values {
			if !slices.Contains(first, v) {
				first = append(first, v)
			}
			if levels[of[i]] != v {
				t.Fatalf("%q: value %d is placed at %q", values, i, levels[of[i]])
			}
		}
		if !slices.Equal(levels, first) {
			t.Fatalf("%q: levels %q, want %q", values, levels, first)
		}
	})
}

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

// Rising order is that of the numbers, not of their first appearance.
func TestSortedLevels(t *testing.T) {
	levels, of := sortedLevels([]float64{3, -1, 3, 0, -1, 7})
	if !slices.Equal(levels, []float64{-1, 0, 3, 7}) || !slices.Equal(of, []int{2, 0, 2, 1, 0, 3}) {
		t.Errorf("levels %v, places %v", levels, of)
	}
}

package ways

import (
	"testing"

	"hedgerow/extraction"
)

// BenchmarkCompare is the seven methods of section 6 with 10 000 draws.
func BenchmarkCompare(b *testing.B) {
	entries := sectionSix()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Compare(extraction.Water, entries, extraction.Draws{N: 10000, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

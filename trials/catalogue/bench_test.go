package catalogue

import "testing"

// BenchmarkRead is what the first use in a run of the program costs.
func BenchmarkRead(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := read(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLookup(b *testing.B) {
	c := mustLoad(b)
	b.ReportAllocs()
	for b.Loop() {
		c.Lookup("Elder flowers")
	}
}

func BenchmarkSuggest(b *testing.B) {
	c := mustLoad(b)
	b.ReportAllocs()
	for b.Loop() {
		c.Suggest("corriander")
	}
}

func BenchmarkWith(b *testing.B) {
	c := mustLoad(b)
	own := []Material{{Key: "medlar", CommonName: "Medlar"}, {Key: "rowan-berry"}}
	b.ReportAllocs()
	for b.Loop() {
		c.With(own)
	}
}

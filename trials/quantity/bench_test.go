package quantity

import "testing"

func BenchmarkParseVolume(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseVolume("2.5 gal", Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseDose(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseDose("3/4 oz per 5 gal", Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParseAddition(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseAddition("250mL+-2% spirit 60+-1% 10+-5g/L", Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParsePass(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParsePass("400mL 96C>60C 30min stirred drained", Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

package extraction

import "testing"

// BenchmarkOnePass is one pass with Newton cooling, all three classes, from a
// plan already made: the inner step of everything that draws.
func BenchmarkOnePass(b *testing.B) {
	s := leaf36(Pass{VolumeML: 450, StartC: new(94.0), EndC: new(60.0), Minutes: 30, Agitation: Stirred})
	p, err := newPlan(&s)
	if err != nil {
		b.Fatal(err)
	}
	d, classes := centralDraw(), []Class{Water, Aroma, Resin}
	b.ReportAllocs()
	for b.Loop() {
		p.run(&d, classes, nil)
	}
}

// BenchmarkRun is the same from the words on: checks, plan, result.
func BenchmarkRun(b *testing.B) {
	s := leaf36(Pass{VolumeML: 450, StartC: new(94.0), EndC: new(60.0), Minutes: 30, Agitation: Stirred})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Run(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDoubt is a steep of three passes that cool, with 10 000 draws of all
// classes.
func BenchmarkDoubt(b *testing.B) {
	pass := func(ml float64) Pass { return Pass{VolumeML: ml, StartC: new(94.0), EndC: new(70.0), Minutes: 20} }
	s := leaf36(pass(450), pass(350), pass(250))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.Doubt(Mix{IntoL: 17}, Draws{N: 10000, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

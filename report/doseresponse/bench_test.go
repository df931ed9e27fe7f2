package doseresponse

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// benchStudy returns an invented study: trials brews about 4 g/L scored by
// tasters friends, with a fixed seed.
func benchStudy(trials, tasters int) evidence.Study {
	rng := rand.New(rand.NewPCG(7, 7))
	s := evidence.Study{ID: "bench", ClaimsGPerL: [][2]float64{{1, 8}}}
	for k := range trials {
		x := math.Log(4) + 0.5*rng.NormFloat64()
		t := evidence.Trial{ID: fmt.Sprint("T", k), DoseGPerL: math.Exp(x), Kind: evidence.Batch, Method: "tea"}
		for i := range tasters {
			z := x - math.Log(4) + 0.2*rng.NormFloat64()
			vote := 0
			if z < -0.4 {
				vote = -1
			} else if z > 0.4 {
				vote = 1
			}
			y := math.Round(max(0, min(10, 5.5+2.5*z+rng.NormFloat64())))
			like := 6.0
			t.Scores = append(t.Scores, evidence.Score{Taster: string(rune('A' + i)), Vote: &vote, Intensity: &y, Liking: &like})
		}
		s.Trials = append(s.Trials, t)
	}
	return s
}

// The aims: 3 ms for the posterior of 8 trials by 8 tasters, 10 ms with the
// corrected interval, and 10 ms a study of 8 trials by 4 tasters as JSON.
func BenchmarkPosterior8x8(b *testing.B) { benchFit(b, 8, 8, Options{Approximate: true}) }
func BenchmarkCorrected8x8(b *testing.B) { benchFit(b, 8, 8, Options{}) }
func BenchmarkPosterior8x4(b *testing.B) { benchFit(b, 8, 4, Options{Approximate: true}) }
func BenchmarkCorrected8x4(b *testing.B) { benchFit(b, 8, 4, Options{}) }

func benchFit(b *testing.B, trials, tasters int, o Options) {
	s := benchStudy(trials, tasters)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Fit(s, o); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAnswerLine8x4(b *testing.B) {
	line, err := json.Marshal(benchStudy(8, 4))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := AnswerLine(line, wordless); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMode is the inner loop: the modes of the whole grid, no memory taken.
func BenchmarkMode(b *testing.B) {
	p, err := problemOf(benchStudy(8, 8), nil)
	if err != nil {
		b.Fatal(err)
	}
	f := field.NewField(p)
	grid := nodes(true)
	b.ReportAllocs()
	for b.Loop() {
		for _, n := range grid {
			f.At(n)
			f.FindMode()
		}
	}
}

package doseresponse

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"hedgerow/report/evidence"
)

// clubStudy is the invented study of one material that a club of five comes to
// in years: so many brews of four jars each, with votes, intensities and likings.
func clubStudy(brews int) evidence.Study {
	rng := rand.New(rand.NewPCG(11, 7))
	s := evidence.Study{ID: "club", ClaimsGPerL: [][2]float64{{1, 8}}}
	for b := range brews {
		potency := 0.15 * rng.NormFloat64()
		for j := range splitJars {
			x := 0.47*(float64(j)-1.5) + 0.1*rng.NormFloat64()
			t := evidence.Trial{ID: fmt.Sprintf("b%dj%d", b, j), DoseGPerL: 3 * math.Exp(x), DoseSDLn: 0.03,
				Kind: evidence.Jar, Group: fmt.Sprint("b", b), Method: "tea"}
			for i := range 5 {
				felt := x + potency - 0.25*float64(i-2) + 0.2*rng.NormFloat64()
				vote := 0
				if math.Abs(felt) > 0.35 {
					vote = int(math.Copysign(1, felt))
				}
				sc := score(fmt.Sprint("Taster ", i), vote, math.Round(min(10, max(0, 5+2.5*felt+0.6*rng.NormFloat64()))))
				liking := math.Round(min(9, max(1, 7-2*felt*felt+0.5*rng.NormFloat64())))
				sc.Liking = &liking
				t.Scores = append(t.Scores, sc)
			}
			s.Trials = append(s.Trials, t)
		}
	}
	return s
}

// What suggest does with the study of its material: the fit and all that is
// printed, for a first brew, a tenth and the whole of a club's ten years. The time
// grows no faster than the brews: on a busy machine 28, 70 and 336 ms.
func BenchmarkSuggest1(b *testing.B)   { benchSuggest(b, 1) }
func BenchmarkSuggest12(b *testing.B)  { benchSuggest(b, 12) }
func BenchmarkSuggest125(b *testing.B) { benchSuggest(b, 125) }

func benchSuggest(b *testing.B, brews int) {
	s := clubStudy(brews)
	b.ReportAllocs()
	for b.Loop() {
		p, err := Fit(s, Options{})
		if err != nil {
			b.Fatal(err)
		}
		p.Answer()
		p.Tasters()
		p.Teach(evidence.Used)
	}
}

// What suggest does with the study of every other material.
func BenchmarkMemory1(b *testing.B)   { benchMemory(b, 1) }
func BenchmarkMemory12(b *testing.B)  { benchMemory(b, 12) }
func BenchmarkMemory125(b *testing.B) { benchMemory(b, 125) }

func benchMemory(b *testing.B, brews int) {
	s := clubStudy(brews)
	b.ReportAllocs()
	for b.Loop() {
		p, err := Fit(s, Options{Approximate: true, FreshTasters: true})
		if err != nil {
			b.Fatal(err)
		}
		p.Memory()
	}
}

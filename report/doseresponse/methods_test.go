package doseresponse

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// twoMethods brews tea and contact for four friends drawn from the model of
// doc.go at its middle, contact ratio times as potent: pairs brews a
// method, or as many split brews of two jars each.
func twoMethods(rng *rand.Rand, pairs int, split bool, lnRatio float64) evidence.Study {
	w := field.NewWindow(&field.Node{Kappa: 3.5, C: 0.45}, 1)
	offsets := [4]float64{}
	for i := range offsets {
		offsets[i] = 0.3 * rng.NormFloat64()
	}
	right := math.Log(8)/2 + 0.4*rng.NormFloat64()
	s := eightfold()
	pour := func(id, method, group string, x, shift float64) {
		t := evidence.Trial{ID: id, DoseGPerL: math.Exp(x), Kind: evidence.Jar, Group: group, Method: method}
		if method == "contact" {
			shift += lnRatio
		}
		for i, u := range offsets {
			z := x + shift - right - u
			l, _, m := w.Chances(z)
			vote, r := 0, rng.Float64()
			if r < l {
				vote = -1
			} else if r > 1-m {
				vote = 1
			}
			y := math.Round(max(0, min(10, 5.5+2.5*(z+u)+1.3*rng.NormFloat64())))
			t.Scores = append(t.Scores, score(string(rune('A'+i)), vote, y))
		}
		s.Trials = append(s.Trials, t)
	}
	for k := range pairs {
		b1, b2 := 0.18*rng.NormFloat64(), 0.18*rng.NormFloat64()
		if !split {
			pour(fmt.Sprint("t", k), "tea", fmt.Sprint("T", k), right, b1)
			pour(fmt.Sprint("c", k), "contact", fmt.Sprint("C", k), right, b2)
			continue
		}
		for j, d := range []float64{-0.2, 0.2} {
			group := fmt.Sprint("S", k)
			pour(fmt.Sprint("t", k, j), "tea", group, right+d, b1)
			pour(fmt.Sprint("c", k, j), "contact", group, right+d, b1)
		}
	}
	return s
}

// Own simulation, not an outside check, four tasters: 90 % intervals of the ln ratio are 1.11 wide
// with one separate brew a method and 0.77 with one split brew, and cover 93
// % (true ratio N(0, 0.5)). Its simulated tasters are not these, hence the
// wide bands.
func TestMethodWidths(t *testing.T) {
	const cases = 60
	for _, tt := range []struct {
		split bool
		width float64
	}{{false, 1.11}, {true, 0.77}} {
		rng := rand.New(rand.NewPCG(11, 1))
		var width, covered float64
		for range cases {
			lnRatio := 0.5 * rng.NormFloat64()
			p := mustFit(t, twoMethods(rng, 1, tt.split, lnRatio), Options{Approximate: true})
			m := p.methodPotencies()
			if len(m) != 2 || !m[0].Reference || m[0].Potency.Value != 1 || m[1].SideBySide != tt.split {
				t.Fatalf("methods %+v", m)
			}
			lo, hi := math.Log(*m[1].Potency.Low), math.Log(*m[1].Potency.High)
			sign := 1.0
			if m[0].Method == "contact" {
				sign = -1
			}
			width += (hi - lo) / cases
			if r := sign * lnRatio; lo <= r && r <= hi {
				covered += 1.0 / cases
			}
		}
		if math.Abs(width-tt.width) > 0.2 || covered < 0.83 {
			t.Errorf("split %v: width %.2f, want about %.2f; covered %.2f", tt.split, width, tt.width, covered)
		}
	}
}

// A method of which nothing is known but its prior: N(0, 0.5^2), widened.
func TestMethodPriorShare(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	one := mustFit(t, twoMethods(rng, 1, false, 0), Options{}).methodPotencies()[1].PriorShare
	four := mustFit(t, twoMethods(rng, 4, true, 0), Options{}).methodPotencies()[1].PriorShare
	if !(four < one && one < 1 && four > 0) {
		t.Errorf("prior share %.2f after one separate pair, %.2f after four split brews", one, four)
	}
}

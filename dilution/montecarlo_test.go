package dilution

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// TestSameSeed: the same seed gives the same answer, another seed another.
func TestSameSeed(t *testing.T) {
	a := twentyEvents()
	one := must(a.MonteCarlo(Draws{N: 500, Seed: 7}))(t)
	two := must(a.MonteCarlo(Draws{N: 500, Seed: 7}))(t)
	other := must(a.MonteCarlo(Draws{N: 500, Seed: 8}))(t)
	last := len(one) - 1
	if one[last].Estimates != two[last].Estimates {
		t.Error("the same seed gave two answers")
	}
	if one[last].Estimates == other[last].Estimates {
		t.Error("two seeds gave the same answer")
	}
}

// TestRectangularInterval: one rectangular input of limit a has the 95 % interval
// value +- 0.95 a and u = a over the root of 3, exactly known.
func TestRectangularInterval(t *testing.T) {
	og := Exactly(1.050)
	a := Account{Start: Start{VolumeL: Within("batch volume", 20, 1), OG: &og}}
	e := must(a.MonteCarlo(Draws{N: 200_000, Seed: 5}))(t)[0].Estimates[QVolumeL]
	// Sampling error of a quantile: sqrt(p(1-p)/n)/density = 0.0007.
	closeTo(t, "low", e.Low, 19.05, 0.003)
	closeTo(t, "high", e.High, 20.95, 0.003)
	closeTo(t, "u", e.U, 1/math.Sqrt(3), 0.002)
}

// TestTwoRectangular: the sum of two equal rectangular errors is triangular; its
// 97.5 % quantile is 2a(1 - sqrt(0.05)) from the middle, exactly known. Two
// volumes of the same water show it.
func TestTwoRectangular(t *testing.T) {
	og := Exactly(1.000)
	a := Account{
		Start: Start{VolumeL: Within("batch volume", 20, 1), OG: &og},
		Steps: []Step{Add{AddTea{VolumeL: Within("water", 10, 1)}}},
	}
	e := must(a.MonteCarlo(Draws{N: 200_000, Seed: 6}))(t)[1].Estimates[QVolumeL]
	want := 2 * (1 - math.Sqrt(0.05))
	// Sampling error of the quantile: sqrt(p(1-p)/n)/density = 0.003.
	closeTo(t, "high", e.High-30, want, 0.012)
	closeTo(t, "low", 30-e.Low, want, 0.012)
}

// TestDrawsNeverFail: wide limits give figures, never something that is not a
// number, and no negative volume or strength.
func TestDrawsNeverFail(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		limit := func(name string, v, most float64) Input {
			return Within(name, v, rapid.Float64Range(0, most).Draw(rt, name))
		}
		og, now := limit("og", 1.04, 0.03), limit("now", 1.02, 0.03)
		temp, solids, strength := limit("temp", 50, 60), limit("solids", 5, 20), limit("strength", 60, 60)
		fruit := limit("fruit", 2, 3)
		a := Account{
			Start: Start{VolumeL: limit("volume", 10, 9), OG: &og, NowSG: &now, FinalSG: &now},
			Steps: []Step{
				Add{AddTea{VolumeL: limit("tea", 1, 2), TempC: &temp, SolidsGPerL: &solids}},
				Add{AddSpirit{VolumeL: limit("spirit", 0.2, 0.5), ABVPct: strength}},
				Add{AddFruit{MassKg: fruit, Water: limit("water", 0.8, 0.4), Sugar: limit("sugar", 0.1, 0.2),
					Nonfermentable: Exactly(0.02)}},
				Finish{},
				LosePulp{FruitKg: fruit, RetainKgPerKg: limit("retain", 0.5, 3)},
				LoseVolume{limit("loss", 1, 9)},
				Evaporate{limit("evaporated", 0.5, 4)},
				TakeOut{limit("taken", 3, 4)},
				ReadVolume{VolumeL: limit("measured", 3, 4)},
				ReadGravity{SG: limit("gravity", 1.01, 0.05)},
			},
		}
		results, err := a.MonteCarlo(Draws{N: 300, Seed: rapid.Uint64().Draw(rt, "seed")})
		if err != nil {
			rt.Skip("impossible on best values")
		}
		for i, r := range results {
			for q, e := range r.Estimates {
				if !figure.Finite(e.Value) || !figure.Finite(e.Low) || !figure.Finite(e.High) || !figure.Finite(e.U) {
					rt.Errorf("step %d quantity %d: %+v", i, q, e)
				}
			}
			if v := r.Estimates[QVolumeL]; v.Low < 0 || r.Estimates[QABV].Low < 0 {
				rt.Errorf("step %d: volume from %g, strength from %g", i, v.Low, r.Estimates[QABV].Low)
			}
		}
	})
}

// TestQuantiles: the search gives what sorting gives, whatever the shape.
func TestQuantiles(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	shapes := map[string]func() float64{
		"normal":      rng.NormFloat64,
		"rectangular": rng.Float64,
		"skewed":      rng.ExpFloat64,
		"two values":  func() float64 { return float64(rng.IntN(2)) },
		"few values":  func() float64 { return float64(rng.IntN(5)) },
		"rare outliers": func() float64 {
			if rng.IntN(200) == 0 {
				return -1000
			}
			return rng.Float64()
		},
	}
	for name, draw := range shapes {
		for _, n := range []int{100, 101, 1234} {
			v := make([]float64, n)
			for i := range v {
				v[i] = draw()
			}
			sorted := slices.Sorted(slices.Values(v))
			at := func(p float64) float64 {
				k, share := math.Modf(p * float64(n-1))
				return sorted[int(k)] + share*(sorted[int(k)+1]-sorted[int(k)])
			}
			e := estimate(0.5, v, make([]float64, n))
			closeTo(t, name+" low", e.Low, at(0.025), 1e-12)
			closeTo(t, name+" high", e.High, at(0.975), 1e-9)
		}
	}
}

// TestDoseAfterLoss: what went in after half of the batch was lost is all still
// there; what went in before is halved. Rectangular limits of 2 g in 40 g give
// an interval of 38.1 to 41.9 g.
func TestDoseAfterLoss(t *testing.T) {
	og := Exactly(1.050)
	a := Account{
		Start: Start{VolumeL: Exactly(20), OG: &og},
		Steps: []Step{LoseVolume{Exactly(10)}},
		Tracers: []Tracer{
			{Name: "before", AfterStep: 0, Amount: Within("before", 40, 2)},
			{Name: "later", AfterStep: 1, Amount: Within("later", 40, 2)},
		},
	}
	results := must(a.MonteCarlo(Draws{N: 100_000, Seed: 9}))(t)
	for i, share := range []float64{0.5, 1} {
		e := results[1].DosesGPerL[i]
		closeTo(t, "dose", e.Value, 40*share/10, 1e-9)
		// Sampling error of the quantiles: 0.002 of the limit.
		closeTo(t, "low", e.Low, 38.1*share/10, 0.002)
		closeTo(t, "high", e.High, 41.9*share/10, 0.002)
	}
}

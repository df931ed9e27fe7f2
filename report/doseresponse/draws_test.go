package doseresponse

import (
	"math"
	"math/rand/v2"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"

	"pgregory.net/rapid"
)

// In the linear Gaussian case (intensities inside the scale, no votes) the
// Laplace approximation is exact, so draws from it and importance draws must
// agree in mean and SD of the right dose.
func TestImportanceAgreesWhenGaussian(t *testing.T) {
	s := eightfold()
	for k, y := range []float64{3, 5, 7} {
		s.Trials = append(s.Trials, evidence.Trial{
			ID: string(rune('1' + k)), DoseGPerL: math.Exp(0.5 + 0.5*float64(k)),
			Scores: []evidence.Score{{Taster: "A", Intensity: &y}, {Taster: "B", Intensity: &y}},
		})
	}
	exact := mustFit(t, s, Options{})
	gauss := mustFit(t, s, Options{Approximate: true})
	m1, sd1 := exact.draws.Moments(exact.draws.Psi)
	m2, sd2 := gauss.draws.Moments(gauss.draws.Psi)
	// 800 plain draws of SD 0.6: their mean is known to 0.02
	if math.Abs(m1-m2) > 0.06 || math.Abs(sd1/sd2-1) > 0.12 {
		t.Errorf("importance %.3f +- %.3f, Gaussian %.3f +- %.3f", m1, sd1, m2, sd2)
	}
}

// effective returns the effective number of draws, 1/sum w^2.
func effective(s *field.Sample) float64 {
	var q float64
	for _, w := range s.Weight {
		q += w * w
	}
	return 1 / q
}

// The worst weight of the hardest case (own simulation, not an outside check) still leaves a good sample.
func TestEffectiveDraws(t *testing.T) {
	for _, s := range []evidence.Study{
		eightfold(trial("T1", 2.83, -1, -1, -1, -1)),
		eightfold(trial("T1", 2.83, -1, 1, -1, 1), trial("T2", 3.45, 1, -1, -1, 0)),
		benchStudy(8, 8),
	} {
		p := mustFit(t, s, Options{})
		if n := effective(p.draws); n < 1000 {
			t.Errorf("%s with %d trials: %.0f effective draws of %d", s.ID, len(s.Trials), n, len(p.draws.Weight))
		}
	}
}

// The weights that the draws give to the grid nodes agree with those of the
// Laplace approximation where it is good; prior weights of the nodes count in
// both.
func TestNodeWeightsAgree(t *testing.T) {
	for _, s := range []evidence.Study{benchStudy(4, 4),
		eightfold(trial("1", 2, -1, -1, 0, -1), trial("2", 3, 0, 0, 0, -1))} {
		p := mustFit(t, s, Options{})
		byKappa, want := map[float64]float64{}, map[float64]float64{}
		for i, at := range p.draws.Point {
			byKappa[p.points[at].Node.Kappa] += p.draws.Weight[i]
		}
		for _, pt := range p.points {
			want[pt.Node.Kappa] += pt.Weight
		}
		for kappa, w := range want {
			if math.Abs(byKappa[kappa]-w) > 0.04 {
				t.Errorf("kappa %g: draws give %.3f, Laplace %.3f", kappa, byKappa[kappa], w)
			}
		}
	}
}

func TestChiSquare8(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const n = 20000
	var sum, squares float64
	for range n {
		x := field.ChiSquare8(rng)
		sum += x
		squares += x * x
	}
	mean := sum / n
	// mean 8 and variance 16 by definition; standard errors 0.03 and 0.4
	if v := squares/n - mean*mean; math.Abs(mean-8) > 0.12 || math.Abs(v-16) > 1.5 {
		t.Errorf("mean %g, variance %g, want 8 and 16", mean, v)
	}
}

// By hand: weights 0.1, 0.2, 0.3, 0.4 on 1, 2, 3, 4 reach 0.05, 0.2, 0.45 and
// 0.8 at their middles.
func TestPoints(t *testing.T) {
	s := &field.Sample{Weight: []float64{0.4, 0.1, 0.3, 0.2}}
	v := []float64{4, 1, 3, 2}
	got := s.Points(v, field.Order(v), 0.04, 0.2, 0.21, 0.8, 0.99)
	want := []float64{1, 2, 3, 4, 4}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("points %v, want %v", got, want)
			break
		}
	}
}

// Systematic resampling takes draw i between floor and ceil of n w_i times.
func TestResample(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SliceOfN(rapid.Float64Range(0.01, 1), 2, 30).Draw(t, "w")
		s := &field.Sample{Dim: 1, Tasters: 0}
		for i, x := range w {
			s.Latent = append(s.Latent, float64(i))
			s.Point = append(s.Point, i)
			s.Weight = append(s.Weight, math.Log(x))
			s.Psi = append(s.Psi, float64((7*i)%11))
		}
		field.Normalise(s.Weight)
		s.Order = field.Order(s.Psi)
		const n = 50
		out := s.Resample(&field.Problem{Shared: 1}, n)
		count := make([]int, len(w))
		for _, i := range out.Point {
			count[i]++
		}
		if len(out.Point) != n {
			t.Fatalf("%d draws, want %d", len(out.Point), n)
		}
		for i, c := range count {
			if e := n * s.Weight[i]; float64(c) < math.Floor(e-1e-9) || float64(c) > math.Ceil(e+1e-9) {
				t.Fatalf("draw %d taken %d times, expected %g", i, c, e)
			}
		}
	})
}

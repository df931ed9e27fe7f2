package doseresponse

import (
	"math"
	"math/rand/v2"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// y = x + e with x and e of equal variance: the residual SD is sqrt(1/2) of
// that of y.
func TestResidualShare(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	var rows [][]float64
	var y []float64
	for range 4000 {
		x := rng.NormFloat64()
		rows = append(rows, []float64{x, 1})
		y = append(y, x+rng.NormFloat64())
	}
	if got := residualShare(rows, y); math.Abs(got-math.Sqrt(0.5)) > 0.02 {
		t.Errorf("residual share %.3f, want %.3f", got, math.Sqrt(0.5))
	}
	if got := residualShare([][]float64{{1}, {1}, {1}, {1}}, []float64{1, 2, 3, 4}); got < 1-1e-6 {
		t.Errorf("a constant column leaves %.3f, want all", got)
	}
}

// lessonsBy returns the lessons of a study by action.
func lessonsBy(t *testing.T, s evidence.Study) map[action]lesson {
	t.Helper()
	out := map[action]lesson{}
	for _, l := range mustFit(t, s, Options{}).Teach(evidence.Used) {
		out[l.Action] = l
	}
	return out
}

// Own simulation, not an outside check, of what teaches most a brewed batch: four jars 87, bench 81,
// single batches 74; a second tasting adds something to a single one (77).
func TestTeachOrder(t *testing.T) {
	s := eightfold(trial("T1", 2.83, -1, 0, -1, 1))
	got := lessonsBy(t, s)
	if !(got[fourJars].Narrowing > got[oneBatch].Narrowing) {
		t.Errorf("jars narrow by %.2f, one batch by %.2f", got[fourJars].Narrowing, got[oneBatch].Narrowing)
	}
	if r := got[blindRepeat]; !(r.Narrowing > 0.02) || r.Brews != 0 || len(r.DosesGPerL) != 1 {
		t.Errorf("blind repeat %+v", r)
	}
	for a, l := range got {
		if !(l.FactorAfter > 1 && l.FactorAfter <= l.FactorNow && l.Narrowing >= 0 && l.Narrowing < 1) {
			t.Errorf("%s: %+v", a, l)
		}
	}
	if len(lessonsBy(t, eightfold())) != 4 {
		t.Error("nothing to repeat without a brew")
	}
}

// The promise is kept on average: after four jars scored by friends drawn from
// the posterior's own model the mean SD is near the promised one.
func TestTeachKeepsItsPromise(t *testing.T) {
	base := eightfold(trial("T1", 2.83, -1, 0, -1))
	p := mustFit(t, base, Options{})
	promised := residualShare(p.simulate(fourJars, p.Spread(4)), p.kept.Psi) * p.psiSD
	rng := rand.New(rand.NewPCG(8, 8))
	var sum float64
	const cases = 40
	for c := range cases {
		i := c * len(p.kept.Point) / cases
		s := base
		shared := p.kept.At(i)[2*p.kept.Tasters:]
		nd := p.points[p.kept.Point[i]].Node
		shift := field.BatchSDLn * rng.NormFloat64()
		for _, d := range p.Spread(4) {
			tr := evidence.Trial{DoseGPerL: d, Kind: evidence.Jar, Group: "B2", Method: "tea"}
			e := math.Log(d) - p.prob.Origin + shift
			for j, who := range p.prob.Tasters {
				v := p.kept.At(i)
				l, _, m := field.NewWindow(&nd, 1).Chances(e - shared[p.prob.Theta] - v[2*j])
				vote, u := 0, rng.Float64()
				if u < l {
					vote = -1
				} else if u > 1-m {
					vote = 1
				}
				y := shared[p.prob.Alpha] + v[2*j+1] + nd.Beta*(e-shared[p.prob.Theta]) + nd.Sy*rng.NormFloat64()
				tr.Scores = append(tr.Scores, score(who, vote, math.Round(max(0, min(10, y)))))
			}
			s.Trials = append(s.Trials[:len(s.Trials):len(s.Trials)], tr)
		}
		v := mustFit(t, s, Options{Approximate: true}).psiSD
		sum += v * v / cases
	}
	// a linear reading of the answers may promise up to a quarter too little
	if kept := math.Sqrt(sum); kept > promised*1.12 || kept < promised*0.75 {
		t.Errorf("promised SD %.3f, kept %.3f", promised, kept)
	}
}

// Own simulation, not an outside check, before any brew: dosing to taste up and down
// does as five glasses do, with the extract that goes into the beer far better (57, 57
// and 80 % near the best). Where no extract can be had nothing is offered.
func TestTeachToTaste(t *testing.T) {
	p := mustFit(t, eightfold(), Options{})
	by := func(e evidence.Extract) map[action]lesson {
		out := map[action]lesson{}
		for _, l := range p.Teach(e) {
			out[l.Action] = l
		}
		return out
	}
	used, other, none := by(evidence.Used), by(evidence.Other), by("")
	glasses := other[benchSeries].Narrowing
	if a, b := used[doseToTaste].Narrowing, other[doseToTaste].Narrowing; !(a > b+0.1) || math.Abs(b-glasses) > 0.12 {
		t.Errorf("narrows by %.2f with the used extract, %.2f with another, glasses by %.2f", a, b, glasses)
	}
	if l := used[doseToTaste]; l.Brews != 0 || len(l.DosesGPerL) != 2 || l.DosesGPerL[0] > 0.25 || l.DosesGPerL[1] < 16 {
		t.Errorf("starts at %v of claims from 1 to 8", l.DosesGPerL)
	}
	if _, ok := none[doseToTaste]; ok || len(none) != 3 {
		t.Errorf("offered without an extract: %v", none)
	}
}

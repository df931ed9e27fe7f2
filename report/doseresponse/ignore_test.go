package doseresponse

import (
	"math"
	"testing"

	"hedgerow/report/field"
)

// Votes that go with the dose do not ignore it, votes that go nowhere do.
func TestIgnored(t *testing.T) {
	follows := eightfold(trial("1", 1.5, -1, -1, -1, -1), trial("2", 3, 0, 0, -1, 0), trial("3", 6, 1, 1, 1, 1))
	if got := mustFit(t, follows, Options{}).ignored(); got > 0.01 {
		t.Errorf("votes that follow the dose ignore it with %.3f", got)
	}
	random := eightfold(
		marked(trial("1", 1.5, 1, 0, -1, 0), 5, 4, 5, 4), marked(trial("2", 3, -1, 1, 0, -1), 5, 5, 4, 5),
		marked(trial("3", 5, 0, -1, 1, -1), 4, 4, 5, 4), marked(trial("4", 7, -1, 0, -1, 1), 4, 5, 4, 5))
	p := mustFit(t, random, Options{})
	if got := p.ignored(); got < 0.5 {
		t.Errorf("votes that go nowhere ignore the dose with %.3f", got)
	}
	e := p.RightDose()
	if *e.High / *e.Low < 3 {
		t.Errorf("and yet the right dose lies between %.2f and %.2f", *e.Low, *e.High)
	}
	if got := mustFit(t, eightfold(), Options{}).ignored(); got != 0 {
		t.Errorf("no votes ignore the dose with %g", got)
	}
}

// A taster whose answers run against those of all others is suspected and moves
// nothing; one who agrees is not.
func TestSuspect(t *testing.T) {
	s := eightfold()
	for k, d := range []float64{1, 2, 4, 8} {
		votes := [][]int{{-1, -1, -1, 1}, {-1, -1, 0, 0}, {0, 0, 0, -1}, {1, 1, 1, -1}}[k]
		s.Trials = append(s.Trials, marked(trial(string(rune('1'+k)), d, votes...),
			[][]float64{{2, 3, 2, 8}, {4, 4, 5, 3}, {5, 6, 5, 5}, {8, 8, 9, 2}}[k]...))
	}
	p := mustFit(t, s, Options{})
	r := p.strays
	if r[3] < leftOut || r[0] > trustedWhole || r[1] > trustedWhole || r[2] > trustedWhole {
		t.Fatalf("chances to be random %.3f", r)
	}
	if len(p.prob.Panel) != 3 {
		t.Errorf("panel %v", p.prob.Panel)
	}
	for k := range s.Trials {
		s.Trials[k].Scores = s.Trials[k].Scores[:3]
	}
	without := mustFit(t, s, Options{}).NextDose().DoseGPerL
	if d := p.NextDose().DoseGPerL; math.Abs(math.Log(d/without)) > 0.15 {
		t.Errorf("next %.2f g/L, %.2f without D", d, without)
	}
}

// Two of four who score at random speak for each other as long as both are trusted: they
// are found out one after the other. The answers of C and D were drawn with a die.
func TestSuspectTwo(t *testing.T) {
	for name, random := range map[string]struct {
		votes [4][2]int
		marks [4][2]float64
	}{
		"both in doubt at first": {[4][2]int{{-1, 1}, {0, 1}, {0, 0}, {-1, 1}},
			[4][2]float64{{5, 6}, {9, 5}, {6, 5}, {4, 5}}},
		"C behind D": {[4][2]int{{-1, -1}, {1, 1}, {1, -1}, {1, -1}},
			[4][2]float64{{3, 8}, {1, 9}, {3, 3}, {3, 1}}},
	} {
		s := eightfold()
		for k, d := range []float64{1, 2, 4, 8} {
			votes := append([][]int{{-1, -1}, {-1, 0}, {0, 0}, {1, 1}}[k], random.votes[k][:]...)
			marks := append([][]float64{{2, 3}, {4, 4}, {5, 6}, {8, 8}}[k], random.marks[k][:]...)
			s.Trials = append(s.Trials, marked(trial(string(rune('1'+k)), d, votes...), marks...))
		}
		p := mustFit(t, s, Options{})
		if r := p.strays; r[0] > trustedWhole || r[1] > trustedWhole || r[2] < leftOut || r[3] < leftOut {
			t.Errorf("%s: chances to be random %.3f", name, r)
		}
		if len(p.prob.Panel) != 2 {
			t.Errorf("%s: panel %v", name, p.prob.Panel)
		}
	}
}

// The density of two intensities at random against a sum over the level.
func TestLnRandom(t *testing.T) {
	tr := marked(trial("1", 3, 0), 3)
	tr2 := marked(trial("2", 3, 1), 6)
	p, err := problemOf(eightfold(tr, tr2), nil)
	if err != nil {
		t.Fatal(err)
	}
	got, answers, inside := lnRandom(field.NewField(p), 0)
	var want float64
	for _, v := range []float64{1.44, 4.84} {
		const step = 0.01
		for a := -9.0; a < 9; a += step {
			want += step / 2 * normalDensity(a, 1.5) * normalDensity(3-5-a, math.Sqrt(v)) * normalDensity(6-5-a, math.Sqrt(v))
		}
	}
	want = math.Log(want / 9)
	if math.Abs(got-want) > 1e-4 || answers != 4 || inside != 2 {
		t.Errorf("ln probability %.5f, want %.5f; %d answers, %d inside", got, want, answers, inside)
	}
}

// Where the beers are to be tasted again the interval and the jars are as wide as the
// advice alone leaves them: the claims 1 to 8 have an SD of 0.67, which is a factor of 3
// either way, and the wide copy of them adds to it.
func TestRetasteIsWide(t *testing.T) {
	s := eightfold(spoken("1", 1.5, 1, -1, 0, 0), spoken("2", 3, -1, 1, 1, 0), spoken("3", 6, 0, -1, -1, 1))
	p := mustFit(t, s, Options{})
	if p.verdict() != Retaste {
		t.Fatalf("verdict %s, votes ignore the dose with %.2f", p.verdict(), p.ignored())
	}
	alone := mustFit(t, eightfold(), Options{})
	r, a := p.RightDose(), alone.RightDose()
	wide := func(low, high float64) float64 { return math.Log(high / low) }
	if got, want := wide(*r.Low, *r.High), wide(*a.Low, *a.High); got < 0.9*want {
		t.Errorf("interval a factor of %.1f wide, that of the advice alone %.1f", math.Exp(got), math.Exp(want))
	}
	jars, free := p.Spread(4), alone.Spread(4)
	if got, want := wide(jars[0], jars[3]), wide(free[0], free[3]); got < 0.85*want {
		t.Errorf("jars %.2f, by the advice alone %.2f", jars, free)
	}
}

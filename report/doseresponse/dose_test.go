package doseresponse

import (
	"math"
	"reflect"
	"sync"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/testdata/properties"

	"pgregory.net/rapid"
)

// csvStudy returns the study of a check file with the claim [1, 8].
func csvStudy(t *testing.T, name string) evidence.Study {
	t.Helper()
	s, err := readRows(evaluation{CSV: name + ".csv", Span: 8}, openTestdata)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Own simulation, not an outside check: median right dose over tried dose and 90 %
// interval before the widening, from exact posteriors; printed to two digits.
func TestFailureModes(t *testing.T) {
	tests := []struct {
		name           string
		mid, low, high float64
	}{
		{"one_taster_one_trial_low", 2.2, 0.98, 5.5},
		{"four_tasters_all_too_little", 3.0, 1.6, 6.1},
		{"contradictory", 1.27, 0.77, 2.2},
	}
	for _, tt := range tests {
		p := mustFit(t, csvStudy(t, tt.name), Options{plain: true})
		tried := p.prob.Beers[0].X
		for _, c := range [][2]float64{{p.psiQ.mid, tt.mid}, {p.psiQ.low, tt.low}, {p.psiQ.high, tt.high}} {
			// the rows allow 0.08 in ln; a rounding of two digits adds up to 0.02
			if got := c[0] - tried; math.Abs(got-math.Log(c[1])) > 0.1 {
				t.Errorf("%s: x%.2f, want x%g", tt.name, math.Exp(got), c[1])
			}
		}
	}
	p := mustFit(t, csvStudy(t, "contradictory"), Options{plain: true})
	if right := p.NextDose().PRight; math.Abs(right-0.29) > 0.025 {
		t.Errorf("contradictory panel: %.3f just right at best, want 0.29", right)
	}
}

// Another unit of dose changes nothing but the unit.
func TestUnitOfDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStudy(t)
		k := rapid.Float64Range(0.05, 20).Draw(t, "k")
		scaled := s
		scaled.ClaimsGPerL = [][2]float64{{k, 8 * k}}
		scaled.Trials = append([]evidence.Trial(nil), s.Trials...)
		for i := range scaled.Trials {
			scaled.Trials[i].DoseGPerL *= k
		}
		a, errA := Fit(s, Options{Approximate: true})
		b, errB := Fit(scaled, Options{Approximate: true})
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		x, y := a.NextDose(), b.NextDose()
		if math.Abs(math.Log(y.DoseGPerL/x.DoseGPerL/k)) > 1e-3 || math.Abs(x.PRight-y.PRight) > 1e-3 {
			t.Fatalf("next %+v, in another unit %+v", x, y)
		}
	})
}

// Every answer is finite and in its range, and the same the second time.
func TestAnswerRanges(t *testing.T) {
	properties.CheckFew(t, func(t *rapid.T) {
		s := drawStudy(t)
		p, err := Fit(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		n := p.NextDose()
		if sum := n.PTooLittle + n.PRight + n.PTooMuch; math.Abs(sum-1) > 1e-9 {
			t.Fatalf("shares sum to %g", sum)
		}
		for _, share := range []float64{n.PTooLittle, n.PRight, n.PTooMuch, n.PNearBest, n.ExpectedRegret} {
			if !(share >= 0 && share <= 1) {
				t.Fatalf("share outside 0 to 1 in %+v", n)
			}
		}
		e := p.RightDose()
		if !(0 < *e.Low && *e.Low < e.Value && e.Value < *e.High && !math.IsInf(*e.High, 0)) {
			t.Fatalf("right dose %g (%g to %g)", e.Value, *e.Low, *e.High)
		}
		again, _ := Fit(s, Options{})
		if !reflect.DeepEqual(p.Answer(), again.Answer()) {
			t.Fatal("a second fit differs")
		}
	})
}

// A vote of too little more raises the dose, a vote of too much lowers it.
func TestVotesMoveTheDose(t *testing.T) {
	best := func(votes ...int) float64 {
		tr := trial("T1", 3, votes...)
		for i := range tr.Scores {
			tr.Scores[i].Intensity = nil
		}
		return mustFit(t, eightfold(tr), Options{}).RightDose().Value
	}
	last := math.Inf(1)
	for _, votes := range [][]int{{-1, -1, -1}, {-1, -1, 0}, {-1, 0, 0}, {0, 0, 0}, {0, 0, 1}, {0, 1, 1}, {1, 1, 1}} {
		d := best(votes...)
		if d >= last {
			t.Errorf("votes %v: %.3f g/L, not below %.3f", votes, d, last)
		}
		last = d
	}
}

// Claims may be wrong: when all votes at their end lie on one side the suggestion
// goes on beyond it, further with each step, and mirror-wise at the other end.
func TestBeyondTheClaims(t *testing.T) {
	var trials []evidence.Trial
	last := 0.0
	for k, d := range []float64{4, 8, 16} {
		trials = append(trials, trial(string(rune('1'+k)), d, -1, -1, -1, -1))
		next := mustFit(t, eightfold(trials...), Options{}).NextDose()
		if next.DoseGPerL <= 1.1*d || next.DoseGPerL <= last || next.PTooLittle > 0.5 {
			t.Errorf("after %g g/L were too little: %+v", d, next)
		}
		last = next.DoseGPerL
	}
	mirror := mustFit(t, eightfold(trial("1", 2, 1, 1, 1, 1), trial("2", 1, 1, 1, 1, 1)), Options{})
	if next := mirror.NextDose(); next.DoseGPerL >= 1/1.1 || next.PTooMuch > 0.5 {
		t.Errorf("after 1 g/L was too much: %+v", next)
	}
}

// While all votes lie on one side nothing that was refused is offered again, by
// itself, in a jar or in a glass; with votes on both sides a dose that all refused
// is not brewed either. A tenth above or below is clear of it ([1] section 10).
func TestRefusedIsNotOffered(t *testing.T) {
	little := mustFit(t, eightfold(spoken("1", 1.4, -1, -1, -1), spoken("2", 4, -1, -1, -1)), Options{})
	for _, d := range append(append(little.Spread(4), little.Glasses()[1:]...), little.NextDose().DoseGPerL) {
		if d < 4*1.0999 {
			t.Errorf("%.2f g/L is offered though 4 g/L was too little for all", d)
		}
	}
	much := mustFit(t, eightfold(spoken("1", 6, 1, 1, 1), spoken("2", 1.5, 1, 1, 1)), Options{})
	for _, d := range append(append(much.Spread(4), much.Glasses()[1:]...), much.NextDose().DoseGPerL) {
		if d > 1.5/1.0999 {
			t.Errorf("%.2f g/L is offered though 1.5 g/L was too much for all", d)
		}
	}
	// By hand: of a panel of two sides 2 and 6 g/L are refused; one taster refuses nothing; where
	// the too little is not below the too much neither counts; nor does a glass.
	r := mustFit(t, eightfold(spoken("1", 2, -1, -1), spoken("2", 6, 1, 1), spoken("3", 3, 0, 1)), Options{}).refused()
	if r.tooLittle != 2 || r.tooMuch != 6 || r.keep(2.1) != 2*refusedStep || r.keep(9) != 6/refusedStep || r.keep(4) != 4 {
		t.Errorf("refused %+v", r)
	}
	by := func(method string, t evidence.Trial) evidence.Trial { t.Method = method; return t }
	aged := func(days float64, t evidence.Trial) evidence.Trial { t.DaysOld = &days; return t }
	for name, s := range map[string]evidence.Study{
		"one taster":   eightfold(spoken("1", 2, -1)),
		"crossed":      eightfold(spoken("1", 4, -1, -1), spoken("2", 3, 1, 1)),
		"not all":      eightfold(spoken("1", 2, -1, 0)),
		"a glass":      eightfold(with(spoken("1", 2, -1, -1), func(t *evidence.Trial) { t.Kind = evidence.Glass })),
		"another way":  eightfold(spoken("1", 2, 0, 0), spoken("2", 4, 1, 0), by(contact, spoken("3", 9, 1, 1))),
		"another time": eightfold(aged(90, spoken("1", 2, -1, -1)), aged(30, spoken("2", 3, 0, 0))),
	} {
		if name == "another time" {
			at := 30.0
			s.DrinkAtDays = &at
		}
		if r := mustFit(t, s, Options{}).refused(); r.tooLittle != 0 || !math.IsInf(r.tooMuch, 1) {
			t.Errorf("%s: refused %+v", name, r)
		}
	}
}

// Of peaks that are as good as equal the lower dose is taken, but a shoulder, a ripple
// beside the top and a lower peak are none. By hand.
func TestLowestPeak(t *testing.T) {
	for _, c := range []struct {
		name   string
		shares []float64
		want   int
	}{
		{"one hill", []float64{0.1, 0.3, 0.5, 0.3, 0.1}, 2},
		{"two equal peaks", []float64{0.1, 0.5, 0.2, 0.2, 0.5, 0.1}, 1},
		{"the upper better by 0.009", []float64{0.1, 0.5, 0.2, 0.2, 0.509, 0.1}, 1},
		{"the upper better by 0.011", []float64{0.1, 0.5, 0.2, 0.2, 0.511, 0.1}, 4},
		{"a ripple beside the top", []float64{0.1, 0.2, 0.5, 0.49, 0.505, 0.1}, 4},
		{"a shoulder", []float64{0.1, 0.495, 0.496, 0.497, 0.5, 0.1}, 4},
	} {
		if got := lowestPeak(c.shares, 3); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// The best attainable share agrees with a fine search over doses.
func TestAttainable(t *testing.T) {
	p := mustFit(t, eightfold(trial("T1", 3, 0, 0)), Options{Approximate: true})
	look := p.newScan()
	var shares [bestSteps + 1]float64
	for i := range 50 {
		v := p.kept.At(i)
		theta := v[4+p.prob.Theta]
		best, top := p.attainable(i, &shares), 0.0
		for x := -2.0; x <= 2; x += 0.01 {
			top = max(top, look.at(theta+x).panel(i))
		}
		if math.Abs(best-top) > 0.002 {
			t.Fatalf("draw %d: the best of a fine search is %.3f, attainable says %.3f", i, top, best)
		}
	}
}

func TestGoldenMax(t *testing.T) {
	got := goldenMax(func(x float64) float64 { return -(x - 0.3) * (x - 0.3) }, -1, 2)
	if math.Abs(got-0.3) > goldenTol {
		t.Errorf("maximum at %g, want 0.3", got)
	}
}

// A posterior may be asked by several goroutines at once (run with -race).
func TestConcurrentUse(t *testing.T) {
	p := mustFit(t, benchStudy(3, 3), Options{})
	want := p.Answer()
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if !reflect.DeepEqual(p.Answer(), want) {
				t.Error("answers differ")
			}
			p.Teach(evidence.Used)
			p.Tasters()
		})
	}
	wg.Wait()
}

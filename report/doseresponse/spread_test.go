package doseresponse

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// n jars at best * exp(s (2j - n + 1)), s = max(0.10, 0.30 SD) (judgement, lessons.go).
func TestSpread(t *testing.T) {
	p := mustFit(t, eightfold(trial("1", 3, 0, 0)), Options{})
	doses := p.Spread(4)
	s := max(0.10, 0.30*p.psiSD)
	for j, d := range doses {
		want := p.NextDose().DoseGPerL * math.Exp(s*[]float64{-3, -1, 1, 3}[j])
		if math.Abs(d/want-1) > 1e-12 {
			t.Errorf("jar %d: %g g/L, want %g", j, d, want)
		}
	}
	if p.Spread(0) != nil || p.Spread(1)[0] != p.NextDose().DoseGPerL {
		t.Error("no jar has no dose; one jar has the next dose")
	}
	known := mustFit(t, benchStudy(8, 8), Options{})
	if d := known.Spread(2); math.Abs(d[1]/d[0]-math.Exp(0.2)) > 1e-9 {
		t.Errorf("jars of a well-known dose are x%.3f apart, want exp(0.2)", d[1]/d[0])
	}
}

// Claim 1 to 8: glasses at 8^0.1, 8^0.3, ... = 1.231, 1.866, 2.828, 4.287,
// 6.498 (hand calculation), after one of 0.
func TestGlassesFromClaims(t *testing.T) {
	got := mustFit(t, eightfold(), Options{}).Glasses()
	want := []float64{0, 1.231, 1.866, 2.828, 4.287, 6.498}
	if len(got) != len(want) {
		t.Fatalf("glasses %v", got)
	}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 0.001 {
			t.Errorf("glass %d: %.3f, want %.3f", i, got[i], want[i])
		}
	}
}

// With scores they stand at points of the posterior, in ascending order and
// inside its limits.
func TestGlassesFromScores(t *testing.T) {
	p := mustFit(t, eightfold(trial("1", 3, -1, -1, 0)), Options{})
	got := p.Glasses()
	for i := 1; i < len(got); i++ {
		if got[i] <= got[i-1] {
			t.Errorf("glasses %v do not rise", got)
		}
	}
	if len(got) != 6 || got[1] < p.dose(p.psiQ.low) || got[5] > p.dose(p.psiQ.high) {
		t.Errorf("glasses %v outside the posterior", got)
	}
}

// Advice of one dose alone is no range: the glasses still differ, evenly about it, since
// advice is off by more than what a palate tells apart (1.1 times, judgement).
func TestGlassesOfOneAdvisedDose(t *testing.T) {
	got := mustFit(t, evidence.Study{ID: "one", ClaimsGPerL: [][2]float64{{2, 2}}}, Options{}).Glasses()[1:]
	for i := 1; i < len(got); i++ {
		if got[i] < 1.1*got[i-1] {
			t.Errorf("glasses at %.3g: two alike", got)
		}
	}
	if middle := got[len(got)/2]; middle < 1.6 || middle > 2.5 {
		t.Errorf("the middle one has %.3g g/L, about 2 was advised", middle)
	}
}

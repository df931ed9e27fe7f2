package doseresponse

import (
	"math"
	"strings"
	"testing"

	"hedgerow/report/evidence"
)

// A target below, at and above what the panel scored at 3 g/L asks for less,
// about as much, and more.
func TestTargetIntensity(t *testing.T) {
	dose := func(target float64) *Posterior {
		s := eightfold(trial("T1", 2, -1, -1), trial("T2", 4, 1, 1))
		s.TargetIntensity = &target
		return mustFit(t, s, Options{})
	}
	low, mid, high := dose(3).NextDose(), dose(5.5).NextDose(), dose(8).NextDose()
	if !(low.DoseGPerL < mid.DoseGPerL && mid.DoseGPerL < high.DoseGPerL) {
		t.Errorf("targets 3, 5.5, 8: %.2f, %.2f, %.2f g/L", low.DoseGPerL, mid.DoseGPerL, high.DoseGPerL)
	}
	// 3 and 8 were the scores at 2 and 4 g/L; the line between passes 5.5 at 2.83
	if math.Abs(math.Log(mid.DoseGPerL/2.83)) > 0.15 {
		t.Errorf("target 5.5: %.2f g/L, want about 2.83", mid.DoseGPerL)
	}
	e := dose(5.5).RightDose()
	if !(*e.Low < mid.DoseGPerL && mid.DoseGPerL < *e.High) || mid.PNearBest <= 0 || mid.ExpectedRegret <= 0 {
		t.Errorf("estimate %v to %v, next %+v", *e.Low, *e.High, mid)
	}
}

// An unwanted taste that climbs past its limit between 2 and 4 g/L holds the
// dose below 4, and says so; one that stays low does not.
func TestAvoid(t *testing.T) {
	study := func(at2, at4 float64) evidence.Study {
		s := eightfold(trial("T1", 2, -1, -1, -1), trial("T2", 4, -1, -1, 0))
		a := evidence.Avoid{Attribute: "astringency", AtMost: 3}
		for _, who := range []string{"A", "B", "C"} {
			a.Scores = append(a.Scores, evidence.AvoidScore{Trial: "T1", Taster: who, Intensity: at2},
				evidence.AvoidScore{Trial: "T2", Taster: who, Intensity: at4})
		}
		s.Avoid = []evidence.Avoid{a}
		return s
	}
	free := study(1, 6)
	free.Avoid = nil
	wanted := mustFit(t, free, Options{}).NextDose().DoseGPerL
	harsh := mustFit(t, study(1, 6), Options{})
	if got := harsh.NextDose().DoseGPerL; got >= 4 || got < 1 {
		t.Errorf("next %.2f g/L although 4 g/L scored 6 where 3 is allowed", got)
	}
	limit, _ := harsh.avoidLimit()
	if top := harsh.Spread(4)[3]; top > harsh.dose(limit)*1.0001 {
		t.Errorf("a jar at %.2f g/L is past the limit", top)
	}
	if w := strings.Join(texts(harsh.warnings()), "\n"); !strings.Contains(w, "astringency above 3") {
		t.Errorf("warnings do not name the limit:\n%s", w)
	}
	// what is mild at 4 g/L may still rise above it: the next dose hardly moves
	if got := mustFit(t, study(0, 0.5), Options{}).NextDose().DoseGPerL; got > wanted || got < wanted/1.25 {
		t.Errorf("next %.2f g/L with a harmless taste, %.2f without", got, wanted)
	}
}

// Chances are small, not nothing: no draw is near the best of what a panel likes
// when the dose is held far below, and a dose is far off for all.
func TestSmallChancesAreNotNone(t *testing.T) {
	s := eightfold(trial("1", 6, 0, 0, 0, 0), trial("2", 2, -1, -1, -1, -1))
	s.Avoid = []evidence.Avoid{{Attribute: "astringency", AtMost: 1}}
	for range 20 {
		s.Avoid[0].Scores = append(s.Avoid[0].Scores, evidence.AvoidScore{Trial: "1", Taster: "A", Intensity: 10},
			evidence.AvoidScore{Trial: "2", Taster: "A", Intensity: 4})
	}
	p := mustFit(t, s, Options{})
	if n := p.NextDose(); !(n.PNearBest > 0 && n.PNearBest < 0.002) || percent(n.PNearBest) != "less than 1 %" {
		t.Errorf("near the best: %g, %s", n.PNearBest, percent(n.PNearBest))
	}
	if _, right, _ := p.votesAt(30); !(right > 0) {
		t.Errorf("just right at a dose of e^30 times: %g", right)
	}
	if got := percent(math.SmallestNonzeroFloat64); got != "less than 1 %" {
		t.Errorf("a chance at 50 SDs: %s", got)
	}
	if got := percent(0); got != "0 %" {
		t.Errorf("none: %s", got)
	}
	target := 9.9
	s.TargetIntensity = &target
	if n := mustFit(t, s, Options{}).NextDose(); !(n.PNearBest > 0 && n.PNearBest < 0.01) {
		t.Errorf("near a target far above what is allowed: %g", n.PNearBest)
	}
}

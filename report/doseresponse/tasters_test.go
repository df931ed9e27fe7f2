package doseresponse

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// bySteps returns three brews; vote tells each taster's vote at step 0, 1, 2.
func bySteps(votes map[string][3]int) evidence.Study {
	s := eightfold()
	for k, d := range []float64{1.5, 3, 6} {
		t := evidence.Trial{ID: string(rune('1' + k)), DoseGPerL: d}
		for _, who := range []string{"A", "B", "C"} {
			if v, ok := votes[who]; ok {
				y := float64(3 + 2*k)
				if v[0] > v[2] { // against the dose in all that is said
					y = 10 - y
				}
				t.Scores = append(t.Scores, score(who, v[k], y))
			}
		}
		s.Trials = append(s.Trials, t)
	}
	return s
}

func TestTasterOffsets(t *testing.T) {
	p := mustFit(t, bySteps(map[string][3]int{"A": {-1, -1, 0}, "B": {-1, 0, 1}, "C": {0, 1, 1}}), Options{})
	got := p.Tasters()
	if len(got) != 3 || got[0].Name != "A" || got[0].Votes != 3 || got[0].Intensities != 3 {
		t.Fatalf("tasters %+v", got)
	}
	if !(got[0].Offset.Value > 1.05 && got[2].Offset.Value < 0.95) {
		t.Errorf("A wants more and C less, but offsets are x%.2f and x%.2f", got[0].Offset.Value, got[2].Offset.Value)
	}
	product := got[0].Offset.Value * got[1].Offset.Value * got[2].Offset.Value
	if math.Abs(math.Log(product)) > 0.1 {
		t.Errorf("offsets multiply to %.2f, want about 1", product)
	}
	for _, r := range got {
		if r.Constant || r.Random {
			t.Errorf("%s is called constant %v, random %v", r.Name, r.Constant, r.Random)
		}
	}
	if mustFit(t, eightfold(), Options{}).Tasters() != nil {
		t.Error("tasters without scores")
	}
}

func TestOddTasters(t *testing.T) {
	s := bySteps(map[string][3]int{"A": {-1, 0, 1}, "B": {1, 0, -1}, "C": {0, 0, 0}})
	got := mustFit(t, s, Options{}).Tasters()
	if !got[1].Random || got[0].Random {
		t.Errorf("B votes against the dose: random %v; A: %v", got[1].Random, got[0].Random)
	}
	if !got[2].Constant || got[0].Constant {
		t.Errorf("C votes the same over x4: constant %v; A: %v", got[2].Constant, got[0].Constant)
	}
	if !(got[0].Sharpness > got[1].Sharpness) {
		t.Errorf("sharpness of A %.2f, of B %.2f", got[0].Sharpness, got[1].Sharpness)
	}
}

// By hand: pairs (4, 6) and (5, 5) about their means: (1 + 1 + 0 + 0)/2 = 1.
func TestRepeatSD(t *testing.T) {
	s := eightfold(trial("1", 2, -1), trial("2", 4, 0))
	for k, pair := range [][2]float64{{4, 6}, {5, 5}} {
		s.Trials[k].Scores = []evidence.Score{score("A", 0, pair[0]), score("A", 0, pair[1])}
	}
	got := mustFit(t, s, Options{}).Tasters()[0]
	if got.RepeatSD == nil || math.Abs(*got.RepeatSD-1) > 1e-12 {
		t.Errorf("repeat SD %v, want 1", got.RepeatSD)
	}
	single := mustFit(t, eightfold(trial("1", 2, -1)), Options{}).Tasters()[0]
	if single.RepeatSD != nil || single.NoiseSD != nil {
		t.Errorf("one score has no spread: %+v", single)
	}
}

// Scores that follow the model's line leave little noise; scattered ones much.
func TestNoiseSD(t *testing.T) {
	noise := func(ys ...float64) float64 {
		s := eightfold()
		for k, y := range ys {
			s.Trials = append(s.Trials, evidence.Trial{ID: string(rune('1' + k)), DoseGPerL: 1.5 * math.Pow(1.6, float64(k)),
				Scores: []evidence.Score{score("A", 0, y), score("B", 0, 4+1.2*float64(k))}})
		}
		return *mustFit(t, s, Options{}).Tasters()[0].NoiseSD
	}
	if even, odd := noise(4, 5.2, 6.4, 7.6), noise(7, 2, 9, 5); even > 1 || odd < 1.5 {
		t.Errorf("noise %.2f on a line, %.2f scattered", even, odd)
	}
}

package doseresponse

import (
	"errors"
	"math"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

func TestClaimPrior(t *testing.T) {
	ln8 := math.Log(8)
	tests := []struct {
		name   string
		study  evidence.Study
		mean   float64
		sd     float64
		within float64
	}{
		// one 8-fold claim has S0 = 0.67 (judgement, prior.go; two digits)
		{"8-fold", evidence.Study{ClaimsGPerL: [][2]float64{{1, 8}}}, ln8 / 2, 0.67, 0.005},
		{"exact claim", evidence.Study{ClaimsGPerL: [][2]float64{{3, 3}}}, math.Log(3), 0.3, 1e-9},
		// by hand: middles ln 1 and ln 4, spread (ln 4 / 2)^2, no width
		{"two exact claims", evidence.Study{ClaimsGPerL: [][2]float64{{1, 1}, {4, 4}}},
			math.Ln2, math.Sqrt(math.Ln2*math.Ln2 + 0.09), 1e-9},
		{"no claim", evidence.Study{Trials: []evidence.Trial{trial("0", 0, -1), {DoseGPerL: 9}, trial("1", 5, -1)}},
			math.Log(5), 1.5, 1e-9},
		// by hand: sqrt(2*8) = 4, however many lie between
		{"no claim, several doses", evidence.Study{Trials: []evidence.Trial{trial("1", 8, -1), trial("2", 7, -1),
			trial("3", 2, -1)}},
			math.Log(4), 1.5, 1e-9},
	}
	for _, tt := range tests {
		got, ok := field.ClaimPrior(tt.study)
		if !ok || math.Abs(got.Mean-tt.mean) > 1e-9 || math.Abs(got.Sd-tt.sd) > tt.within {
			t.Errorf("%s: %+v %v, want mean %g sd %g", tt.name, got, ok, tt.mean, tt.sd)
		}
	}
}

func TestNotEnough(t *testing.T) {
	for _, s := range []evidence.Study{
		{ID: "empty"},
		{ID: "only a control", Trials: []evidence.Trial{trial("T0", 0, -1)}},
		{ID: "nobody has tasted", Trials: []evidence.Trial{{ID: "T1", DoseGPerL: 3}}},
	} {
		if _, err := Fit(s, Options{}); !errors.Is(err, evidence.ErrNotEnough) {
			t.Errorf("%s: err = %v, want ErrNotEnough", s.ID, err)
		}
	}
}

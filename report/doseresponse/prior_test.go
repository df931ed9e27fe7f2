package doseresponse

import (
	"errors"
	"math"
	"testing"
)

func TestClaimPrior(t *testing.T) {
	ln8 := math.Log(8)
	tests := []struct {
		name   string
		study  Study
		mean   float64
		sd     float64
		within float64
	}{
		// one 8-fold claim has S0 = 0.67 (judgement, prior.go; two digits)
		{"8-fold", Study{ClaimsGPerL: [][2]float64{{1, 8}}}, ln8 / 2, 0.67, 0.005},
		{"exact claim", Study{ClaimsGPerL: [][2]float64{{3, 3}}}, math.Log(3), 0.3, 1e-9},
		// by hand: middles ln 1 and ln 4, spread (ln 4 / 2)^2, no width
		{"two exact claims", Study{ClaimsGPerL: [][2]float64{{1, 1}, {4, 4}}},
			math.Ln2, math.Sqrt(math.Ln2*math.Ln2 + 0.09), 1e-9},
		{"no claim", Study{Trials: []Trial{trial("0", 0, -1), {DoseGPerL: 9}, trial("1", 5, -1)}}, math.Log(5), 1.5, 1e-9},
		// by hand: sqrt(2*8) = 4, however many lie between
		{"no claim, several doses", Study{Trials: []Trial{trial("1", 8, -1), trial("2", 7, -1), trial("3", 2, -1)}},
			math.Log(4), 1.5, 1e-9},
	}
	for _, tt := range tests {
		got, ok := claimPrior(tt.study)
		if !ok || math.Abs(got.mean-tt.mean) > 1e-9 || math.Abs(got.sd-tt.sd) > tt.within {
			t.Errorf("%s: %+v %v, want mean %g sd %g", tt.name, got, ok, tt.mean, tt.sd)
		}
	}
}

func TestNotEnough(t *testing.T) {
	for _, s := range []Study{
		{ID: "empty"},
		{ID: "only a control", Trials: []Trial{trial("T0", 0, -1)}},
		{ID: "nobody has tasted", Trials: []Trial{{ID: "T1", DoseGPerL: 3}}},
	} {
		if _, err := Fit(s, Options{}); !errors.Is(err, ErrNotEnough) {
			t.Errorf("%s: err = %v, want ErrNotEnough", s.ID, err)
		}
	}
}

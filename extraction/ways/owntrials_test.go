package ways

import (
	"math"
	"strings"
	"testing"

	"hedgerow/extraction"
)

// The published rows again, taken together: intercepts 2.0 and 1.2, slope 3.2,
// sd 0.4 and 0.6, t 2.228 give R 0.5623 between 10^-0.6345 and 10^0.0288.
func TestPotencyFromTrials(t *testing.T) {
	e := TrialEvidence{Lines: ParallelLines{ATest: 1.2, ARef: 2.0, B: 3.2}, DifferenceSD: 0.4, SlopeSD: 0.6, T: 2.228,
		Level: 0.95, ReferenceDoses: 3}
	u, err := e.Potency(PotencyPrior(extraction.Water, false))
	if err != nil {
		t.Fatal(err)
	}
	if !near(u.ByTrials.Value, 0.56234132519, 1e-9) || !near(math.Log10(u.ByTrials.Low), -0.634463585419, 1e-8) ||
		!near(math.Log10(u.ByTrials.High), 0.0287590143403, 1e-8) {
		t.Errorf("by trials %+v", u.ByTrials)
	}
	// By hand: se = ln10/3.2 sqrt(0.4^2 + 0.25^2 0.6^2) = 0.30740, weights 16 and
	// 10.5829, ln R = -0.575646 * 10.5829/26.5829 = -0.22917.
	if !near(u.Trials.SDLn, 0.30740, 1e-5) || !near(u.Combined.Ln, -0.22917, 1e-5) ||
		!near(u.TrialShare, 0.39811, 1e-5) {
		t.Errorf("combined %+v, trials %+v with share %.4f", u.Combined, u.Trials, u.TrialShare)
	}
	if !(u.Combined.SDLn < u.Prior.SDLn && u.Combined.SDLn < u.Trials.SDLn) ||
		!near(u.Relative.Value, math.Exp(-0.22917), 2e-5) {
		t.Errorf("relative %+v", u.Relative)
	}
}

func TestPotencyRefuses(t *testing.T) {
	good := TrialEvidence{Lines: ParallelLines{1, 2, 3}, DifferenceSD: 0.4, SlopeSD: 0.3, T: 2, Level: 0.95,
		ReferenceDoses: 2}
	for name, change := range map[string]func(*TrialEvidence){
		"one dose":   func(e *TrialEvidence) { e.ReferenceDoses = 1 },
		"flat":       func(e *TrialEvidence) { e.Lines.B = 0 },
		"g is one":   func(e *TrialEvidence) { e.SlopeSD = 1.5 },
		"no level":   func(e *TrialEvidence) { e.Level = 0 },
		"no t":       func(e *TrialEvidence) { e.T = 0 },
		"negative":   func(e *TrialEvidence) { e.DifferenceSD = -1 },
		"no scatter": func(e *TrialEvidence) { e.DifferenceSD, e.SlopeSD = 0, 0 },
	} {
		e := good
		change(&e)
		if _, err := e.Potency(PotencyPrior(extraction.Water, false)); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}

// Priors of section 4.
func TestPotencyPriors(t *testing.T) {
	for _, c := range []struct {
		class   extraction.Class
		changed bool
		want    float64
	}{{extraction.Water, false, 0.25}, {extraction.Water, true, 0.4}, {extraction.Aroma, false, 0.6},
		{extraction.Aroma, true, 0.6}, {extraction.Resin, false, 1.0}} {
		if p := PotencyPrior(c.class, c.changed); p.Ln != 0 || p.SDLn != c.want {
			t.Errorf("%s, form changed %v: %+v, want sd %v", c.class, c.changed, p, c.want)
		}
	}
}

func TestPotencyFormulasRefuse(t *testing.T) {
	for _, c := range []struct {
		name    string
		call    func() error
		mention string
	}{
		{"prior", func() error {
			_, err := combine(extraction.LnNormal{Ln: 0, SDLn: 0}, extraction.LnNormal{Ln: 0, SDLn: 1})
			return err
		}, "prior sd 0"},
		{"estimate", func() error {
			_, err := combine(extraction.LnNormal{Ln: 0, SDLn: 1}, extraction.LnNormal{Ln: 0, SDLn: -1})
			return err
		}, "-1"},
		{"g of one", func() error { _, _, err := ratio{D: 1, SDD: 1, B: 2, SDB: 1, T: 2}.fieller(); return err }, "g = 1"},
		{"no slope", func() error { _, _, err := ratio{D: 1, SDD: 1, B: 0, SDB: 1, T: 2}.fieller(); return err }, "slope 0"},
		{"nothing known of no slope", func() error {
			_, _,
				err := ratio{D: 1, SDD: 1, B: 0, SDB: 0, T: 2}.fieller()
			return err
		}, "slope 0"},
		{"t", func() error { _, _, err := ratio{D: 1, SDD: 1, B: 3, SDB: 1, T: -2}.fieller(); return err }, "-2"},
	} {
		if err := c.call(); err == nil || !strings.Contains(err.Error(), c.mention) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.mention)
		}
	}
}

// Fieller's limits are the roots R of (d - R b)^2 = t^2 (s_d^2 - 2 R c + R^2 s_b^2) [18].
func TestFiellerWithCovariance(t *testing.T) {
	for _, r := range []ratio{{D: 1, SDD: 0.3, B: 4, SDB: 0.5, Cov: 0.05, T: 2.1},
		{D: -0.8, SDD: 0.3, B: 3, SDB: 0.4, Cov: -0.1, T: 2}, {D: 1, SDD: 0.3, B: 4, SDB: 0.5, T: 2.1}} {
		low, high, err := r.fieller()
		if err != nil || !(low < r.D/r.B && r.D/r.B < high) {
			t.Fatalf("%+v: %v to %v (%v)", r, low, high, err)
		}
		for _, x := range []float64{low, high} {
			left := (r.D - x*r.B) * (r.D - x*r.B)
			right := r.T * r.T * (r.SDD*r.SDD - 2*x*r.Cov + x*x*r.SDB*r.SDB)
			if !near(left, right, 1e-9) {
				t.Errorf("%+v: %v is no root: %v and %v", r, x, left, right)
			}
		}
	}
	if _, _, err := (ratio{D: 1, SDD: 0.1, B: 4, SDB: 0.1, Cov: 0.5, T: 2}).fieller(); err == nil {
		t.Error("a covariance beyond both sds passes")
	}
}

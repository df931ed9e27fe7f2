package extraction

import (
	"math"
	"testing"
)

// The published rows again, taken together: intercepts 2.0 and 1.2, slope 3.2,
// sd 0.4 and 0.6, t 2.228 give R 0.5623 between 10^-0.6345 and 10^0.0288.
func TestPotencyFromTrials(t *testing.T) {
	e := TrialEvidence{Lines: ParallelLines{ATest: 1.2, ARef: 2.0, B: 3.2}, DifferenceSD: 0.4, SlopeSD: 0.6, T: 2.228,
		Level: 0.95, ReferenceDoses: 3}
	u, err := e.Potency(PotencyPrior(Water, false))
	if err != nil {
		t.Fatal(err)
	}
	if !near(u.ByTrials.Value, 0.56234132519, 1e-9) || !near(math.Log10(u.ByTrials.Low), -0.634463585419, 1e-8) ||
		!near(math.Log10(u.ByTrials.High), 0.0287590143403, 1e-8) {
		t.Errorf("by trials %+v", u.ByTrials)
	}
	// By hand: se = ln10/3.2 sqrt(0.4^2 + 0.25^2 0.6^2) = 0.30740, weights 16 and
	// 10.5829, ln R = -0.575646 * 10.5829/26.5829 = -0.22917.
	if !near(u.Trials.SDLn, 0.30740, 1e-5) || !near(u.Combined.Ln, -0.22917, 1e-5) || !near(u.TrialShare, 0.39811, 1e-5) {
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
		if _, err := e.Potency(PotencyPrior(Water, false)); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}

// Priors of section 4.
func TestPotencyPriors(t *testing.T) {
	for _, c := range []struct {
		class   Class
		changed bool
		want    float64
	}{{Water, false, 0.25}, {Water, true, 0.4}, {Aroma, false, 0.6}, {Aroma, true, 0.6}, {Resin, false, 1.0}} {
		if p := PotencyPrior(c.class, c.changed); p.Ln != 0 || p.SDLn != c.want {
			t.Errorf("%s, form changed %v: %+v, want sd %v", c.class, c.changed, p, c.want)
		}
	}
}

// Own trials shift the method they belong to, and nothing else: a potency of
// one half halves the dose.
func TestOwnTrialsShiftTheDose(t *testing.T) {
	s := leaf36(stirred(450, Drained))
	before := run(t, s)
	s.OwnTrials[Water] = &LnNormal{Ln: math.Log(0.5), SDLn: 0.1}
	after := run(t, s)
	if !near(after.Ceiling[Water], before.Ceiling[Water]/2, 1e-12) || after.Ceiling[Aroma] != before.Ceiling[Aroma] ||
		after.Yield != before.Yield {
		t.Errorf("u %v to %v", before.Ceiling, after.Ceiling)
	}
	d, err := s.Doubt(Mix{IntoL: 17}, Draws{N: 4000, Seed: 2})
	if err != nil || !near(d.Dose[Water].At80.Value, 1.2579/2, 5e-5) || d.Dose[Water].At80.High < 1.2579/2 {
		t.Errorf("%+v, %v, want about %.4f", d.Dose[Water], err, 1.2579/2)
	}
	if low := d.Dose[Water].At95.Low; low > 1.2579/2*0.9 {
		t.Errorf("the sd of the trials is not in the interval: low %v", low)
	}
}

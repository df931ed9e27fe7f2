package checks

import (
	"fmt"
	"math"

	"hedgerow/extraction"
	"hedgerow/extraction/ways"
)

// The evidence of scores is run through TrialEvidence.Potency, which the
// comparison of methods by own scores calls. A slope of ln 10 makes the score
// scale that of ln R.

// update combines an estimate of ln R with its prior.
func update(prior, estimate extraction.LnNormal) (ways.PotencyUpdate, error) {
	e := ways.TrialEvidence{Lines: ways.ParallelLines{ATest: estimate.Ln, B: math.Ln10},
		DifferenceSD: estimate.SDLn, T: 2, Level: 0.95, ReferenceDoses: 2}
	return e.Potency(prior)
}

// potencyPosterior is R by prior and trials together.
func potencyPosterior(in *inputs) (float64, error) {
	u, err := update(extraction.LnNormal{Ln: in.num("prior_ln"), SDLn: in.num("prior_sd")},
		extraction.LnNormal{Ln: in.num("est_ln"), SDLn: in.num("est_se")})
	return u.Relative.Value, err
}

// potencyPosteriorSD is the sd of ln R of both together.
func potencyPosteriorSD(in *inputs) (float64, error) {
	u, err := update(extraction.LnNormal{SDLn: in.num("prior_sd")}, extraction.LnNormal{SDLn: in.num("est_se")})
	return u.Combined.SDLn, err
}

// anyPrior is a prior where the row is about the trials alone.
var anyPrior = extraction.LnNormal{SDLn: 1}

// relativePotency is R by the trials alone.
func relativePotency(in *inputs) (float64, error) {
	lines := ways.ParallelLines{ATest: in.num("a_test"), ARef: in.num("a_ref"), B: in.num("b_log10")}
	// any doubts that leave the slope standing: only the best value is read
	e := ways.TrialEvidence{Lines: lines, DifferenceSD: 0.1, SlopeSD: 0.1, T: 2, Level: 0.95, ReferenceDoses: 2}
	u, err := e.Potency(anyPrior)
	return u.ByTrials.Value, err
}

// fiellerLimit is one limit of R by the trials alone, in log10 units.
func fiellerLimit(in *inputs) (float64, error) {
	e := ways.TrialEvidence{Lines: ways.ParallelLines{ATest: in.num("d"), B: in.num("b")},
		DifferenceSD: in.num("s_d"), SlopeSD: in.num("s_b"), T: in.num("t"), Level: 0.95, ReferenceDoses: 2}
	u, err := e.Potency(anyPrior)
	switch side := in.text("side"); side {
	case "lo":
		return math.Log10(u.ByTrials.Low), err
	case "hi":
		return math.Log10(u.ByTrials.High), err
	default:
		return 0, fmt.Errorf("side %q is neither lo nor hi", side)
	}
}

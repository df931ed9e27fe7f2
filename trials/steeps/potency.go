package steeps

import (
	"fmt"

	"hedgerow/extraction"
	"hedgerow/extraction/ways"
	"hedgerow/trials"
)

// LnNormal is a normal distribution of a logarithm.
type LnNormal = extraction.LnNormal

// MethodEvidence is what scores say about one method beside a reference method
// for one material: the fit s = a_j + b log10(effective dose).
type MethodEvidence struct {
	MaterialKey string  // key of the material
	Attribute   string  // what was scored, in the words of the tasting
	Method      string  // tea, cold-tea, tincture, contact ...
	Reference   string  // the method it is compared with
	FormChanged bool    // the two were made of different forms
	Difference  float64 // a_method - a_reference, score points
	DiffSD      float64 // standard deviation of Difference
	Slope       float64 // score points per tenfold dose
	SlopeSD     float64 // standard deviation of Slope
	Covariance  float64 // of difference and slope
	T           float64 // t quantile of Level
	Level       float64 // coverage of the interval, as a share
	Doses       int     // different doses of the reference method
	Scores      int     // scores of the method itself
}

// MethodPotency is the relative potency of a method for one material, from the
// brewer's own scores and the prior. It counts for that material and method and
// for nothing else.
type MethodPotency struct {
	MethodEvidence
	Class  int                // solute class, an index into ClassNames
	Update ways.PotencyUpdate // prior and scores combined
}

// MethodPotency combines the evidence with the prior by precision. It refuses
// fewer than two doses of the reference method and scores that do not move with
// the dose.
func (e MethodEvidence) MethodPotency(class int) (MethodPotency, error) {
	prior := ways.PotencyPrior(extraction.Class(class), e.FormChanged)
	u, err := ways.TrialEvidence{
		Lines:        ways.ParallelLines{ATest: e.Difference, B: e.Slope},
		DifferenceSD: e.DiffSD, SlopeSD: e.SlopeSD, Covariance: e.Covariance,
		T: e.T, Level: e.Level, ReferenceDoses: e.Doses,
	}.Potency(prior)
	if err != nil {
		return MethodPotency{}, trials.ProblemOf(err)
	}
	return MethodPotency{MethodEvidence: e, Class: class, Update: u}, nil
}

// PriorPotency returns what is known about the relative potency of a method
// without own trials.
func PriorPotency(class int, formChanged bool) LnNormal {
	return ways.PotencyPrior(extraction.Class(class), formChanged)
}

// Inform fills in what the notebook knows for a steep of a material: the held liquid
// last measured, the soluble share that teas without a lot taught, and with potencies
// those of the material and method.
func Inform(n *trials.Notebook, materials trials.Materials, q SteepRequest, potencies []MethodPotency) (SteepRequest,
	error) {
	if q.Material == "" {
		return q, nil
	}
	m, err := materials.Find(q.Material)
	if err != nil {
		return q, err
	}
	s := NewSteeper(n.Index(), materials, Full)
	q.Remembered, q.Soluble = s.remembered(m.Key, n.Now), s.learned(bag{material: m.Key}, n.Now)
	for _, p := range potencies {
		if p.MaterialKey == m.Key && p.Method == q.Method {
			q.Own = &p
		}
	}
	return q, nil
}

// Words says what a potency rests on, in one sentence.
func (p MethodPotency) Words() string {
	r := p.Update.Relative
	return fmt.Sprintf("by your own scores of %s, a gram of %s by %s counts %.2f (%.2f to %.2f) as much as by %s; "+
		"%.0f %% of that comes from the scores, the rest from what is assumed of methods",
		p.Attribute, p.MaterialKey, p.Method, r.Value, r.Low, r.High, p.Reference, 100*p.Update.TrialShare)
}

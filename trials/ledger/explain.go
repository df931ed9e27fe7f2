package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials"
)

// InputShare is an input of an answer: where it comes from, and what it adds to
// the standard uncertainty of the strength.
type InputShare struct {
	Name            string  // of the input
	Value           float64 // the figure itself
	HalfWidth       float64 // its limit
	Origin          origin  // where it comes from
	ABVContribution float64 // % vol, with its sign
}

// share is one source of doubt and what it adds to a standard uncertainty.
type share struct {
	Name string  // of the source
	U    float64 // standard uncertainty it adds
}

// inputShares lists the named inputs of an account, each once, with what they
// add to the doubt of the strength in a budget. What several inputs share is
// listed under its own name after them.
func inputShares(a dilution.Account, from origins, b dilution.StepBudget) []InputShare {
	u := map[string]float64{}
	for _, part := range b.Quantities[dilution.QABVInputs].Parts {
		u[part.Name] = part.U
	}
	var list, common []InputShare
	seen := map[string]bool{}
	for _, in := range a.Inputs() {
		if in.Name == "" || seen[in.Name] {
			continue
		}
		seen[in.Name] = true
		list = append(list, InputShare{in.Name, in.Value, in.HalfWidth + in.SharedHalfWidth, from[in.Name], u[in.Name]})
		if in.SharedHalfWidth > 0 && !seen[in.Shared] {
			seen[in.Shared] = true
			common = append(common, InputShare{Name: in.Shared, HalfWidth: in.SharedHalfWidth,
				Origin: origin{Value: "common error", Limit: from[in.Name].Limit}, ABVContribution: u[in.Shared]})
		}
	}
	return append(list, common...)
}

// largest names the source that adds most to the doubt of a quantity, empty when
// nothing is in doubt. The model is no input and is left out.
func largest(b dilution.StepBudget, q dilution.Quantity) string {
	for _, part := range b.Quantities[q].Parts {
		return part.Name
	}
	return ""
}

// Explanation is how the last figures of a ledger came about.
type Explanation struct {
	Inputs        []InputShare // in the order they were given
	LargestABV    string       // what to measure better for the strength
	LargestVolume string       // the same for the volume
	ABVShares     []share      // of the strength at the end
}

// Explain works out which inputs the end of a ledger depends on.
func (l Ledger) Explain() (Explanation, error) {
	budgets, err := l.Account.FirstOrder()
	if err != nil {
		return Explanation{}, trials.ProblemOf(err)
	}
	b := budgets[len(budgets)-1]
	e := Explanation{Inputs: inputShares(l.Account, l.origins, b), LargestABV: largest(b, dilution.QABVInputs),
		LargestVolume: largest(b, dilution.QVolumeL)}
	for _, part := range b.Quantities[dilution.QABV].Parts {
		e.ABVShares = append(e.ABVShares, share{part.Name, part.U})
	}
	return e, nil
}

// Masses returns water, ethanol and extract after a step in kilograms.
func (s ledgerStep) Masses() (waterKg, ethanolKg, extractKg float64) {
	return s.Result.State.WaterKg, s.Result.State.EthanolKg, s.Result.State.ExtractKg
}

package steeps

import (
	"cmp"
	"fmt"
	"slices"

	"hedgerow/extraction"
	"hedgerow/extraction/ways"
	"hedgerow/trials"
)

// NamedSteep is one method of a comparison.
type NamedSteep struct {
	Name  string       // as the user calls it
	Steep SteepRequest // what is done
}

// MethodComparison is several methods for one material side by side, the
// strongest first. Row i of Costs belongs to row i of Rows.
type MethodComparison struct {
	ways.Comparison
	Costs []StrengthCost // in strength, in the order of the methods
	Mass  []float64      // g weighed in for each row
}

// CompareMethods compares steeps of one material by their effective dose of a
// class. Figures that the methods share are drawn once for all of them. It
// refuses fewer than two methods, two of one name, and steeps of two materials,
// for between materials an effective dose says nothing.
func CompareMethods(materials trials.Materials, class int, methods []NamedSteep) (MethodComparison, error) {
	if err := checkMethods(methods); err != nil {
		return MethodComparison{}, err
	}
	type candidate struct {
		entry ways.Entry
		cost  StrengthCost
		dose  float64
	}
	list := make([]candidate, len(methods))
	for i, m := range methods {
		entry, dose, cost, err := m.prepare(materials)
		if err != nil {
			return MethodComparison{}, trials.ProblemOf(fmt.Errorf("method %q: %w", m.Name, err))
		}
		list[i] = candidate{entry, cost, dose.EffectiveGPerL[class]}
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.dose, a.dose) })
	var out MethodComparison
	entries := make([]ways.Entry, len(list))
	for i, c := range list {
		entries[i] = c.entry
		out.Costs = append(out.Costs, c.cost)
		out.Mass = append(out.Mass, c.entry.Steep.MassG)
	}
	var err error
	if out.Comparison, err = ways.Compare(extraction.Class(class), entries, calculatorDraws); err != nil {
		return MethodComparison{}, trials.ProblemOf(err)
	}
	return out, nil
}

// prepare works one method out at the default figures.
func (m NamedSteep) prepare(materials trials.Materials) (ways.Entry, extraction.Dose, StrengthCost, error) {
	s, err := m.Steep.steep(materials)
	if err != nil {
		return ways.Entry{}, extraction.Dose{}, StrengthCost{}, err
	}
	r, err := s.Run()
	if err != nil {
		return ways.Entry{}, extraction.Dose{}, StrengthCost{}, trials.ProblemOf(err)
	}
	d, err := r.Dose(m.Steep.mix())
	if err != nil {
		return ways.Entry{}, extraction.Dose{}, StrengthCost{}, trials.ProblemOf(err)
	}
	cost, err := m.Steep.cost(r, d)
	return ways.Entry{Name: m.Name, Steep: s, Mix: m.Steep.mix()}, d, cost, err
}

// checkMethods refuses lists that cannot be compared.
func checkMethods(methods []NamedSteep) error {
	if len(methods) < 2 {
		return trials.Refuse("give --method twice or more, or --compare for a standard set",
			"there is nothing to compare with")
	}
	seen := map[string]bool{}
	for _, m := range methods {
		if seen[m.Name] {
			return trials.Refuse(`put another name before the colon, such as "second: tea ..."`,
				"two methods are called %q", m.Name)
		}
		seen[m.Name] = true
		if m.Steep.Material != methods[0].Steep.Material {
			return trials.Refuse("compare one material at a time", "method %q is for another material", m.Name)
		}
	}
	return nil
}

package report

import (
	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"
)

// leastCertain names the inputs that add most to the doubt of the last strength
// and volume, to be measured better.
func leastCertain(x ledger.Explanation) []string {
	switch {
	case x.LargestABV == "" && x.LargestVolume == "":
		return nil
	case x.LargestABV == "":
		return []string{"the volume is least certain because of the " + x.LargestVolume}
	// one thing to measure is said once
	case x.LargestVolume == "" || x.LargestVolume == x.LargestABV:
		return []string{"the strength is least certain because of the " + x.LargestABV}
	}
	return []string{"the strength is least certain because of the " + x.LargestABV + ", the volume because of the " +
		x.LargestVolume}
}

// ledgerExplanation is the formulas that the events call for, the masses after
// each event, the inputs with their origin, and the sources.
func ledgerExplanation(n *trials.Notebook, l ledger.Ledger, x ledger.Explanation) *explanation {
	out := explanation{Formulas: ledgerFormulas(n, l), Inputs: explainedInputs(x.Inputs),
		Sources: append(append([]string{}, balanceSources...), otherSources...)}
	for _, s := range l.Steps {
		w, e, ex := s.Masses()
		out.Masses = append(out.Masses, explainedMass{string(s.Kind) + " " + s.Name, w, e, ex})
	}
	return &out
}

// ledgerFormulas lists the formulas that the events call for.
func ledgerFormulas(n *trials.Notebook, l ledger.Ledger) []string {
	var added, lost, float, pH, gas, conditioned bool
	for _, s := range l.Steps {
		switch s.Kind {
		case ledger.EventAddition:
			added = true
		case ledger.EventLoss, ledger.EventSplit, ledger.EventChild, ledger.EventRemoval:
			lost = true
		case ledger.EventConditioned:
			conditioned = true
		case ledger.EventPackage:
			gas = true
		case ledger.EventReading:
			p, read := ledger.PHOf(n, *s.Reading)
			pH = pH || read && p.By != nil
			gas = gas || s.Reading.BeerTempC != nil
			float = float || s.Reading.SG != nil && (s.Reading.SampleTempC != nil || s.Reading.MeterID != nil)
		}
		float = float || s.Batch.OGMeterID != nil || s.Batch.OGSampleTempC != nil
	}
	list := []string{formulaState, formulaFerment}
	for _, f := range []struct {
		text   string
		wanted bool
	}{{formulaAdd, added}, {formulaLose, lost}, {formulaFloat, float}, {formulaPH, pH}, {formulaGas, gas},
		{formulaCondition, conditioned}} {
		if f.wanted {
			list = append(list, f.text)
		}
	}
	return append(list, formulaDoubt)
}

// steepSections explain what the materials gave up.
func steepSections(l ledger.Ledger) []document.Section {
	var list []document.Section
	for _, s := range l.Steps {
		if s.Steep == nil {
			continue
		}
		section := steepExplain(steepFigures(steeps.SteepAnswer{Figures: s.Steep.Figures}))
		section.Heading = "What " + s.Name + " gave up (" + s.Steep.MaterialKey + ")"
		if len(list) > 0 {
			section.Paragraphs = nil // told once
		}
		list = append(list, section)
	}
	return list
}

package decisions

import (
	"slices"

	"hedgerow/report/doseresponse"
	"hedgerow/report/evidence"
	"hedgerow/report/studies"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// remembered is what the studies of other materials taught about the tasters of
// this one: their own right dose beside the panel's, how high they score, how
// sharply they vote. Each is fitted afresh, and a glass that belongs to several
// studies (a beer with two materials) teaches in one alone, this one first: so
// nothing is counted twice.
func remembered(n *trials.Notebook, materials trials.Materials,
	ours ledger.TrialSet) (map[string]evidence.TasterPrior, []string) {
	past := map[string][]evidence.TasterPrior{}
	counted := map[string]bool{} // by serving
	for _, v := range ours.Servings {
		counted[v.ID] = true
	}
	var from []string
	for _, other := range ledger.MaterialsUsed(n) {
		// the study at hand speaks for itself; remembered too it would count twice
		if other == ours.Material.Key {
			continue
		}
		study, ok := otherStudy(ours, materials, other, counted)
		if !ok {
			continue
		}
		// without the draws that correct an interval: only means and SDs go on, and halved at that
		p, err := doseresponse.Fit(study, doseresponse.Options{FreshTasters: true, Approximate: true})
		if err != nil {
			continue
		}
		from = append(from, other)
		for name, t := range p.Memory() {
			past[name] = append(past[name], t)
		}
	}
	next := map[string]evidence.TasterPrior{}
	for name, list := range past {
		if t, ok := doseresponse.Remember(list); ok {
			next[name] = t
		}
	}
	return next, from
}

// otherStudy gathers the study of another material, if it has scores of glasses
// that were not counted yet, and counts those.
func otherStudy(ours ledger.TrialSet, materials trials.Materials, key string,
	counted map[string]bool) (evidence.Study, bool) {
	m, ok := materials.Get(key)
	if !ok {
		return evidence.Study{}, false
	}
	s, err := ours.Other(m)
	if err != nil {
		return evidence.Study{}, false
	}
	s.Scores = slices.DeleteFunc(s.Scores, func(sc ledger.Scored) bool { return counted[sc.ServingID] })
	if len(s.Scores) == 0 {
		return evidence.Study{}, false
	}
	attribute, err := studies.AttributeFor(s, "")
	if err != nil {
		return evidence.Study{}, false
	}
	for _, sc := range s.Scores {
		counted[sc.ServingID] = true
	}
	return studies.Of(s, attribute), true
}

package report

import (
	"hedgerow/report/doseresponse"
	"hedgerow/trials"
)

// remembered is what the studies of other materials taught about the tasters of
// this one: their own right dose beside the panel's, how high they score, how
// sharply they vote. Each is fitted afresh, so that nothing is counted twice.
func remembered(n *trials.Notebook, materials trials.Materials, key string) (map[string]doseresponse.TasterPrior, []string) {
	past := map[string][]doseresponse.TasterPrior{}
	var from []string
	for _, other := range n.MaterialsUsed() {
		if other == key {
			continue
		}
		study, ok := otherStudy(n, materials, other)
		if !ok {
			continue
		}
		p, err := doseresponse.Fit(study, doseresponse.Options{FreshTasters: true, Approximate: true})
		if err != nil {
			continue
		}
		from = append(from, other)
		for name, t := range p.Memory() {
			past[name] = append(past[name], t)
		}
	}
	next := map[string]doseresponse.TasterPrior{}
	for name, list := range past {
		if t, ok := doseresponse.Remember(list); ok {
			next[name] = t
		}
	}
	return next, from
}

// otherStudy gathers the study of another material, if it has dosed scores.
func otherStudy(n *trials.Notebook, materials trials.Materials, key string) (doseresponse.Study, bool) {
	m, ok := materials.Get(key)
	if !ok {
		return doseresponse.Study{}, false
	}
	s, err := n.TrialSet(m)
	if err != nil || len(s.Scores) == 0 {
		return doseresponse.Study{}, false
	}
	attribute, err := attributeFor(s, "")
	if err != nil {
		return doseresponse.Study{}, false
	}
	return studyOf(n, s, attribute), true
}

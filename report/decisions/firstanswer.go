package decisions

import (
	"fmt"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// withCatalogue returns the set with the catalogue's range as its only claim where
// nothing was heard and nothing was tasted, and the note that says so; else the set
// as it is. The range stands for one claim: its two ends may come from two sources,
// yet nobody of them has tasted this beer.
func withCatalogue(s ledger.TrialSet) (ledger.TrialSet, string) {
	m := s.Material
	if len(s.Claims) > 0 || len(s.Scores) > 0 || m.DoseWithheld || m.DoseLowGPerL == nil || m.DoseHighGPerL == nil {
		return s, ""
	}
	s.Claims = []trials.Claim{{MaterialKey: m.Key, Basis: m.DoseBasis, LowGPerL: m.DoseLowGPerL,
		HighGPerL: m.DoseHighGPerL, Source: "catalogue"}}
	plant := "the plant as bought"
	if m.DoseBasis == trials.BasisFresh || m.DoseBasis == trials.BasisDry {
		plant = "the " + m.DoseBasis + " plant"
	}
	return s, fmt.Sprintf("nothing was heard or tasted of %s yet: this starts from the catalogue, %.3g to %.3g g/L of %s (%s)",
		m.Key, *m.DoseLowGPerL, *m.DoseHighGPerL, plant, evidenceOf(m))
}

// evidenceOf is how good the range of the catalogue is.
func evidenceOf(m trials.Material) string {
	if m.DoseEvidence != "" {
		return m.DoseEvidence
	}
	if m.DoseLowSource == m.DoseHighSource {
		return m.DoseLowSource
	}
	return m.DoseLowSource + "; " + m.DoseHighSource
}

package decisions

import (
	"hedgerow/report/evidence"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// AdvisedDoses are the lowest and the highest effective dose that was heard of a material,
// in the catalogue where nothing was heard; where nothing is advised, the ends of what the
// scores leave open.
func AdvisedDoses(n *trials.Notebook, s ledger.TrialSet, attribute string) (low, high float64, err error) {
	with, _ := withCatalogue(s)
	if c, ok := catalogueClaim(s.Material); ok && len(with.Claims) == 0 {
		with.Claims = []trials.Claim{c}
	}
	claims := claimDoses(with)
	if len(claims) == 0 {
		p, err := Fitted(n, s, SuggestRequest{}, attribute, map[string]evidence.TasterPrior{})
		if err != nil {
			return 0, 0, err
		}
		e := p.RightDose()
		return *e.Low, *e.High, nil
	}
	low, high = claims[0][0], claims[0][1]
	for _, c := range claims {
		low, high = min(low, c[0]), max(high, c[1])
	}
	return low, high, nil
}

package decisions

import (
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/report/studies"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// AdvisedDoses are the lowest and the highest effective dose that was heard of a material,
// in the catalogue where nothing was heard; where nothing is advised, the ends of what the
// scores leave open.
func AdvisedDoses(n *trials.Notebook, s ledger.TrialSet, attribute string) (low, high float64, err error) {
	with, _ := studies.WithCatalogue(s)
	if c, ok := studies.CatalogueClaim(s.Material); ok && len(with.Claims) == 0 {
		with.Claims = []trials.Claim{c}
	}
	claims := studies.ClaimDoses(with)
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

// ToBlend is how much of a material a beer gets at packaging.
type ToBlend struct {
	Attribute string        // what the dose is right for
	Class     int           // solute class of the doses
	DoseGPerL float64       // the next dose, effective, for a method
	Right     figure.Stated // the right dose
	Heard     bool          // a glass that was dosed to taste or a scored beer is in it, and not advice alone
}

// DoseToBlend is the dose that a suggestion would give for a method, with the interval of
// the right dose.
func DoseToBlend(n *trials.Notebook, s ledger.TrialSet, attribute, method string) (ToBlend, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return ToBlend{}, err
	}
	if s, attribute, err = studies.ForTaste(s, attribute, ""); err != nil {
		return ToBlend{}, err
	}
	if s, _, err = studies.WithoutTheirClaims(s); err != nil {
		return ToBlend{}, err
	}
	known, _ := remembered(n, materials, s)
	p, err := Fitted(n, s, SuggestRequest{Method: method}, attribute, known)
	if err != nil {
		return ToBlend{}, err
	}
	heard := len(studies.DosedToTaste(s, attribute)) > 0 || slices.ContainsFunc(s.Scores, func(x ledger.Scored) bool {
		return x.Attribute == attribute
	})
	return ToBlend{attribute, s.Class, p.NextDose().DoseGPerL, p.RightDose(), heard}, nil
}

package studies

import (
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/evidence"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// This file brings the trials that other brewers made, in a notebook that was joined to
// this one, into a study.

// AddOthers adds the dosed trials of other brewers to a study of one's own.
func AddOthers(study *evidence.Study, s ledger.TrialSet) error {
	sets, err := s.OfOthers()
	if err != nil || len(sets) == 0 {
		return err
	}
	study.Panel = evidence.Study{Trials: study.Trials, DosedToTaste: study.DosedToTaste}.People()
	if len(study.Panel) == 0 {
		// who has not scored this plant yet is known from others
		study.Panel = s.OwnPeople()
	}
	for _, o := range sets {
		theirs := Of(o.TrialSet, study.Attribute)
		for _, t := range theirs.Trials {
			if t.DoseGPerL > 0 {
				t.Brewer = o.Brewer
				study.Trials = append(study.Trials, t)
			}
		}
		for method, prior := range theirs.MethodPrior {
			if _, known := study.MethodPrior[method]; !known {
				study.MethodPrior[method] = prior
			}
		}
	}
	return nil
}

// WithoutTheirClaims leaves out claims whose source is a brewer of the trials at hand, who
// would else count twice, and says so.
func WithoutTheirClaims(s ledger.TrialSet) (ledger.TrialSet, []string, error) {
	sets, err := s.OfOthers()
	if err != nil || len(sets) == 0 {
		return s, nil, err
	}
	var notes []string
	s.Claims = slices.DeleteFunc(slices.Clone(s.Claims), func(c trials.Claim) bool {
		for _, o := range sets {
			if len(o.Scores) > 0 && trials.Speaks(c.Source, o.Brewer) {
				notes = append(notes, fmt.Sprintf("the claim %q of %s is left out: it would count twice, beside %s's trials",
					c.AsWritten, c.Source, o.Brewer))
				return true
			}
		}
		return false
	})
	return s, notes, nil
}

// OthersWarnings says which beers of other brewers cannot count, and that none does where
// one's own were asked for alone.
func OthersWarnings(s ledger.TrialSet) []string {
	if len(s.Others) == 0 {
		return nil
	}
	if s.OwnOnly {
		return []string{"left out as asked (--own-only), since other brewers made them: " + strings.Join(s.Others, ", ")}
	}
	sets, err := s.OfOthers()
	if err != nil {
		return []string{"other brewers' trials are left out: " + err.Error()}
	}
	var list []string
	if len(s.OthersDosed) > 0 {
		list = append(list, "left out: "+strings.Join(s.OthersDosed, ", ")+", since another brewer's panel dosed to taste, "+
			"and how far what they found right holds for yours is not known")
	}
	for _, o := range sets {
		if len(o.NoLedger) > 0 {
			list = append(list, fmt.Sprintf("left out of %s's: %s, since without an original gravity the dose is not known",
				o.Brewer, strings.Join(o.NoLedger, ", ")))
		}
		if len(o.Sealed) > 0 {
			list = append(list, fmt.Sprintf("not counted of %s's, since still sealed: %s", o.Brewer,
				strings.Join(o.Sealed, ", ")))
		}
	}
	return list
}

// attributeOfOthers is the taste that other brewers asked most about, "" without any:
// the one of an answer where nobody of one's own has scored.
func attributeOfOthers(s ledger.TrialSet) (string, error) {
	sets, err := s.OfOthers()
	if err != nil {
		return "", err
	}
	var all ledger.TrialSet
	for _, o := range sets {
		all.Tastings = append(all.Tastings, o.Tastings...)
		all.Scores = append(all.Scores, o.Scores...)
	}
	return AttributeFor(all, "")
}

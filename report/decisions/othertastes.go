package decisions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// The other tastes that a suggestion looks at: the most voted on, of beers enough to
// tell how the votes move with the dose.
const (
	mostOthers  = 2
	othersBeers = 2
)

// otherAttributes are the tastes that a suggestion looks at beside its own.
func otherAttributes(s ledger.TrialSet, attribute string) []string {
	votes, beers := map[string]int{}, map[string]map[int]bool{}
	for _, sc := range s.Scores {
		if sc.Vote == nil || sc.Attribute == attribute || sc.Attribute == trials.Overall {
			continue
		}
		votes[sc.Attribute]++
		if beers[sc.Attribute] == nil {
			beers[sc.Attribute] = map[int]bool{}
		}
		if !s.Trials[sc.Trial].Control {
			beers[sc.Attribute][sc.Trial] = true
		}
	}
	var list []string
	for a := range votes {
		if len(beers[a]) >= othersBeers {
			list = append(list, a)
		}
	}
	slices.SortFunc(list, func(a, b string) int { return cmp.Or(cmp.Compare(votes[b], votes[a]), strings.Compare(a, b)) })
	return list[:min(mostOthers, len(list))]
}

// besideOthers looks at the other tastes of the beers: the window with the one that
// is too strong at the right dose of p, of several the strongest, and remarks on those
// that fall with the dose. The advice is on the taste that was asked for, so the
// others are fitted without it.
func besideOthers(s ledger.TrialSet, attribute string, p *doseresponse.Posterior) (*otherTaste, []string) {
	var found *otherTaste
	var notes []string
	reference := p.Reference()
	for _, name := range otherAttributes(s, attribute) {
		study := studyOf(s, name)
		study.ClaimsGPerL = nil
		other, err := doseresponse.Fit(study, doseresponse.Options{Method: &reference, Approximate: true, FreshTasters: true})
		// what cannot be fitted says nothing of a conflict
		if err != nil {
			continue
		}
		if f := other.Falling(); f != nil {
			notes = append(notes, wording.WordOf(name)+" falls with the dose: "+fallText(*f))
			continue
		}
		w, conflict := p.Beside(other)
		if conflict && (found == nil || w.PWithinAtRightDose < found.window.PWithinAtRightDose) {
			found = &otherTaste{wording.WordOf(name), w}
		}
	}
	return found, notes
}

// fallText says by votes how a taste falls.
func fallText(f doseresponse.Falling) string {
	low := "at " + grams(f.LowGPerL) + " g/L"
	if f.LowGPerL == 0 {
		low = "without any"
	}
	return fmt.Sprintf("too little for %d of %d %s, for %d of %d at %s g/L", f.LowLittle, f.LowVotes, low,
		f.HighLittle, f.HighVotes, grams(f.HighGPerL))
}

// windowSection shows how two tastes go together; nil where nothing pulls them
// apart.
func windowSection(v suggestPayload) *document.Section {
	o := headline{Answer: v.Answer, beside: v.beside}.other()
	if o == nil {
		return nil
	}
	w := o.window
	return &document.Section{Heading: "Two tastes at once", Paragraphs: []string{
		fmt.Sprintf("At the right dose by itself, %s g/L, %s is within its bounds for %s.", grams(v.RightDose.Value), o.name,
			document.Chance(w.PWithinAtRightDose)),
		fmt.Sprintf("Both go best at %s g/L (%s to %s): %s just right, %s within, %s both.", grams(w.DoseGPerL),
			grams(w.LowGPerL), grams(w.HighGPerL), document.Chance(w.PRight), document.Chance(withinOf(w)),
			document.Chance(w.PBoth)),
		fmt.Sprintf("What moves the one against the other is the way: hedgerow steep --material %s .. --gentler ranks what "+
			"gives less astringency at the same acid or aroma.", v.Material),
	}}
}

// withinOf is the chance to be within bounds at the dose of a window.
func withinOf(w doseresponse.Window) float64 {
	if w.PRight <= 0 {
		return 0
	}
	return min(1, w.PBoth/w.PRight)
}

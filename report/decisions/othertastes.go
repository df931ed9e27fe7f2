package decisions

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/doseresponse"
	"hedgerow/report/evidence"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/steeps"
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
		other, err := fitBeside(s, name, reference)
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
func fallText(f evidence.Falling) string {
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
	list := []string{fmt.Sprintf("At the right dose by itself, %s g/L, %s is within its bounds for %s.",
		grams(v.RightDose.Value), o.name, document.Chance(w.PWithinAtRightDose))}
	// a dose that only serves one of them is no window
	if len(v.Facts.Unkept) == 0 {
		list = append(list, fmt.Sprintf("Both go best at %s g/L (%s to %s): just right for %s, within for %s, both for %s.",
			grams(w.DoseGPerL), grams(w.LowGPerL), grams(w.HighGPerL), document.Chance(w.PRight),
			document.Chance(withinOf(w)), document.Chance(w.PBoth)))
	}
	if len(v.levers) > 0 && isHarsh(o.name) {
		list = append(list, fmt.Sprintf("Less of it at the same acid or aroma, the likeliest first: %s "+
			"(hedgerow steep --gentler tells how sure that is).", strings.Join(v.levers, "; ")))
	}
	return &document.Section{Heading: "Two tastes at once", Paragraphs: list}
}

// mostLevers is how many changes to a steep are named.
const mostLevers = 3

// levers names what would give less astringency at the same acid or aroma, the
// likeliest first; none where a recipe has no passes to change.
func levers(materials trials.Materials, material string, r *recipeView) []string {
	if r == nil || len(r.Passes) == 0 {
		return nil
	}
	q := steeps.SteepRequest{Material: material, Form: r.Form, Method: r.Method, MassG: r.MassG, Passes: r.Passes,
		IntoL: r.VolumeL}
	ways, _, err := q.Gentler(materials, -1)
	// the dose stands without them
	if err != nil {
		return nil
	}
	var names []string
	for _, w := range ways[:min(mostLevers, len(ways))] {
		names = append(names, w.What)
	}
	return names
}

// isHarsh reports whether a taste goes with tannin, which the levers lower.
func isHarsh(taste string) bool {
	return slices.ContainsFunc([]string{"astring", "harsh", "tann", "dry", "bitter"},
		func(word string) bool { return strings.Contains(strings.ToLower(taste), word) })
}

// withinOf is the chance to be within bounds at the dose of a window.
func withinOf(w doseresponse.Window) float64 {
	if w.PRight <= 0 {
		return 0
	}
	return min(1, w.PBoth/w.PRight)
}

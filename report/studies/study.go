package studies

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/evidence"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/spelling"

	"gonum.org/v1/gonum/stat"
)

// doseSD is the sd of the logarithm of a dose from weighing and volumes alone;
// what the steeps leave in doubt is in the potency of their methods.
const doseSD = 0.03

// Of gathers a trial set into a study of one attribute.
func Of(s ledger.TrialSet, attribute string) evidence.Study {
	study := evidence.Study{
		ID: s.Material.Key, Material: s.Material.Key, Attribute: attribute,
		ClaimsGPerL: ClaimDoses(s), MethodPrior: methodPriors(s),
	}
	scored, conditions, times := ByTrial(s), conditionsOf(s), tastingTimes(s)
	taken := map[string]bool{}
	var batches []string // of the trials of the study
	for i, t := range s.Trials {
		dose := t.Axis()
		if t.Control {
			dose = 0
		}
		for _, day := range tasteDays(t, scored[i], times) {
			scores := saidOf(day.scores, attribute)
			if len(scores) == 0 && t.Control {
				continue
			}
			// two doses of one beer on one day would have one name
			for taken[day.name] {
				day.name += "'"
			}
			taken[day.name] = true
			batches = append(batches, t.Batch.ID)
			study.Trials = append(study.Trials, evidence.Trial{
				ID: day.name, DoseGPerL: dose, DoseSDLn: doseSD, Kind: evidence.Kind(t.Batch.Kind),
				Group: t.Group, Method: t.Method, DaysOld: ageInStudy(t, day.at), Scores: scores,
				ContactDays: contactInStudy(t, day.at), Lot: FirstUse(t, quantity.Metric).Lot, Conditions: conditions[i],
			})
		}
	}
	timesOnTheWay(study.Trials, batches)
	study.DosedToTaste = DosedToTaste(s, attribute)
	return study
}

// DosedToTaste are the glasses that were dosed to taste as lines of a study of one
// attribute, or of none. A line names the ends of "just right": going down a glass is too
// much until it is right, and right until it is too little.
func DosedToTaste(s ledger.TrialSet, attribute string) []evidence.ToTaste {
	var lines []evidence.ToTaste
	for _, d := range s.Dosed {
		if attribute != "" && !slices.Contains(d.Tasting.Attributes, attribute) {
			continue
		}
		l := evidence.ToTaste{Taster: d.Taster, Tasting: d.Tasting.Name, Extract: evidence.Other,
			Direction: evidence.Up, StepFactor: &d.StepFactor, RightGPerL: d.RightGPerL, TooMuchGPerL: d.PastGPerL,
			StoppedAtGPerL: d.StoppedGPerL, Method: d.Method}
		if d.Used {
			l.Extract = evidence.Used
		}
		if d.Direction == trials.DirectionDown {
			l.Direction, l.RightGPerL, l.TooMuchGPerL = evidence.Down, d.PastGPerL, d.RightGPerL
		}
		if l.Noted() {
			lines = append(lines, l)
		}
	}
	return lines
}

// StoppedGlasses says of which evenings glasses were stopped before anything was right or
// past it: the model takes nothing from where a taster gave up. Empty for none.
func StoppedGlasses(s ledger.TrialSet, attribute string) []string {
	count := map[string]int{}
	var evenings []string
	for _, d := range s.Dosed {
		if d.RightGPerL != nil || d.PastGPerL != nil || attribute != "" && !slices.Contains(d.Tasting.Attributes, attribute) {
			continue
		}
		if count[d.Tasting.Name]++; count[d.Tasting.Name] == 1 {
			evenings = append(evenings, d.Tasting.Name)
		}
	}
	for i, name := range evenings {
		were := " were"
		if count[name] == 1 {
			were = " was"
		}
		evenings[i] = "not counted: " + document.Count(count[name], "glass") + " of " + name + were +
			" stopped before the dose was right or past it"
	}
	return evenings
}

// timesOnTheWay leaves the time in the beer only to beers that were tasted after
// several of them. The dose of a plant is that at its end, which counts how long it was
// in: between beers that were each tasted after one time the contact term would count
// it once more.
func timesOnTheWay(list []evidence.Trial, batches []string) {
	first, several := map[string]float64{}, map[string]bool{}
	for i, t := range list {
		if t.ContactDays == nil {
			continue
		}
		if days, seen := first[batches[i]]; seen && days != *t.ContactDays {
			several[batches[i]] = true
		}
		first[batches[i]] = *t.ContactDays
	}
	for i := range list {
		if !several[batches[i]] {
			list[i].ContactDays = nil
		}
	}
}

// mostSpreads is how many trials of one method speak for its spread.
const mostSpreads = 8

// methodPriors are the priors of the potencies of the methods: the spread of the
// class, and that of the predicted doses of its trials, in squares. No trial of a
// method stands for it alone, or the order of the records would choose one; of
// many trials some do, evenly spaced over their doses, since the spread of a dose
// costs fifty times as much as the dose.
func methodPriors(s ledger.TrialSet) map[string]evidence.MethodPrior {
	by := map[string][]int{} // trials by method, in order of dose
	for i, t := range s.Trials {
		if t.Method != "" && !t.Control {
			by[t.Method] = append(by[t.Method], i)
		}
	}
	priors := map[string]evidence.MethodPrior{}
	for method, all := range by {
		count := min(len(all), mostSpreads)
		squares := make([]float64, count)
		for k := range squares {
			spread := s.SpreadLn(all[k*len(all)/count])
			squares[k] = spread * spread
		}
		sd := math.Hypot(s.MethodSDLn(), math.Sqrt(stat.Mean(squares, nil)))
		// an SD of 1.5 is a factor of 19 either way with 95 %: wider says no more
		priors[method] = evidence.MethodPrior{SD: math.Min(sd, 1.5)}
	}
	return priors
}

// AgeOf is the age of a trial at its first tasting in days since it was brewed.
func AgeOf(t ledger.Trial) *float64 {
	if len(t.TastedAt) == 0 {
		return nil
	}
	days := t.TastedAt[0].Sub(t.BrewedAt).Hours() / 24
	return &days
}

// ByTrial are the scores of a set by trial. They stay where they are: ten years of
// them are copied by nobody.
func ByTrial(s ledger.TrialSet) [][]*ledger.Scored {
	list := make([][]*ledger.Scored, len(s.Trials))
	for i := range s.Scores {
		sc := &s.Scores[i]
		list[sc.Trial] = append(list[sc.Trial], sc)
	}
	return list
}

// saidOf joins the scores of one trial to what each taster said of each glass:
// the attribute's intensity and vote, and the liking.
func saidOf(scores []*ledger.Scored, attribute string) []evidence.Score {
	type cell struct{ serving, taster string }
	rows := map[cell]*evidence.Score{}
	var order []cell
	for _, sc := range scores {
		if sc.Attribute != attribute && sc.Attribute != trials.Overall {
			continue
		}
		// by glass: the same beer poured twice is two answers of one taster
		c := cell{sc.ServingID, sc.TasterID}
		if rows[c] == nil {
			rows[c] = &evidence.Score{Taster: sc.Taster}
			order = append(order, c)
		}
		if sc.Attribute == trials.Overall {
			rows[c].Liking = sc.Liking
			continue
		}
		rows[c].Vote, rows[c].Intensity = sc.Vote, sc.Intensity
	}
	var list []evidence.Score
	for _, c := range order {
		if r := rows[c]; r.Vote != nil || r.Intensity != nil || r.Liking != nil {
			list = append(list, *r)
		}
	}
	return list
}

// ClaimDoses puts the claims on the effective scale: as-dried grams times what
// a gram as weighed came to in the trials made so far, or the share that beer
// can carry where there is none.
func ClaimDoses(s ledger.TrialSet) [][2]float64 {
	list := [][2]float64{}
	for _, c := range s.Claims {
		// "up to" has no low end, and a range down to 0 is without bound on a log axis
		if c.LowGPerL == nil || c.HighGPerL == nil || c.PerTea {
			continue
		}
		factor := s.EffectivePerGram(c.Basis)
		list = append(list, [2]float64{*c.LowGPerL * factor, *c.HighGPerL * factor})
	}
	return list
}

// ForTaste chooses the attribute of an answer as AttributeFor does, and returns the
// trials with doses in the class named, else in the solute family of the attribute,
// else in what counts in the material: all answers on one taste stand on one axis.
func ForTaste(s ledger.TrialSet, asked, class string) (ledger.TrialSet, string, error) {
	attribute, err := AttributeFor(s, asked)
	if err == nil && attribute == "" {
		attribute, err = attributeOfOthers(s)
	}
	if err != nil {
		return s, "", err
	}
	s, err = s.In(cmp.Or(class, trials.FamilyOf(attribute)))
	return s, attribute, err
}

// AttributeFor chooses the attribute of a suggestion: the one asked for, else
// the one with the most votes, of equals the one with the most intensities, then
// the one that stands first on a sheet. Which evening was logged first says
// nothing.
func AttributeFor(s ledger.TrialSet, asked string) (string, error) {
	have := s.Attributes()
	if asked != "" {
		if len(have) > 0 && !slices.Contains(have, asked) {
			return "", trials.Refuse(spelling.Hint(asked, have), "%q was not scored", asked)
		}
		return asked, nil
	}
	if len(have) == 0 {
		return "", nil
	}
	asks := askedFor(s)
	return slices.MinFunc(have, func(a, b string) int {
		x, y := asks[a], asks[b]
		return cmp.Or(-cmp.Compare(x.votes, y.votes), -cmp.Compare(x.intensities, y.intensities),
			cmp.Compare(x.place, y.place), strings.Compare(a, b))
	}), nil
}

// asking is how often an attribute was answered, and its first place on a sheet.
type asking struct{ votes, intensities, place int }

// askedFor counts the answers on each attribute.
func askedFor(s ledger.TrialSet) map[string]asking {
	asks := map[string]asking{}
	for _, t := range s.Tastings {
		for place, name := range t.Attributes {
			if a, ok := asks[name]; !ok || place < a.place {
				asks[name] = asking{place: place}
			}
		}
	}
	for _, sc := range s.Scores {
		a := asks[sc.Attribute]
		if sc.Vote != nil {
			a.votes++
		}
		if sc.Intensity != nil {
			a.intensities++
		}
		asks[sc.Attribute] = a
	}
	return asks
}

package decisions

import (
	"math"
	"slices"

	"hedgerow/report/doseresponse"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/spelling"
)

// Spread of the potency of a method about the predicted effective dose, sd of
// the logarithm, by solute class: the priors of the science of extraction,
// section 4 (water 0.25, aroma 0.6, resin 1.0).
var methodSD = [3]float64{0.25, 0.6, 1.0}

// doseSD is the sd of the logarithm of a dose from weighing and volumes alone;
// what the steeps leave in doubt is in the potency of their methods.
const doseSD = 0.03

// studyOf gathers a trial set into a study of one attribute.
func studyOf(s ledger.TrialSet, attribute string) doseresponse.Study {
	study := doseresponse.Study{
		ID: s.Material.Key, Material: s.Material.Key, Attribute: attribute,
		ClaimsGPerL: claimDoses(s), MethodPrior: map[string]doseresponse.MethodPrior{},
	}
	scored := byTrial(s)
	for i, t := range s.Trials {
		scores := saidOf(scored[i], attribute)
		if len(scores) == 0 && t.Control {
			continue
		}
		dose := t.Effective.Value
		if t.Control {
			dose = 0
		}
		study.Trials = append(study.Trials, doseresponse.Trial{
			ID: t.Batch.Name, DoseGPerL: dose, DoseSDLn: doseSD, Kind: doseresponse.Kind(t.Batch.Kind),
			Group: t.Group, Method: t.Method, DaysOld: ageOf(t), Scores: scores,
		})
		if t.Method != "" {
			sd := math.Hypot(methodSD[s.Class], spreadLn(t.Effective))
			study.MethodPrior[t.Method] = doseresponse.MethodPrior{SD: math.Min(sd, 1.5)}
		}
	}
	return study
}

// spreadLn is the sd of the logarithm of an estimate from its 95 % interval.
func spreadLn(e ledger.Estimate) float64 {
	if !e.HasBounds || e.Low <= 0 || e.High <= e.Low {
		return 0
	}
	return math.Log(e.High/e.Low) / (2 * 1.96)
}

// ageOf is the age of a trial at its first tasting in days since it was brewed.
func ageOf(t ledger.Trial) *float64 {
	if len(t.TastedAt) == 0 {
		return nil
	}
	days := t.TastedAt[0].Sub(t.BrewedAt).Hours() / 24
	return &days
}

// byTrial are the scores of a set by trial.
func byTrial(s ledger.TrialSet) [][]ledger.Scored {
	list := make([][]ledger.Scored, len(s.Trials))
	for _, sc := range s.Scores {
		list[sc.Trial] = append(list[sc.Trial], sc)
	}
	return list
}

// saidOf joins the scores of one trial to what each taster said of each glass:
// the attribute's intensity and vote, and the liking.
func saidOf(scores []ledger.Scored, attribute string) []doseresponse.Score {
	type cell struct{ serving, taster string }
	rows := map[cell]*doseresponse.Score{}
	var order []cell
	for _, sc := range scores {
		if sc.Attribute != attribute && sc.Attribute != trials.Overall {
			continue
		}
		c := cell{sc.ServingID, sc.TasterID}
		if rows[c] == nil {
			rows[c] = &doseresponse.Score{Taster: sc.Taster}
			order = append(order, c)
		}
		if sc.Attribute == trials.Overall {
			rows[c].Liking = sc.Liking
			continue
		}
		rows[c].Vote, rows[c].Intensity = sc.Vote, sc.Intensity
	}
	var list []doseresponse.Score
	for _, c := range order {
		if r := rows[c]; r.Vote != nil || r.Intensity != nil || r.Liking != nil {
			list = append(list, *r)
		}
	}
	return list
}

// claimDoses puts the claims on the effective scale: as-dried grams times what
// a gram as weighed came to in the trials made so far, or the share that beer
// can carry where there is none.
func claimDoses(s ledger.TrialSet) [][2]float64 {
	list := [][2]float64{}
	for _, c := range s.Claims {
		if c.LowGPerL == nil || c.HighGPerL == nil || c.PerTea {
			continue
		}
		factor := s.EffectivePerGram(c.Basis)
		list = append(list, [2]float64{*c.LowGPerL * factor, *c.HighGPerL * factor})
	}
	return list
}

// AttributeFor chooses the attribute of a suggestion: the one asked for, else
// the one with the most votes, else with the most intensities.
func AttributeFor(s ledger.TrialSet, asked string) (string, error) {
	have := s.Attributes()
	if asked != "" {
		if len(have) > 0 && !slices.Contains(have, asked) {
			return "", trials.Refuse(spelling.Hint(asked, have), "%q was not scored", asked)
		}
		return asked, nil
	}
	best, most := "", -1
	for _, a := range have {
		votes := 0
		for _, sc := range s.Scores {
			if sc.Attribute == a && sc.Vote != nil {
				votes += 1000
			}
			if sc.Attribute == a && sc.Intensity != nil {
				votes++
			}
		}
		if votes > most {
			best, most = a, votes
		}
	}
	return best, nil
}

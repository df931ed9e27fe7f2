package studies

import (
	"maps"
	"slices"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// alikeShare is how far amounts may lie apart, as a factor, and count as the
// same: jars of one brew get the same sugar into volumes that differ a little
// (judgement; a fifth of a dose is about what a panel tells).
const alikeShare = 1.2

// Besides tells what is in the beers beside the material and water: other plants
// as weighed, sugars, juices and spirits, each in the beers of all trials. A
// thing that all trials with a dose have in about the same amount is left out.
// The result goes by the name of the thing and has a text for every trial.
func Besides(s ledger.TrialSet) map[string][]string {
	amounts := map[addedThing][]float64{}
	put := func(trial int, thing addedThing, perL float64) {
		if amounts[thing] == nil {
			amounts[thing] = make([]float64, len(s.Trials))
		}
		amounts[thing][trial] += perL
	}
	for i, t := range s.Trials {
		for _, d := range t.Ledger.Doses {
			if d.MaterialKey != s.Material.Key {
				put(i, addedThing{d.MaterialKey, "g/L"}, d.AsWeighed)
			}
		}
		for thing, perL := range plainAdded(t) {
			put(i, thing, perL)
		}
	}
	out := map[string][]string{}
	for thing, list := range amounts {
		if !sameAmount(s, list) {
			out[thing.name] = amountTexts(list, thing.unit)
		}
	}
	return out
}

// addedThing is something in a beer and the unit of its amount.
type addedThing struct{ name, unit string }

// plainAdded are the sugars, juices and spirits of a trial in grams, or
// millilitres, per litre of the beer they went into. Water is left out: the
// account dilutes by it.
func plainAdded(t ledger.Trial) map[addedThing]float64 {
	added := map[addedThing]float64{}
	for _, step := range t.Ledger.Steps {
		a := step.Addition
		if step.Kind != ledger.EventAddition || a.LiquidKind == "" || a.LiquidKind == "water" {
			continue
		}
		thing, amount := addedThing{a.LiquidKind, "mL/L"}, 1000*step.AddedL
		if a.LiquidMassG != nil {
			thing.unit, amount = "g/L", *a.LiquidMassG
		}
		if volume := step.State().VolumeL; volume.OK && volume.Value > 0 {
			added[thing] += amount / volume.Value
		}
	}
	return added
}

// sameAmount reports whether the trials with a dose have about the same of a
// thing.
func sameAmount(s ledger.TrialSet, amounts []float64) bool {
	var dosed []float64
	for i, t := range s.Trials {
		if !t.Control {
			dosed = append(dosed, amounts[i])
		}
	}
	return len(dosed) == 0 || slices.Max(dosed) <= alikeShare*slices.Min(dosed)
}

// amountTexts prints amounts; those that are about the same get one text, so that
// what is told apart by its text is told apart by nothing less.
func amountTexts(amounts []float64, unit string) []string {
	text := map[float64]string{0: "none"}
	first := 0.0
	for _, a := range slices.Sorted(slices.Values(amounts)) {
		if a > alikeShare*first {
			first = a
		}
		if a > 0 {
			text[a] = document.Significant(first, 2) + " " + unit
		}
	}
	out := make([]string, len(amounts))
	for i, a := range amounts {
		out[i] = text[a]
	}
	return out
}

// conditionsOf are the conditions of each trial for an inference: what is in the
// beer beside the material, and the style of the base.
func conditionsOf(s ledger.TrialSet) []map[string]string {
	out := make([]map[string]string, len(s.Trials))
	others := Besides(s)
	for i, t := range s.Trials {
		out[i] = map[string]string{}
		for _, name := range slices.Sorted(maps.Keys(others)) {
			out[i][name] = others[name][i]
		}
		if t.Style != "" {
			out[i]["base"] = t.Style
		}
	}
	return out
}

// Use is how a material went into a trial for the first time, in words; "" where that
// was not logged.
type Use struct {
	Form  string // dried flower, whole berry ...
	Lot   string // as written on the bag
	Temp  string // of the first pass, in the reader's units
	Stage string // of the brew
}

// FirstUse looks at the first addition of the material.
func FirstUse(t ledger.Trial, u quantity.Units) Use {
	if len(t.Uses) == 0 {
		return Use{}
	}
	a, x := t.Uses[0].Addition, t.Uses[0].Extract
	first := Use{Form: a.Form, Lot: a.Lot, Stage: a.Stage}
	if a.StartC != nil {
		first.Temp = wording.TempText(*a.StartC, u)
	}
	if x != nil {
		first.Form, first.Lot = x.Form, x.Lot
		if len(x.Passes) > 0 {
			first.Temp = wording.TempText(x.Passes[0].StartC, u)
		}
	}
	return first
}

// contactDays is how long the material had been in the beer at a moment, the
// longest of its additions; nil if none was put in itself.
func contactDays(t ledger.Trial, at time.Time) *float64 {
	var longest *float64
	for _, u := range t.Uses {
		if u.Method() != trials.MethodContact || u.Extract != nil {
			continue
		}
		until := at
		if p := packagedAt(t); p != nil && p.Before(until) {
			until = *p
		}
		// A tasting on the way saw only part of the time that was logged later.
		minutes := min(u.Addition.ContactMinutes(until), until.Sub(u.Addition.At).Minutes())
		if days := minutes / (24 * 60); days > 0 && (longest == nil || days > *longest) {
			longest = &days
		}
	}
	return longest
}

// ContactWhenTasted is contactDays at the first tasting; nil for a trial that
// nobody has tasted.
func ContactWhenTasted(t ledger.Trial) *float64 {
	if len(t.TastedAt) == 0 {
		return nil
	}
	return contactDays(t, t.TastedAt[0])
}

// packagedAt is when a beer was packaged, which ends the contact with a plant that
// nobody took out before; nil while it is not.
func packagedAt(t ledger.Trial) *time.Time {
	for _, step := range t.Ledger.Steps {
		if step.Kind == ledger.EventPackage {
			return &step.At
		}
	}
	return nil
}

package ledger

import (
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// Conditioning is what fermentation in the closed package is expected to do. The
// beer after it is the last step of its ledger, of kind EventConditioned.
type Conditioning struct {
	FermentedG     float64 // extract that ferments, grams
	GainedGPerL    float64 // CO2 gained by Balling, grams per litre of the beer after it
	GainedVolumes  float64 // the same in volumes
	UpperGPerL     float64 // at most: no yeast grows; dextrose as a hexose, all else as a disaccharide
	UpperVolumes   float64 // the same in volumes
	FinalAssumed   bool    // the last gravity was taken as final, no expected one being known
	WithoutPriming bool    // no sugar went in for it: what was left ferments
}

// leftVolumes is from how much gas of extract that was left a beer counts as still
// fermenting when it is packaged: a judgement, less than half a point of gravity,
// which is as close as a hydrometer is read.
const leftVolumes = 0.2

// condition ends the account with the fermentation in the package, where sugar
// went in at packaging or later, or extract was left to ferment then. Without a
// gravity ever read nothing is known of what is left.
func (b *ledgerBuilder) condition(batch trials.Batch) {
	if lastGravity(b.account.Steps) < 0 {
		return
	}
	closedAt, closed := b.closedAt(batch)
	primed := b.primed(closedAt, closed)
	if !primed && !closed {
		return
	}
	snaps, err := b.account.Run()
	if err != nil {
		return // whoever folds the account is told
	}
	toCome, ok := snaps[len(snaps)-1].State.CO2ToCome()
	if !ok || toCome.ExpectedVolumes <= 0 || !primed && toCome.ExpectedVolumes < leftVolumes {
		return
	}
	last := b.steps[len(b.steps)-1]
	b.then(dilution.Condition{Share: b.origins.note(dilution.ConditionShare(), fromDefault, limitDefault)})
	b.conditioning = &Conditioning{FinalAssumed: b.settled, WithoutPriming: !primed}
	b.enter(LedgerStep{Event: Event{Kind: EventConditioned, Name: batch.Name, Batch: batch, At: last.At}})
}

// closedAt is when a batch was packaged, or the batch that it was later split
// from; false for one that never was.
func (b *ledgerBuilder) closedAt(batch trials.Batch) (time.Time, bool) {
	split := b.Now
	for x := range b.line(batch) {
		p, ok := b.Packaged(x.ID)
		if ok && (x.ID == batch.ID || !p.At.After(split)) {
			return p.At, true
		}
		split = x.StartedAt
	}
	return time.Time{}, false
}

// primed reports whether something that ferments went in at packaging or after
// it, and no gravity was read since. What goes into a glass is drunk before it
// ferments.
func (b *ledgerBuilder) primed(closedAt time.Time, closed bool) bool {
	found := false
	for i, s := range b.steps {
		switch {
		case s.Kind == EventReading && s.Reading.SG != nil:
			found = false
		case s.Kind != EventAddition || s.Addition.InWort() || s.Addition.Stage == trials.StageGlass:
		case s.Addition.Stage == trials.StagePackaging || closed && !s.At.Before(closedAt):
			found = found || b.fermentableG(i) > 0
		}
	}
	return found
}

// fermentableG is what can ferment of an addition of fruit, sugar or juice, in
// grams, by the index of its step.
func (b *ledgerBuilder) fermentableG(step int) float64 {
	from := 0
	if step > 0 {
		from = b.after[step-1]
	}
	grams := 0.0
	for _, s := range b.account.Steps[from:b.after[step]] {
		add, ok := s.(dilution.Add)
		if !ok {
			continue
		}
		switch l := add.Liquid.(type) {
		case dilution.AddFruit:
			grams += 1000 * l.MassKg.Value * l.Sugar.Value * orOne(l.Extraction) * orOne(l.Fermentability)
		case dilution.AddJuice:
			grams += 1000 * l.VolumeL.Value * l.Plato.Value / 100 * orOne(l.Fermentability) // near enough to tell from none
		}
	}
	return grams
}

// LabelABVPct is the strength for a label of a beer that is packaged or will ferment
// in the package: that with which it is expected to be drunk, rounded down to one
// decimal; false for any other.
func (l Ledger) LabelABVPct(n *trials.Notebook) (float64, bool) {
	_, packaged := n.Packaged(l.Batch.ID)
	abv := l.Last().State().ABVPct
	if !packaged && l.Conditioning == nil || !abv.OK {
		return 0, false
	}
	label, err := dilution.LabelABVPct(abv.Value)
	return label, err == nil
}

// orOne is an optional share, 1 for none.
func orOne(in *dilution.Input) float64 {
	if in == nil {
		return 1
	}
	return in.Value
}

// gain fills in the gas, from the results before and after.
func (b *ledgerBuilder) gain(results []dilution.StepResult) *Conditioning {
	c := b.conditioning
	if c == nil {
		return nil
	}
	before, after := results[len(results)-2].Snapshot, results[len(results)-1].Snapshot
	toCome, _ := before.State.CO2ToCome()
	volumes := toCome.ExpectedVolumes / toCome.ExpectedGPerL
	c.FermentedG = 1000 * (before.State.ExtractKg - after.State.ExtractKg)
	perL := c.FermentedG / after.State.VolumeL()
	hexose := min(b.dextroseG(results)/c.FermentedG, 1)
	c.GainedGPerL = dilution.CO2PerExtract * perL
	c.UpperGPerL = (hexose*dilution.CO2PerHexose + (1-hexose)*dilution.CO2PerDisaccharide) * perL
	c.GainedVolumes, c.UpperVolumes = volumes*c.GainedGPerL, volumes*c.UpperGPerL
	return c
}

// dextroseG is the dextrose that went in since the last gravity and is still
// there, in grams.
func (b *ledgerBuilder) dextroseG(results []dilution.StepResult) float64 {
	grams := 0.0
	for i, s := range b.steps {
		switch {
		case s.Kind == EventReading && s.Reading.SG != nil:
			grams = 0
		case s.Kind == EventAddition && s.Addition.LiquidKind == dextrose:
			grams += b.fermentableG(i) * results[len(results)-1].KeptShare / results[b.after[i]].KeptShare
		}
	}
	return grams
}

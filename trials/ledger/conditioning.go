package ledger

import (
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// Conditioning is what fermentation in the closed package is expected to do. The
// beer after it is the last step of its ledger, of kind EventConditioned.
type Conditioning struct {
	Since         time.Time // when the package was closed, or the last sugar went in
	FermentedG    float64   // extract that ferments in the package, grams
	LeftG         float64   // of it what went in before packaging and no gravity shows to have fermented
	GainedGPerL   float64   // CO2 gained by Balling, grams per litre of the beer after it
	GainedVolumes float64   // the same in volumes
	UpperGPerL    float64   // at most: no yeast grows; dextrose as a hexose, all else as a disaccharide
	UpperVolumes  float64   // the same in volumes
	FinalAssumed  bool      // the last gravity was taken as final, no expected one being known
	Unread        bool      // no gravity was read: taken to have fermented out when it was packaged
}

// CodeUnread is the code of the warning that no gravity tells whether a packaged
// beer had fermented out.
const CodeUnread = "packaged-unread"

// unreadText is that warning.
const unreadText = "no gravity was read: it is taken to have fermented out to the expected final gravity before it " +
	"was packaged, so that only what went in then makes gas; had it not, there would be far more: log a gravity"

// leftVolumes is from how much gas of extract that was left a beer counts as still
// fermenting when it is packaged: a judgement, less than half a point of gravity,
// which is as close as a hydrometer is read.
const leftVolumes = 0.2

// condition ends the account with the fermentation in the package, where sugar
// went in at packaging or later, or extract was left to ferment then. Beer that
// nobody read is taken to have reached the final gravity expected of it.
func (b *ledgerBuilder) condition(batch trials.Batch) {
	b.primings = b.primed()
	primed := len(b.primings) > 0
	if !primed && b.closed == nil {
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
	// what happens in a package is seen by nobody: it has no moment of its own
	last := b.steps[len(b.steps)-1]
	b.conditioning = &Conditioning{Since: b.conditionsSince(), FinalAssumed: b.settled,
		Unread: lastGravity(b.account.Steps) < 0}
	b.then(dilution.Condition{Share: b.origins.note(dilution.ConditionShare(), fromDefault, limitDefault)})
	b.enter(ledgerStep{Event: Event{Kind: EventConditioned, Name: batch.Name, Batch: batch, At: last.At}})
}

// conditionsSince is when the package was closed, or the last sugar went in.
func (b *ledgerBuilder) conditionsSince() time.Time {
	var since time.Time
	if b.closed != nil {
		since = *b.closed
	}
	for _, i := range b.primings {
		since = later(since, b.steps[i].At)
	}
	return since
}

// closedAt is when a batch was packaged, or the batch that it was later split
// from; nil for one that never was.
func (k *book) closedAt(batch trials.Batch) *time.Time {
	split := k.Now
	for x := range k.line(batch) {
		p, ok := k.Packaged(x.ID)
		// an ancestor that was packaged after the split closed in what was left, not this one
		if ok && (x.ID == batch.ID || !p.At.After(split)) {
			return &p.At
		}
		split = x.StartedAt
	}
	return nil
}

// conditioningTime is how long sugar takes to ferment in the package at least: a
// gravity read sooner after it went in says nothing of where it ends (common practice,
// no source: one to two weeks).
const conditioningTime = 7 * 24 * time.Hour

// late reports whether an event is an addition at packaging or after it. What goes
// into a glass is drunk before it ferments.
func (b *ledgerBuilder) late(e Event) bool {
	if e.Kind != EventAddition || e.Addition.InWort() || e.Addition.Stage == trials.StageGlass {
		return false
	}
	return e.Addition.Stage == trials.StagePackaging || b.closed != nil && !e.At.Before(*b.closed)
}

// lastSettling is the index of the last event in which a gravity was read that may
// be final, -1 for none: not the one of beer just primed.
func (b *ledgerBuilder) lastSettling(events []Event) int {
	last, soon := -1, time.Time{}
	for i, e := range events {
		switch {
		case b.late(e):
			soon = e.At.Add(conditioningTime)
		case e.Reading != nil && e.Reading.SG != nil && !e.At.Before(soon):
			last = i
		}
	}
	return last
}

// primed are the indexes of the steps in which something that ferments went in at
// packaging or after it, if no gravity that may be final was read since.
func (b *ledgerBuilder) primed() []int {
	events := make([]Event, len(b.steps))
	for i, s := range b.steps {
		events[i] = s.Event
	}
	var found []int
	for i := b.lastSettling(events) + 1; i < len(events); i++ {
		if b.late(events[i]) && b.fermentableG(i) > 0 {
			found = append(found, i)
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
	if lastGravity(l.Account.Steps) < 0 && l.Conditioning == nil {
		return 0, false // nothing says that it is beer
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
	primedG, dextroseG := b.primingG(results)
	c.FermentedG = 1000 * (before.State.ExtractKg - after.State.ExtractKg)
	// no gravity says that it fermented: of all extract only the priming is sure to
	if c.Unread {
		c.FermentedG = min(primedG, c.FermentedG)
	}
	c.LeftG = max(c.FermentedG-primedG, 0)
	hexoseG := min(dextroseG, c.FermentedG)
	litres := after.State.VolumeL()
	c.GainedGPerL = dilution.CO2PerExtract * c.FermentedG / litres
	c.UpperGPerL = (hexoseG*dilution.CO2PerHexose + (c.FermentedG-hexoseG)*dilution.CO2PerDisaccharide) / litres
	c.GainedVolumes, c.UpperVolumes = volumes*c.GainedGPerL, volumes*c.UpperGPerL
	return c
}

// primingG is what can ferment of the primings and is still there, in grams, and the
// part of it that is dextrose.
func (b *ledgerBuilder) primingG(results []dilution.StepResult) (all, ofDextrose float64) {
	for _, i := range b.primings {
		grams := b.fermentableG(i) * results[len(results)-1].KeptShare / results[b.after[i]].KeptShare
		all += grams
		if b.steps[i].Addition.LiquidKind == dextrose {
			ofDextrose += grams
		}
	}
	return all, ofDextrose
}

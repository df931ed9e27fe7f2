package ledger

import (
	"fmt"
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// additionLimit is how far an added volume or mass may be off, as a share: the
// default of the machine-readable contract, for jugs and kitchen scales.
const additionLimit = 0.01

// retainKgKg and retainLimit are the liquid that drained fruit pulp keeps back,
// kg per kg of fruit. A guess to be replaced by weighing; common practice, no
// source.
const retainKgKg, retainLimit = 0.5, 0.25

// limits are how far readings of this notebook may be off.
type limits struct {
	gravity     float64 // SG, half-width
	volumeShare float64 // of a batch volume
}

// limitsOf reads the user's limits.
func limitsOf(n *trials.Notebook) limits {
	at := func(key string) float64 {
		s, _ := trials.SettingNamed(key)
		return s.NumberIn(n.Settings)
	}
	return limits{gravity: at(trials.SettingGravityLimit), volumeShare: at(trials.SettingVolumeLimit) / 100}
}

// ReadingLimits returns how far a gravity (SG) and a batch volume (a share of
// it) may be off: the user's settings, or the defaults.
func ReadingLimits(n *trials.Notebook) (gravity, volumeShare float64) {
	l := limitsOf(n)
	return l.gravity, l.volumeShare
}

// volume is a batch volume with its limit.
func (l limits) volume(name string, v float64) dilution.Input {
	return dilution.Within(name, v, l.volumeShare*v)
}

// sg is a gravity with its limit.
func (l limits) sg(name string, v float64) dilution.Input {
	return dilution.Within(name, v, l.gravity)
}

// reading is a gravity read with a hydrometer: what its zero may be off is one
// error of all its readings. Without a named hydrometer each is off on its own.
func (l limits) reading(name string, v float64, m trials.Meter) dilution.Input {
	if m.ID == "" {
		return l.sg(name, v)
	}
	common := commonLimit(m, l.gravity)
	return dilution.Input{Name: name, Value: v, HalfWidth: max(l.gravity-common, 0), Shared: "zero error of " + m.Name,
		SharedHalfWidth: common}
}

// Added is an added amount with its limit.
func Added(name string, v float64) dilution.Input {
	return dilution.Within(name, v, additionLimit*v)
}

// ledgerBuilder lays the events of one batch out as an account.
type ledgerBuilder struct {
	*book
	account dilution.Account
	origins origins
	steps   []ledgerStep
	after   []int // snapshot after each ledger step
	dosed   []dosed
	// water boiled off in the kettle so far, litres
	boiledOffL float64
	ended      *time.Time // when fermentation ended, nil while no gravity says so

	closed       *time.Time    // when it was packaged, or the batch that it was later split from; nil for never
	settled      bool          // the last gravity was taken as final, no expected one being known
	conditioning *Conditioning // nil where nothing ferments in the package
	primings     []int         // indexes of the steps in which sugar went in for it
}

// dosed is one material that went in: a tracer of the account.
type dosed struct {
	addition string
	step     int // index of the ledger step
	yield    steeps.Yield
	plant    *trials.Addition // that gives its solutes day by day; nil for what is all in at once
}

// build adds the events in order.
func (b *ledgerBuilder) build(events []Event) error {
	// looked for ahead of the walk: whether gas is still being made is told by gravities read later
	if at, ok := fermentationEnded(events, b.limits.gravity); ok {
		b.ended = &at
	}
	last := b.lastSettling(events)
	for i, e := range events {
		step := ledgerStep{Event: e}
		if err := b.add(e, &step); err != nil {
			return fmt.Errorf("%s: %w", e.Name, err)
		}
		// Without an expected final gravity, or once it is reached, only what goes in from
		// here on ferments.
		if i == last {
			b.settled = b.account.Start.FinalSG == nil
			b.then(dilution.Settle{IfReached: !b.settled})
		}
		b.enter(step)
	}
	return nil
}

// enter closes a ledger step: the account steps appended since the one before it
// are its own. An addition tells what it changed.
func (b *ledgerBuilder) enter(step ledgerStep) {
	from, to := 0, len(b.account.Steps)
	if len(b.after) > 0 {
		from = b.after[len(b.after)-1]
	}
	b.steps = append(b.steps, step)
	b.after = append(b.after, to)
	if !b.shown {
		return
	}
	// -1 for steps in between: only the last step of an addition tells what it changed
	for len(b.account.Since) <= to {
		b.account.Since = append(b.account.Since, -1)
	}
	if b.changed(len(b.steps) - 1) {
		b.account.Since[to] = from
	}
}

// changed reports whether a ledger step is one that tells what it changed, and
// changed anything.
func (b *ledgerBuilder) changed(step int) bool {
	kind := b.steps[step].Kind
	from := 0
	if step > 0 {
		from = b.after[step-1]
	}
	return b.after[step] > from && (kind == EventAddition || kind == EventConditioned)
}

// add turns one event into steps of the account.
func (b *ledgerBuilder) add(e Event, step *ledgerStep) error {
	switch e.Kind {
	case EventStart:
		return b.start(e.Batch)
	// a child is what was taken, its parent what is left
	case EventChild:
		b.then(dilution.TakeOut{VolumeL: b.origins.note(b.limits.volume("volume of "+e.Batch.Name, e.Batch.VolumeL),
			fromYou, limitSetting)})
	case EventSplit:
		b.then(dilution.LoseVolume{VolumeL: b.origins.note(Added("volume of "+e.Child.Name, e.Child.VolumeL), fromYou,
			limitDefault)})
	case EventLoss:
		b.loss(*e.Loss)
	case EventPackage:
		b.gas(e.Package.HighestTempC, "warmest beer "+e.Name, e.At)
	case EventReading:
		return b.reading(*e.Reading)
	case EventAddition:
		return b.addition(*e.Addition, step)
	case EventRemoval:
		return b.removal(*e.Addition)
	}
	return nil
}

// then appends steps to the account.
func (b *ledgerBuilder) then(steps ...dilution.Step) {
	b.account.Steps = append(b.account.Steps, steps...)
}

// start begins the account.
func (b *ledgerBuilder) start(batch trials.Batch) error {
	s := dilution.Start{VolumeL: b.origins.note(b.limits.volume("volume of "+batch.Name, batch.VolumeL), fromYou,
		limitSetting),
		IBU: b.origins.exact("bitterness", batch.IBU, fromYou), SRM: b.origins.exact("colour", batch.SRM, fromYou)}
	if batch.OG == nil {
		return &trials.Problem{Code: trials.NotEnough,
			Message: "the original gravity of " + batch.Name + " is not known",
			Hint:    "hedgerow batch edit " + trials.Typed(batch.Name) + " --og 1.048"}
	}
	og, err := b.originalGravity(batch)
	if err != nil {
		return err
	}
	og = b.origins.note(og, fromReading, limitSetting)
	s.OG = &og
	if batch.FG != nil {
		fg := b.origins.note(b.limits.sg("expected final gravity", *batch.FG), fromYou, limitSetting)
		s.FinalSG = &fg
	}
	b.account.Start = s
	return nil
}

// originalGravity is the original gravity with the corrections of its meter: of
// wort, since nothing has fermented.
func (b *ledgerBuilder) originalGravity(batch trials.Batch) (dilution.Input, error) {
	m, err := hydrometer(b.Notebook, batch.OGMeterID)
	if err != nil {
		return dilution.Input{}, err
	}
	in := b.limits.reading("original gravity", *batch.OG, m)
	if m.ID == "" && batch.OGSampleTempC == nil {
		return in, nil
	}
	sample := scaleOf(m)
	if batch.OGSampleTempC != nil {
		sample = *batch.OGSampleTempC
	}
	in.Value, err = dilution.Hydrometer{Reading: *batch.OG, ZeroError: zeroOf(m), SampleTempC: sample,
		CalTempC: scaleOf(m)}.WortSG()
	return in, err
}

// loss appends a loss.
func (b *ledgerBuilder) loss(l trials.Loss) {
	volume := b.origins.note(Added(l.Kind+" loss "+l.Name, l.VolumeL), fromYou, limitDefault)
	if l.Kind == trials.LossEvaporation {
		b.then(dilution.Evaporate{VolumeL: volume})
		return
	}
	b.then(dilution.LoseVolume{VolumeL: volume})
}

// reading appends what a reading fixes. pH fixes nothing in the mass balance, a
// temperature the gas alone. A volume was measured at the temperature of the
// beer, where that was read with it.
func (b *ledgerBuilder) reading(r trials.Reading) error {
	// the gravity first, for fermenting changes the volume, and the volume read is of the beer as it is
	if r.SG != nil {
		g, err := b.gravity(r)
		if err != nil {
			return err
		}
		b.then(g)
	}
	if r.VolumeL != nil {
		b.then(dilution.ReadVolume{VolumeL: b.origins.note(b.limits.volume("volume "+r.Name, *r.VolumeL), fromReading,
			limitSetting),
			TempC: b.origins.exact("temperature "+r.Name, r.BeerTempC, fromReading)})
	}
	b.gas(r.BeerTempC, "temperature "+r.Name, r.At)
	return nil
}

// gas appends what a temperature of the beer says of its CO2: while it ferments
// it is saturated, afterwards it only loses gas when it gets warmer. Before any
// gravity tells that it ferments nothing is known.
func (b *ledgerBuilder) gas(tempC *float64, name string, at time.Time) {
	if tempC == nil || !gasTemp(*tempC) || b.ended == nil || lastGravity(b.account.Steps) < 0 {
		return
	}
	to := dilution.Saturate{TempC: *b.origins.exact(name, tempC, fromReading)}
	b.origins["CO2 solubility in beer"] = origin{fromDefault, limitDefault}
	if at.Before(*b.ended) {
		b.then(to)
		return
	}
	b.then(dilution.Warm{To: to})
}

// gravity is a hydrometer reading with the corrections of its meter.
func (b *ledgerBuilder) gravity(r trials.Reading) (dilution.Step, error) {
	m, err := hydrometer(b.Notebook, r.MeterID)
	if err != nil {
		return nil, err
	}
	step := dilution.ReadGravity{SG: b.origins.note(b.limits.reading("gravity "+r.Name, *r.SG-zeroOf(m), m),
		fromReading, limitSetting), CalTempC: scaleOf(m)}
	scale, name := scaleOf(m), "sample temperature "+r.Name
	switch {
	case r.SampleTempC != nil:
		step.TempC = b.origins.exact(name, r.SampleTempC, fromReading)
	// the sample had the temperature of the scale, which is not yet that of the account
	case scale != dilution.Cal20C:
		step.TempC = b.origins.exact(name, &scale, fromDefault)
	}
	return step, nil
}

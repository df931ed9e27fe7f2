package ledger

import (
	"fmt"
	"math"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// CodeOneGravity is the code of the warning that the zero error of a hydrometer
// moves the strength, since only one of the two gravities was read with it.
const CodeOneGravity = "one-gravity-corrected"

// wordedPct is from how much such a move is worth a word, % vol: half a unit of the
// second decimal.
const wordedPct = 0.005

// oneGravity warns of a strength that a zero error moves. Of two gravities read
// with one hydrometer both are corrected, and their difference stays; with one of
// them read otherwise, by an instrument whose zero was never read, the correction
// goes into the strength, which is right only if that was so.
func (b *ledgerBuilder) oneGravity(l Ledger) []Warning {
	batch, reading := b.steps[0].Batch, b.lastReading()
	if reading == nil {
		return nil
	}
	og, err := hydrometer(b.Notebook, batch.OGMeterID)
	fg, err2 := hydrometer(b.Notebook, reading.MeterID)
	if err != nil || err2 != nil || og.ID == fg.ID {
		return nil
	}
	m, corrected, other := fg, "final", "original"
	record, fix := reading.Name, "hedgerow batch edit "+batch.Name
	switch {
	case zeroOf(fg) != 0 && og.ZeroError == nil:
	case zeroOf(og) != 0 && fg.ZeroError == nil:
		m, corrected, other = og, "original", "final"
		record, fix = batch.Name, "hedgerow reading edit "+reading.Name
	default:
		return nil
	}
	moved, ok := b.movedBy(l, m)
	if !ok || math.Abs(moved) < wordedPct {
		return nil
	}
	return []Warning{{Record: record, Code: CodeOneGravity, Text: fmt.Sprintf("only the %s gravity was read with %s, so "+
		"its zero error of %+.4f moves the strength by %+.2f %% vol; if the %s one was read with it too, say so: %s "+
		"--meter %s", corrected, m.Name, zeroOf(m), moved, other, fix, m.Name)}}
}

// lastReading is the last reading of a gravity, nil for none.
func (b *ledgerBuilder) lastReading() *trials.Reading {
	var last *trials.Reading
	for _, s := range b.steps {
		if s.Kind == EventReading && s.Reading.SG != nil {
			last = s.Reading
		}
	}
	return last
}

// movedBy is how much the zero error of a hydrometer moves the last strength of a
// ledger, % vol.
func (b *ledgerBuilder) movedBy(l Ledger, m trials.Meter) (float64, bool) {
	// worked out without the zero rather than estimated: the meter may have read other gravities as well
	m.ZeroError = nil
	k, err := newBook(b.Notebook.With(m), steeps.BestValues)
	if err != nil {
		return 0, false
	}
	without, err := k.ledger(l.Batch)
	if err != nil {
		return 0, false
	}
	abv := func(l Ledger) float64 { return l.Last().Result.Estimates[dilution.QABV].Value }
	return abv(l) - abv(without), true
}

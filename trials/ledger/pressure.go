package ledger

import (
	"math"
	"slices"
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// Pressure is what may build up in a closed package: the gas that stayed in the
// beer and the gas that sugar still left will make.
type Pressure struct {
	ResidualVolumes float64  // dissolved when closed, an upper limit
	ExpectedVolumes float64  // in all, by Balling
	UpperVolumes    float64  // in all, upper bound: no yeast grows, every sugar a disaccharide
	ExpectedBar     float64  // above the air, at StorageC
	UpperBar        float64  // the same, upper bound
	SugarVolumes    float64  // upper bound of what sugar still left makes
	WarmestC        float64  // highest temperature since fermentation ended
	StorageC        float64  // highest temperature the package will see
	WarmestAssumed  bool     // no temperature was known
	StorageAssumed  bool     // as WarmestAssumed
	FinalAssumed    bool     // the last gravity was taken as final, no expected one being known
	RatedBar        *float64 // rating of the container, bar above atmosphere
	AboveRating     *bool    // the upper bound is above the rating; nil where there is none
}

// Temperatures taken where none is known: cold beer holds the most gas, a warm
// package has the most pressure. Common practice, no source.
const (
	coldestC = 4.0
	warmestC = 25.0
)

// mattersVolumes is from how much gas of sugar on a pressure is worth a word: a
// judgement, about half a point of gravity.
const mattersVolumes = 0.3

// Matters reports whether sugar that is left makes gas worth a word.
func (p Pressure) Matters() bool {
	return p.SugarVolumes >= mattersVolumes || p.AboveRating != nil && *p.AboveRating
}

// closedIn are the conditions of a package.
type closedIn struct {
	warmestC, storageC *float64
	ratedBar           *float64
}

// pressureOf works out the pressure over a beer.
func pressureOf(beer dilution.State, c closedIn) (Pressure, error) {
	// what is not given is taken so that the pressure comes out at its highest
	out := Pressure{WarmestC: coldestC, StorageC: warmestC, WarmestAssumed: c.warmestC == nil,
		StorageAssumed: c.storageC == nil, RatedBar: c.ratedBar}
	if c.warmestC != nil {
		out.WarmestC = *c.warmestC
	}
	if c.storageC != nil {
		out.StorageC = *c.storageC
	}
	beer.Gaps |= dilution.GapCO2 // so that the solubility of water bounds what stayed
	r, err := dilution.Pressure(dilution.Packaging{Beer: beer, WarmestC: out.WarmestC, StorageC: out.StorageC,
		RatingBar: c.ratedBar})
	if err != nil {
		return out, trials.ProblemOf(err)
	}
	const airBar = 1.01325
	usual := r.ResidualVolumes * dilution.BeerCO2Factor
	out.ResidualVolumes, out.SugarVolumes = r.ResidualVolumes, r.ToCome.UpperVolumes
	out.ExpectedVolumes, out.UpperVolumes = usual+r.ToCome.ExpectedVolumes, r.ResidualVolumes+r.ToCome.UpperVolumes
	// beer below the pressure of the air outside has nothing to burst with
	out.ExpectedBar, out.UpperBar = math.Max(r.ExpectedBar-airBar, 0), math.Max(r.UpperBar-airBar, 0)
	out.AboveRating = r.AboveRating
	return out, nil
}

// PressureIn works out what may build up when the batch is closed in as it is at
// the end of its ledger; false where no gravity has been read, so that nothing
// is known of the sugar left. Without an expected final gravity the last gravity
// read is taken as final, and only what went in since ferments.
func PressureIn(n *trials.Notebook, l Ledger) (Pressure, bool) {
	if lastGravity(l.Account.Steps) < 0 {
		return Pressure{}, false
	}
	// Package conditioning is the sugar that the pressure is about.
	account := l.Account
	if l.Conditioning != nil {
		account.Steps = account.Steps[:len(account.Steps)-1]
	}
	snaps, err := account.Run()
	if err != nil {
		return Pressure{}, false
	}
	beer := snaps[len(snaps)-1].State
	c := closedIn{warmestC: warmest(n, l), ratedBar: l.Batch.RatedBar}
	if p, ok := n.Packaged(l.Batch.ID); ok {
		c.storageC = p.StorageTempC
	}
	out, err := pressureOf(beer, c)
	out.FinalAssumed = l.Account.Start.FinalSG == nil
	return out, err == nil
}

// lastGravity is the index of the last gravity read, -1 for none.
func lastGravity(steps []dilution.Step) int {
	for i := len(steps) - 1; i >= 0; i-- {
		if _, ok := steps[i].(dilution.ReadGravity); ok {
			return i
		}
	}
	return -1
}

// warmest is the highest temperature of the beer since fermentation ended: as
// given at packaging, else the highest read; nil where none was.
func warmest(n *trials.Notebook, l Ledger) *float64 {
	if p, ok := n.Packaged(l.Batch.ID); ok && p.HighestTempC != nil {
		return p.HighestTempC
	}
	events := make([]Event, len(l.Steps))
	for i, s := range l.Steps {
		events[i] = s.Event
	}
	ended, ok := fermentationEnded(events, limitsOf(n).gravity)
	if !ok {
		return nil
	}
	var highest *float64
	for _, e := range events {
		if e.Reading == nil || e.At.Before(ended) {
			continue
		}
		if t := e.Reading.BeerTempC; t != nil && gasTemp(*t) && (highest == nil || *t > *highest) {
			highest = t
		}
	}
	return highest
}

// fermentationEnded is when a gravity was first read that two readings cannot
// tell from the last one; false while no gravity below the original one was read.
func fermentationEnded(events []Event, gravityLimit float64) (time.Time, bool) {
	var ended time.Time
	found, final, original := false, 0.0, math.Inf(1)
	for _, e := range slices.Backward(events) {
		if e.Reading == nil || e.Reading.SG == nil {
			continue
		}
		sg := *e.Reading.SG
		if !found {
			found, final = true, sg
		}
		// each of two readings may be off by the limit
		if math.Abs(sg-final) > 2*gravityLimit {
			break
		}
		ended = e.At
	}
	for _, e := range events {
		if e.Kind == EventStart && e.Batch.OG != nil {
			original = *e.Batch.OG
		}
	}
	return ended, found && final < original-2*gravityLimit
}

// gasTemp reports whether the gas formulas hold at a temperature.
func gasTemp(tempC float64) bool { return tempC >= 0 && tempC <= 40 }

package ledger

import (
	"math"
	"slices"
	"time"

	"hedgerow/trials/figure"
)

// dose fills in the effective doses of a ledger: today, and in one that is shown at
// the moment of each step.
func (k *book) dose(l *Ledger) (err error) {
	for i := range l.Steps {
		if !k.shown {
			break
		}
		if l.Steps[i].Doses, err = k.dosesAt(*l, i, l.Steps[i].At); err != nil {
			return err
		}
	}
	last := len(l.Steps) - 1
	l.Doses, err = k.dosesAt(*l, last, later(k.Now, l.Steps[last].At))
	return err
}

// later is the later of two moments.
func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// dosesAt are the effective doses at a moment after ledger step i and before the one
// that follows it. What a plant has given by then counts, not what it will have.
func (k *book) dosesAt(l Ledger, i int, at time.Time) ([]Dose, error) {
	var list []Dose
	for t, d := range l.dosed {
		if d.step > i {
			break
		}
		dose, err := k.doseOf(d, l.Steps[i].Result.DosesGPerL[t], at)
		if err != nil {
			return nil, err
		}
		list = append(list, dose)
	}
	return list, nil
}

// doseOf is the effective dose of one addition at a moment, perGram of its grams
// being in a litre.
func (k *book) doseOf(d dosed, perGram figure.Estimate, at time.Time) (Dose, error) {
	y := d.yield
	var days *float64
	if d.plant != nil {
		days = new(k.steeper.DaysIn(*d.plant, at))
		var err error
		if y, err = k.steeper.DirectBy(*d.plant, at); err != nil {
			return Dose{}, err
		}
	}
	dose := Dose{Addition: d.addition, MaterialKey: y.MaterialKey, Method: y.Method, Class: y.Class,
		AsWeighed: y.MassG * perGram.Value, MassG: y.MassG, InDays: days}
	for c := range dose.GPerL {
		dose.GPerL[c] = times(y.Grams[c], perGram)
	}
	return dose, nil
}

// times multiplies a dissolved amount by litres^-1, the relative doubts of the
// two adding in squares.
func times(grams, perL figure.Estimate) figure.Estimate {
	out := grams
	out.Value *= perL.Value
	if !grams.HasBounds || grams.Value <= 0 || perL.Value <= 0 {
		return out
	}
	vlow, vhigh := math.Log(perL.Low/perL.Value), math.Log(perL.High/perL.Value)
	// a lower limit of nothing has no logarithm
	low := -math.Hypot(math.Log(max(grams.Low, 1e-12*grams.Value)/grams.Value), vlow)
	high := math.Hypot(math.Log(grams.High/grams.Value), vhigh)
	out.Low, out.High = out.Value*math.Exp(low), out.Value*math.Exp(high)
	return out
}

// ShowsRemoval reports whether an addition came out within the account: one that is
// still to come out lies in the beer.
func (l Ledger) ShowsRemoval(name string) bool {
	return slices.ContainsFunc(l.Steps, func(s ledgerStep) bool { return s.Name == name && s.Kind == EventRemoval })
}

// StillIn reports whether a plant lies in the beer, so that its dose is of today.
func (l Ledger) StillIn() bool {
	in := map[string]bool{}
	for _, s := range l.Steps {
		switch {
		case s.Kind == EventAddition && s.Addition.IsPlant() && !s.Addition.InWort():
			in[s.Name] = true
		case s.Kind == EventRemoval:
			delete(in, s.Name)
		}
	}
	return len(in) > 0
}

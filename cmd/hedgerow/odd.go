package main

import (
	"fmt"
	"slices"

	"hedgerow/report/wording"
	"hedgerow/trials"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Bounds beyond which an entry is asked about or refused (common practice, no
// source, but for the pH of beer, which is 3.9 to 4.7 in most and 3 in sour ones).
const (
	farDose    = 10.0  // times the highest known dose
	freshShare = 5.0   // fresh weight over dry, about
	smallBrewL = 0.5   // a large glass
	largeBrewL = 500.0 // more than a small batch
	lowPH      = 2.5   //
	highPH     = 7.0   //
	leastPH    = 1.5   // vinegar is 2.4, lemon juice 2.0
	mostPH     = 10.0  // soap; the electrode was not in beer
	gravityUp  = 0.003 // a rise beyond the reading error of two hydrometers
	hotBeerC   = 45.0  // yeast is dead above
)

// noEmptyFlag refuses a flag with an empty value: an unset variable of the shell gives
// one, and what it was to say would be passed over.
func noEmptyFlag(c *cobra.Command) error {
	var empty string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Changed && empty == "" && hasEmpty(f.Value) {
			empty = f.Name
		}
	})
	if empty == "" {
		return nil
	}
	return trials.Refuse("write a value, \"none\" to take one away, or leave --"+empty+" out; a shell variable that is "+
		"not set is empty", "--%s has an empty value", empty)
}

// hasEmpty reports whether a text, or one of the texts of a repeated flag, is empty.
func hasEmpty(v pflag.Value) bool {
	if list, ok := v.(pflag.SliceValue); ok {
		return slices.Contains(list.GetSlice(), "")
	}
	return v.Type() == "string" && v.String() == ""
}

// oddAddition asks about a dose far above all advice, and refuses more plant than
// beer unless it is forced.
func (e *env) oddAddition(n *trials.Notebook, b trials.Batch, a trials.Addition, x *trials.Extract, force bool) error {
	grams, form := 0.0, a.Form
	switch {
	case x != nil:
		grams, form = x.MassG, x.Form
	case a.MassG != nil && a.Method != trials.MethodJuice && a.Method != trials.MethodPuree:
		grams = *a.MassG
	}
	if grams == 0 || b.VolumeL <= 0 {
		return nil
	}
	if grams > 1000*b.VolumeL && !force {
		return trials.Refuse("check the unit, or add --force", "%s of %s into %s is more plant than beer",
			wording.MassText(grams, e.style()), handlingOf(a, x).MaterialKey, wording.VolumeText(b.VolumeL, e.style()))
	}
	m, err := n.Material(handlingOf(a, x).MaterialKey)
	if err != nil || m.DoseHighGPerL == nil {
		return nil
	}
	most := *m.DoseHighGPerL
	// advice on the dried plant says little of the fresh one: its water is no dose
	if (form == "fresh" || form == "fresh-cut" || form == "frozen") && m.DefaultBasis == trials.BasisDry {
		most *= freshShare
	}
	if dose := grams / b.VolumeL; dose > farDose*most {
		e.remark("note: %.3g g/L is over %g times the most that is known for %s, %.3g g/L: are the amount and the "+
			"unit right?",
			dose, farDose, m.Key, most)
	}
	return nil
}

// oddReading asks about figures that beer seldom has, and refuses those that it
// cannot have unless they are forced.
func (e *env) oddReading(n *trials.Notebook, b trials.Batch, r trials.Reading, force bool) error {
	if ph := r.PH; ph != nil {
		switch {
		case (*ph < leastPH || *ph > mostPH) && !force:
			return trials.Refuse("check the meter in its buffers, or add --force", "beer cannot have pH %.2f", *ph)
		case *ph < lowPH || *ph > highPH:
			e.remark("note: pH %.2f is outside what beer and wort have, %g to %g: was the meter calibrated?", *ph, lowPH, highPH)
		}
	}
	if r.BeerTempC != nil && *r.BeerTempC > hotBeerC {
		e.remark("note: a temperature of %g C is hot for beer: is the scale right?", *r.BeerTempC)
	}
	if r.SG == nil {
		return nil
	}
	if last, ok := lastGravity(n, b, r); ok && *r.SG > last+gravityUp {
		e.remark("note: gravity %.3f is above the last, %.3f: a warm or badly mixed sample, or was sugar added?", *r.SG, last)
	}
	return nil
}

// lastGravity returns the latest gravity of a batch before a reading, the original
// one where there is no other.
func lastGravity(n *trials.Notebook, b trials.Batch, r trials.Reading) (sg float64, ok bool) {
	var latest trials.Reading
	for _, other := range n.Readings {
		before := other.BatchID == b.ID && other.SG != nil && other.ID != r.ID && !other.At.After(r.At)
		if before && !other.At.Before(latest.At) {
			latest = other
		}
	}
	switch {
	case latest.SG != nil:
		return *latest.SG, true
	case b.OG != nil:
		return *b.OG, true
	}
	return 0, false
}

// oddBatch asks about a brew that is very small or very large: "20.000 ml" is 20 mL to
// some and 20 L to others.
func (e *env) oddBatch(b trials.Batch) string {
	switch {
	case b.ParentID != nil || b.Kind == trials.KindGlass:
	case b.VolumeL < smallBrewL:
		return fmt.Sprintf("the batch is %s, which is small for a brew: is the unit right?",
			wording.VolumeText(b.VolumeL, e.style()))
	case b.VolumeL > largeBrewL:
		return fmt.Sprintf("the batch is %s, which is large for a brew: is the unit right?",
			wording.VolumeText(b.VolumeL, e.style()))
	}
	return ""
}

package extraction

import (
	"math"

	"hedgerow/trials/figure"
)

// normal95 is the 97.5 % point of the normal distribution.
const normal95 = 1.959963984540054

// Extract is a liquid ready to be poured into beer, with what it carries. For
// material put into the beer itself it is that material with the liquid it
// brings.
type Extract struct {
	// VolumeML is its volume at 20 C.
	VolumeML float64
	// CarriedG is m_eq u Y S by class: grams of fully extracted, as-dried
	// material in it.
	CarriedG byClass
	// WeighedG is the material weighed in for it.
	WeighedG float64
	// SolidsG are its dissolved solids, not fermentable unless they are sugar.
	SolidsG figure.Estimate
}

// Extract returns the liquid of a result. Its solids are SolidsGPerL times the
// volume if that was measured, all dry matter for juice, and else the soluble share
// of the dry matter times the water-class yield.
func (r *Result) Extract() Extract {
	e := Extract{VolumeML: r.ExtractML, WeighedG: r.Steep.MassG}
	for c := range e.CarriedG {
		e.CarriedG[c] = r.AsDriedG * r.Ceiling[c] * r.kept(Class(c))
	}
	switch per := r.Steep.SolidsGPerL; {
	case per != nil:
		e.SolidsG = figure.Exactly(*per * r.ExtractML / 1000)
	case r.Steep.Form == Juice:
		e.SolidsG = figure.Exactly(r.DryG)
	case r.Update != nil:
		e.SolidsG = r.readSolids()
	default:
		s := r.Steep.soluble()
		most := r.DryG * r.Yield[Water]
		// the soluble share is off by a factor, alike up and down, but no plant dissolves more than all of
		// itself
		off := math.Exp(normal95 * s.SDLn)
		e.SolidsG = figure.Between(s.Share*most, s.Share/off*most, min(1, s.Share*off)*most, 0.95)
	}
	return e
}

// topUp returns the extract with water added to it. It errs for a negative
// volume.
func (e Extract) topUp(waterML float64) (Extract, error) {
	if err := checkNotNegative("top-up", waterML, "mL"); err != nil {
		return Extract{}, err
	}
	e.VolumeML += waterML
	return e, nil
}

// take parts a volume off, to dose one of several batches: it returns the part
// and the rest. It errs when there is not so much.
func (e Extract) take(volumeML float64) (part, rest Extract, err error) {
	if err := checkNotNegative("volume taken", volumeML, "mL"); err != nil {
		return part, rest, err
	}
	// A jug is read to a few mL: a request for all of it must not fail on digits.
	if volumeML > e.VolumeML*(1+1e-6) {
		return part, rest, Refuse("take what is there, or top it up first", "%s mL is more than the %s mL of extract",
			number(volumeML), number(e.VolumeML))
	}
	share := 1.0
	if e.VolumeML > 0 {
		share = min(1, volumeML/e.VolumeML)
	}
	return e.scaled(share), e.scaled(1 - share), nil
}

// scaled returns a share of the extract.
func (e Extract) scaled(share float64) Extract {
	e.VolumeML *= share
	e.WeighedG *= share
	e.SolidsG = e.SolidsG.Times(share)
	for c := range e.CarriedG {
		e.CarriedG[c] *= share
	}
	return e
}

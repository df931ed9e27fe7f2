package wording

import (
	"hedgerow/report/document"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
)

// VolumeText prints litres in the reader's units.
func VolumeText(l float64, u quantity.Units) string { return quantity.FormatVolume(l, u) }

// SyringeML prints litres as a syringe measures them: in millilitres whatever the reader's
// units, since those stand on it, and with the same decimals for all.
func SyringeML(litres ...float64) []string {
	const mostDecimals = 2 // as many as a drop of 0.05 mL needs
	list := make([]float64, len(litres))
	for i, l := range litres {
		list[i] = 1000 * l
	}
	return document.Alike(list, mostDecimals)
}

// MassText prints grams in the reader's units.
func MassText(g float64, u quantity.Units) string { return quantity.FormatMass(g, u) }

// TempText prints a temperature in the reader's units.
func TempText(c float64, u quantity.Units) string { return quantity.FormatTemp(c, u) }

// DurationText prints minutes as a person would say them.
func DurationText(minutes float64) string { return quantity.FormatDuration(minutes) }

// DoseText prints grams per litre in the reader's units.
func DoseText(gPerL float64, u quantity.Units) string { return quantity.FormatDose(gPerL, u) }

// VolumeUnit is the unit of a column of volumes.
func VolumeUnit(u quantity.Units) string {
	if u == quantity.USUnits {
		return "US gal"
	}
	return "litres"
}

// VolumeInLitres is one VolumeUnit in litres.
func VolumeInLitres(u quantity.Units) float64 {
	if u == quantity.USUnits {
		return quantity.LPerUSGallon
	}
	return 1
}

// VolumeEstimate prints a volume with its limit in the reader's unit.
func VolumeEstimate(e *figure.Stated, u quantity.Units) string {
	if e == nil {
		return "-"
	}
	return document.PlusMinus(scaled(*e, 1/VolumeInLitres(u)), 1, 2)
}

// VolumeChange prints a change of volume with its interval in the display unit.
func VolumeChange(e *figure.Stated, u quantity.Units) string {
	if e == nil {
		return "-"
	}
	change := scaled(*e, 1/VolumeInLitres(u))
	return document.SignedPlusMinus(&change, 1, 2, 3)
}

// scaled multiplies an estimate by a positive factor.
func scaled(e figure.Stated, f float64) figure.Stated {
	e.Value *= f
	if e.Low != nil {
		// new ones: the estimate was copied, what it points to was not
		low, high := *e.Low*f, *e.High*f
		e.Low, e.High = &low, &high
	}
	return e
}

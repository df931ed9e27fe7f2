package quantity

import (
	"math"
	"strconv"
	"strings"

	"hedgerow/trials/figure"
)

// Units are the units in which amounts are printed.
type Units int

// The systems of units. USUnits says "US gal", never a plain "gal", so that what
// is printed is read back without an assumption.
const (
	Metric Units = iota
	USUnits
)

// scaleStep is a unit to print in, from a smallest value in base units on. A
// column of a table should be printed in one unit; these functions are for
// single figures, in which each value takes the unit that reads best.
type scaleStep struct {
	from float64
	unit string
	per  float64 // base units in one of it
}

// FormatVolume returns litres as "600 mL", "12.6 L", "3.33 US gal" or "20.3 US
// fl oz", with three significant digits or all whole ones; "-" if not finite.
func FormatVolume(volumeL float64, units Units) string {
	if units == USUnits {
		return stepped(volumeL, []scaleStep{{LPerUSGallon / 4, "US gal", LPerUSGallon}, {0, "US fl oz", lPerUSFluidOunce}})
	}
	return stepped(volumeL, []scaleStep{{1, "L", 1}, {0, "mL", 1e-3}})
}

// FormatMass returns grams as "500 mg", "40 g", "2.5 kg", "1.41 oz" or "5.51 lb".
func FormatMass(massG float64, units Units) string {
	if units == USUnits {
		return stepped(massG, []scaleStep{{gPerPound, "lb", gPerPound}, {0, "oz", gPerOunce}})
	}
	return stepped(massG, []scaleStep{{1000, "kg", 1000}, {1, "g", 1}, {0, "mg", 1e-3}})
}

// FormatDose returns grams per litre as "1.5 g/L", "50 mg/L", "1 oz per 5 US
// gal" or "2 lb per 5 US gal".
func FormatDose(gPerL float64, units Units) string {
	const perBatch = 1 / (5 * LPerUSGallon) // g/L of one gram in five gallons
	if units == USUnits {
		return stepped(gPerL, []scaleStep{{gPerPound * perBatch, "lb per 5 US gal", gPerPound * perBatch}, {0,
			"oz per 5 US gal", gPerOunce * perBatch}})
	}
	return stepped(gPerL, []scaleStep{{0.1, "g/L", 1}, {0, "mg/L", 1e-3}})
}

// FormatTemp returns degrees Celsius as "96 C" or "205 F", to a tenth.
func FormatTemp(tempC float64, units Units) string {
	value, scale := tempC, " C"
	if units == USUnits {
		value, scale = tempC*1.8+32, " F"
	}
	if !figure.Finite(value) {
		return unknownText
	}
	return fixed(value, 1) + scale
}

// FormatDuration returns minutes as "20 min", "14 h", "1 h 30 min" or "5 d 6 h":
// minutes below 90, hours below two days, days from there on.
func FormatDuration(minutes float64) string {
	if !figure.Finite(minutes) {
		return unknownText
	}
	big, small, bigUnit, smallUnit := minPerHour, 1.0, " h", " min"
	switch {
	case minutes < 1.5*minPerHour:
		return digits3(minutes) + " min"
	case minutes >= 2*minPerDay:
		big, small, bigUnit, smallUnit = minPerDay, minPerHour, " d", " h"
	}
	// rounded before it is split: split first, 119.7 min would print as 1 h 60 min
	pieces := math.Round(minutes / small)
	perBig := big / small
	whole := math.Floor(pieces / perBig)
	text := fixed(whole, 0) + bigUnit
	if left := pieces - whole*perBig; left > 0 {
		text += " " + fixed(left, 0) + smallUnit
	}
	return text
}

// stepped prints v in the first unit whose range it reaches, after rounding, or
// in the last one.
func stepped(v float64, steps []scaleStep) string {
	if !figure.Finite(v) {
		return unknownText
	}
	const rounding = 0.9995 // 999.6 mL is printed as 1 L
	i := 0
	for i < len(steps)-1 && math.Abs(v) < steps[i].from*rounding {
		i++
	}
	return digits3(v/steps[i].per) + " " + steps[i].unit
}

// unknownText stands for a number that is not known or not finite.
const unknownText = "-"

// digits3 returns v with three significant digits, whole digits never rounded
// away, trailing zeros left out and no exponent.
func digits3(v float64) string {
	if !figure.Finite(v) {
		return unknownText
	}
	if v == 0 {
		return "0"
	}
	places := max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	return trimZeros(strconv.FormatFloat(v, 'f', min(places, 15), 64))
}

// digitsSG returns a gravity with four decimals, of which the last is left out
// if it is zero.
func digitsSG(sg float64) string {
	if !figure.Finite(sg) {
		return unknownText
	}
	text := strconv.FormatFloat(sg, 'f', 4, 64)
	return strings.TrimSuffix(text, "0")
}

// fixed returns v with at most some decimals, trailing zeros left out.
func fixed(v float64, decimals int) string {
	return trimZeros(strconv.FormatFloat(v, 'f', decimals, 64))
}

// trimZeros removes zeros at the end of the decimals, and a minus before zero.
func trimZeros(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

package quantity

import (
	"math"
	"testing"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// The expected texts are worked out by hand: 12.6 / 3.785411784 = 3.329 and so
// on, rounded to three digits.
func TestFormat(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{FormatVolume(12.6002, Metric), "12.6 L"},
		{FormatVolume(12, Metric), "12 L"},
		{FormatVolume(0.6, Metric), "600 mL"},
		{FormatVolume(0.0493, Metric), "49.3 mL"},
		{FormatVolume(0.9996, Metric), "1 L"},
		{FormatVolume(1234.4, Metric), "1234 L"},
		{FormatVolume(0, Metric), "0 mL"},
		{FormatVolume(12.6, USUnits), "3.33 US gal"},
		{FormatVolume(18.92705892, USUnits), "5 US gal"},
		{FormatVolume(0.6, USUnits), "20.3 US fl oz"},
		{FormatVolume(math.NaN(), Metric), "-"},
		{FormatVolume(math.Inf(1), USUnits), "-"},
		{FormatMass(40, Metric), "40 g"},
		{FormatMass(2500, Metric), "2.5 kg"},
		{FormatMass(0.25, Metric), "250 mg"},
		{FormatMass(28.349523125, USUnits), "1 oz"},
		{FormatMass(40, USUnits), "1.41 oz"},
		{FormatMass(2500, USUnits), "5.51 lb"},
		{FormatDose(1.5, Metric), "1.5 g/L"},
		{FormatDose(2.6667, Metric), "2.67 g/L"},
		{FormatDose(0.05, Metric), "50 mg/L"},
		{FormatDose(120, Metric), "120 g/L"},
		{FormatDose(1.497830341, USUnits), "1 oz per 5 US gal"},
		{FormatDose(47.93057, USUnits), "2 lb per 5 US gal"},
		{FormatTemp(96, Metric), "96 C"},
		{FormatTemp(-2.04, Metric), "-2 C"},
		{FormatTemp(-0.01, Metric), "0 C"},
		{FormatTemp(96, USUnits), "204.8 F"},
		{FormatTemp(math.NaN(), USUnits), "-"},
		{FormatDuration(20), "20 min"},
		{FormatDuration(0.5), "0.5 min"},
		{FormatDuration(90), "1 h 30 min"},
		{FormatDuration(840), "14 h"},
		{FormatDuration(1439.7), "24 h"},
		{FormatDuration(2880), "2 d"},
		{FormatDuration(7560), "5 d 6 h"},
		{FormatDuration(math.Inf(-1)), "-"},
		{digitsSG(1.048), "1.048"},
		{digitsSG(1.04573), "1.0457"},
		{digitsSG(1), "1.000"},
		{digitsSG(math.NaN()), "-"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// threeDigits is the largest relative error of rounding to three digits.
const threeDigits = 0.00501

// TestThereAndBack prints numbers in both systems and reads them again.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := math.Exp(rapid.Float64Range(-9, 9).Draw(t, "ln"))
		for _, units := range []Units{Metric, USUnits} {
			volume, err := ParseVolume(FormatVolume(v, units), Options{Gallon: Imperial})
			back(t, FormatVolume(v, units), volume.VolumeL.Value, v, err)
			if len(volume.Assumptions) > 0 {
				t.Errorf("%q needs an assumption: %q", FormatVolume(v, units), volume.Assumptions)
			}
			mass, err := ParseMass(FormatMass(v, units), Options{})
			back(t, FormatMass(v, units), mass.MassG.Value, v, err)
			dose, err := ParseDose(FormatDose(v, units), Options{Gallon: Imperial})
			back(t, FormatDose(v, units), dose.LowGPerL, v, err)
		}
	})
}

// back checks that what was read differs from what was printed by the rounding
// of three digits only.
func back(t *rapid.T, text string, got, want float64, err error) {
	if err != nil || !near(got, want, threeDigits) {
		t.Errorf("%q is read as %g, %v; it stood for %g", text, got, err, want)
	}
}

// TestThereAndBackSingle does the same for temperatures (to 0.05 of a degree)
// and times (to half the smaller unit printed).
func TestThereAndBackSingle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temp := rapid.Float64Range(figure.TempMinC, figure.TempMaxC).Draw(t, "temp")
		for _, units := range []Units{Metric, USUnits} {
			l, err := ParseTemperature(FormatTemp(temp, units))
			if err != nil || math.Abs(l.Value-temp) > 0.0501 {
				t.Errorf("%q is read as %g, %v; it stood for %g", FormatTemp(temp, units), l.Value, err, temp)
			}
		}
		minutes := math.Exp(rapid.Float64Range(0, 11).Draw(t, "ln min"))
		l, err := ParseDuration(FormatDuration(minutes))
		if rounding := max(0.5, minutes/96); err != nil || math.Abs(l.Value-minutes) > rounding {
			t.Errorf("%q is read as %g, %v; it stood for %g", FormatDuration(minutes), l.Value, err, minutes)
		}
	})
}

package dilution

import (
	"errors"
)

// Constants of pH meters; the first is exact.
const (
	kelvinAtZeroC   = 273.15
	leastSlopePct   = 90.0  // common practice, no source
	largestSlopePct = 105.0 // common practice, no source
)

// PHCalibration is a two-point calibration: what the meter showed in two
// buffers of known pH. Use each buffer's value at its own temperature.
type PHCalibration struct {
	Buffer1, Read1 float64 // true and shown pH of the first buffer
	Buffer2, Read2 float64 // true and shown pH of the second buffer
}

// check returns an error for equal buffers, equal readings, or a pH outside
// 0..14.
func (c PHCalibration) check() error {
	for _, v := range []float64{c.Buffer1, c.Buffer2, c.Read1, c.Read2} {
		if err := checkPH(v); err != nil {
			return err
		}
	}
	if c.Buffer1 == c.Buffer2 {
		return errors.New("both buffers have pH " + number(c.Buffer1) +
			"; a calibration needs two different buffers, such as 4.01 and 7.00")
	}
	if c.Read1 == c.Read2 {
		return errors.New("both buffers read " + number(c.Read1) +
			"; the meter does not tell them apart, check the electrode")
	}
	return nil
}

// Correct returns the pH for a reading of the meter,
//
//	pH = b1 + (r - r1)(b2 - b1)/(r2 - r1)
//
// It holds for an earlier reading only if the meter was not touched in between,
// and near the buffers. Temperature compensation corrects the electrode's slope
// alone, never the real change of a sample with temperature. Errors are those
// of Check, and a reading outside 0..14.
func (c PHCalibration) Correct(reading float64) (float64, error) {
	if err := firstError(checkPH(reading), c.check()); err != nil {
		return 0, err
	}
	return c.Buffer1 + (reading-c.Read1)*(c.Buffer2-c.Buffer1)/(c.Read2-c.Read1), nil
}

// SlopePct returns 100 (r2-r1)/(b2-b1), and whether it is outside 90..105 %
// (common practice, no source), a sign of a worn electrode or a spoilt buffer.
// Errors are those of Check.
func (c PHCalibration) SlopePct() (pct float64, flagged bool, err error) {
	if err := c.check(); err != nil {
		return 0, false, err
	}
	pct = 100 * (c.Read2 - c.Read1) / (c.Buffer2 - c.Buffer1)
	return pct, pct < leastSlopePct || pct > largestSlopePct, nil
}

// checkPH returns an *inputError unless v can be a pH.
func checkPH(v float64) error { return within("pH", v, 0, 14, "") }

// PhthalatePH returns the pH of 0.05 mol/kg potassium hydrogen phthalate,
//
//	pH = 2073.44/T - 13.3270 + 0.045199 T - 3.4846e-5 T^2
//
// T in kelvin [11]. Buffers sold as 4.01 or 7.00 follow their own label. An
// *inputError is returned outside 0..60 C.
func PhthalatePH(tempC float64) (float64, error) {
	if err := within("buffer temperature", tempC, 0, 60, "give degrees Celsius"); err != nil {
		return 0, err
	}
	t := tempC + kelvinAtZeroC
	return 2073.44/t - 13.3270 + 0.045199*t - 3.4846e-5*t*t, nil
}

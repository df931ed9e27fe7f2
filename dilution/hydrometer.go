package dilution

// Hydrometer calibration temperatures in C.
const (
	Cal20C = 20.0
	cal60F = (60 - 32) / 1.8
)

// glassExpansion is the conventional cubic expansion of hydrometer glass per C
// [10].
const glassExpansion = 25e-6

// Hydrometer is one reading and its conditions. The 60/60 F scale is not 20/20:
// the same wort of 12 P is 1.04855 on one and 1.04833 on the other. Take the
// zero error in plain water at the calibration temperature, where a good one
// shows 1.000.
type Hydrometer struct {
	Reading     float64 // as shown, relative to water at CalTempC
	ZeroError   float64 // what it shows in water at CalTempC, less 1
	SampleTempC float64 // temperature of the degassed sample, 0..40 C
	CalTempC    float64 // temperature it was made for: Cal20C or Cal60F; 10..30 C
}

// check validates the fields.
func (h Hydrometer) check() error {
	return firstError(
		checkSG("hydrometer reading", h.Reading),
		within("zero error of the hydrometer", h.ZeroError, -0.02, 0.02,
			"give what it shows in plain water at its own temperature, less 1"),
		within("sample temperature", h.SampleTempC, 0, maxEthanolTempC, "cool the sample and read again"),
		within("calibration temperature", h.CalTempC, 10, 30, "look on the scale: 20 C or 60 F (15.56 C)"),
	)
}

// ReadingInWater returns what a true hydrometer made for calTempC shows in plain
// water of tempC,
//
//	R = rhoW(T) (1 + 25e-6 (T - Tref))/rhoW(Tref)
//
// so that a zero error may be read in water of any temperature. An *inputError
// is returned outside 0..40 C, and for a calibration temperature outside 10..30.
func ReadingInWater(tempC, calTempC float64) (float64, error) {
	if err := (Hydrometer{Reading: 1, SampleTempC: tempC, CalTempC: calTempC}).check(); err != nil {
		return 0, err
	}
	return water(tempC) * (1 + glassExpansion*(tempC-calTempC)) / water(calTempC), nil
}

// density returns the density of the sample in kg/m3 at its own temperature:
//
//	rho = R rhoW(Tref)/(1 + 25e-6 (T - Tref))
//
// with R the reading less the zero error and Tref the calibration temperature.
func (h Hydrometer) density() float64 {
	r := h.Reading - h.ZeroError
	return r * water(h.CalTempC) / (1 + glassExpansion*(h.SampleTempC-h.CalTempC))
}

// WortSG returns the SG 20/20 of unfermented wort: w with rhoS(w, T) = rho,
// then rhoS(w, 20)/rhoW(20). No printed correction table could be read to check
// it; its ingredients are checked. An *inputError is returned outside the ranges
// of the fields.
func (h Hydrometer) WortSG() (float64, error) {
	if err := h.check(); err != nil {
		return 0, err
	}
	iso := isothermAt(h.SampleTempC)
	return sgOfExtract(iso.extractOfDensity(h.density())), nil
}

// BeerSG returns the SG 20/20 of a sample of beer s: it is fermented, at its
// original extract, until its density at the sample's temperature is the one
// read. Ethanol expands more than water, so this differs from WortSG by 0.0002
// to 0.0007 at 10 or 30 C. Only the proportions of s matter; wort of the right
// original gravity will do. An *inputError is returned outside the ranges of
// the fields, and when s is empty.
func (h Hydrometer) BeerSG(s State) (float64, error) {
	if err := h.check(); err != nil {
		return 0, err
	}
	if s.empty() {
		return 0, &inputError{What: "mass of the beer in kg", Value: s.MassKg(), Allowed: "must be above zero"}
	}
	iso := isothermAt(h.SampleTempC)
	return s.ferment(s.fermentedTo(&iso, h.density())).SG(), nil
}

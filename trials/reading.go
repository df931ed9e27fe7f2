package trials

import "time"

// Reading is something measured in a batch at a time, as the instrument showed
// it. Corrections (sample temperature, meter calibration) are applied when the
// reading is used, so that a calibration made later corrects it too.
type Reading struct {
	Record
	BatchID     string    `json:"batch_id"`
	At          time.Time `json:"at"`
	SG          *float64  `json:"sg"`            // hydrometer reading as shown
	SampleTempC *float64  `json:"sample_temp_c"` // temperature of the sample, nil for the scale's own
	PH          *float64  `json:"ph"`            // pH as shown
	BeerTempC   *float64  `json:"beer_temp_c"`   // temperature of the beer in its vessel
	VolumeL     *float64  `json:"volume_l"`      // measured volume of the batch, litres at 20 C
	MeterID     *string   `json:"meter_id"`
	Note        string    `json:"note"`
}

// Validate refuses an empty reading and values no instrument shows.
func (r Reading) Validate() error {
	if r.SG == nil && r.PH == nil && r.BeerTempC == nil && r.VolumeL == nil {
		return invalid("give at least one of --sg, --ph, --temp, --volume", "the reading is empty")
	}
	if err := checkGravity("gravity", r.SG); err != nil {
		return err
	}
	if err := checkRange("pH", r.PH, 0, 14, ""); err != nil {
		return err
	}
	if err := checkTemp("sample temperature", r.SampleTempC); err != nil {
		return err
	}
	if err := checkTemp("temperature", r.BeerTempC); err != nil {
		return err
	}
	return checkOptionalPositive("volume", r.VolumeL, "L")
}

// Meter is an instrument: a hydrometer with the temperature of its scale, or a
// pH meter with its calibrations.
type Meter struct {
	Record
	Kind       string   `json:"kind"`         // hydrometer or ph
	ScaleTempC *float64 `json:"scale_temp_c"` // hydrometer: temperature its scale is made for (20 C or 15.56 C)
	ZeroError  *float64 `json:"zero_error"`   // hydrometer: what it shows in water at ScaleTempC, less 1.000
	Note       string   `json:"note"`
}

// The kinds of meter.
const (
	MeterHydrometer = "hydrometer"
	MeterPH         = "ph"
)

// MeterKinds lists the kinds of meter.
var MeterKinds = []string{MeterHydrometer, MeterPH}

// Validate refuses an unknown kind and a scale temperature no hydrometer has.
func (m Meter) Validate() error {
	if err := CheckName("meter", m.Name); err != nil {
		return err
	}
	if err := checkWord("kind of meter", m.Kind, MeterKinds); err != nil {
		return err
	}
	if err := checkRange("scale temperature", m.ScaleTempC, 0, 40, "C"); err != nil {
		return err
	}
	return checkRange("zero error", m.ZeroError, -0.02, 0.02, "SG")
}

// Calibration is a two-point calibration of a pH meter: what it showed in two
// buffers. Untouched says that the meter had not been adjusted since the
// readings before it, so that it corrects those too.
type Calibration struct {
	Record
	MeterID     string    `json:"meter_id"`
	At          time.Time `json:"at"`
	Buffer1     float64   `json:"buffer1"`
	Read1       float64   `json:"read1"`
	Buffer2     float64   `json:"buffer2"`
	Read2       float64   `json:"read2"`
	BufferTempC *float64  `json:"buffer_temp_c"`
	Untouched   bool      `json:"untouched"`
	Note        string    `json:"note"`
}

// Validate refuses buffers or readings that are equal or outside 0..14.
func (c Calibration) Validate() error {
	for _, v := range []float64{c.Buffer1, c.Read1, c.Buffer2, c.Read2} {
		if err := checkRange("pH", &v, 0, 14, ""); err != nil {
			return err
		}
	}
	if c.Buffer1 == c.Buffer2 {
		return invalid("use two buffers, such as 4.01 and 7.00", "both buffers are pH %s", number(c.Buffer1))
	}
	if c.Read1 == c.Read2 {
		return invalid("a meter that shows the same in both buffers is broken or was not rinsed; read them again",
			"both readings are pH %s", number(c.Read1))
	}
	return checkTemp("buffer temperature", c.BufferTempC)
}

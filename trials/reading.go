package trials

import "time"

// Reading is something measured in a batch at a time, as the instrument showed
// it. Corrections (sample temperature, meter calibration) are applied when the
// reading is used, so that a calibration made later corrects it too.
type Reading struct {
	Record
	BatchID     string    `json:"batch_id"`      // id of the batch
	At          time.Time `json:"at"`            // when it was read
	SG          *float64  `json:"sg"`            // hydrometer reading as shown
	SampleTempC *float64  `json:"sample_temp_c"` // temperature of the sample, nil for the scale's own
	PH          *float64  `json:"ph"`            // pH as shown
	BeerTempC   *float64  `json:"beer_temp_c"`   // temperature of the beer in its vessel
	VolumeL     *float64  `json:"volume_l"`      // measured volume of the batch, litres at BeerTempC or else at 20 C
	MeterID     *string   `json:"meter_id"`      // id of the meter it was read with, nil where none is named
	Note        string    `json:"note"`          // free text
}

// Validate refuses an empty reading and values no instrument shows.
func (r Reading) Validate() error {
	if r.SG == nil && r.PH == nil && r.BeerTempC == nil && r.VolumeL == nil {
		return Refuse("give at least one of --sg, --ph, --temp, --volume", "the reading is empty")
	}
	if err := checkGravity("gravity", r.SG); err != nil {
		return err
	}
	if err := CheckRange("pH", r.PH, 0, 14, ""); err != nil {
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

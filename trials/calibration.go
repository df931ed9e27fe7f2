package trials

import (
	"cmp"
	"slices"
	"time"
)

// Calibration is a two-point calibration of a pH meter: what it showed in two
// buffers. It corrects the readings after it until the next one. Untouched says
// that the meter had not been set since the readings before it, so that it
// corrects those too, back to the calibration before. Adjusted says that the
// meter was then set to the buffers: readings after it are right as shown.
type Calibration struct {
	Record
	MeterID     string    `json:"meter_id"`      // id of the meter it was read with, nil where none is named
	At          time.Time `json:"at"`            // when the buffers were read
	Buffer1     float64   `json:"buffer1"`       // pH of the first buffer
	Read1       float64   `json:"read1"`         // what the meter showed in it
	Buffer2     float64   `json:"buffer2"`       // pH of the second buffer
	Read2       float64   `json:"read2"`         // what the meter showed in it
	BufferTempC *float64  `json:"buffer_temp_c"` // temperature of the buffers, C
	Untouched   bool      `json:"untouched"`     // not set since the readings before it
	Adjusted    bool      `json:"adjusted"`      // set to the buffers afterwards
	Note        string    `json:"note"`          // free text
}

// Validate refuses buffers or readings that are equal or outside 0..14.
func (c Calibration) Validate() error {
	for _, v := range []float64{c.Buffer1, c.Read1, c.Buffer2, c.Read2} {
		if err := CheckRange("pH", &v, 0, 14, ""); err != nil {
			return err
		}
	}
	if c.Buffer1 == c.Buffer2 {
		return Refuse("use two buffers, such as 4.01 and 7.00", "both buffers are pH %s", Number(c.Buffer1))
	}
	if c.Read1 == c.Read2 {
		return Refuse("a meter that shows the same in both buffers is broken or was not rinsed; read them again",
			"both readings are pH %s", Number(c.Read1))
	}
	return CheckRange("buffer temperature", c.BufferTempC, 0, 60, "C")
}

// CalibrationsOf returns the calibrations of a meter in time order.
func (n *Notebook) CalibrationsOf(meterID string) []Calibration {
	var list []Calibration
	for _, c := range n.Calibrations {
		if c.MeterID == meterID {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(a, b Calibration) int {
		// of two at one time the one typed later is the newer; the name only makes the order the same each time
		return cmp.Or(a.At.Compare(b.At), a.CreatedAt.Compare(b.CreatedAt), cmp.Compare(a.Name, b.Name))
	})
	return list
}

// Calibration returns the calibration of that name.
func (n *Notebook) Calibration(name string) (Calibration, error) {
	return Find("calibration", name, n.Calibrations, func(c Calibration) string { return c.Name })
}

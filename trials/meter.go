package trials

import (
	"slices"
)

// Meter is an instrument: a hydrometer with the temperature of its scale, or a
// pH meter with its calibrations.
type Meter struct {
	Record
	Kind       string   `json:"kind"`         // hydrometer or ph
	ScaleTempC *float64 `json:"scale_temp_c"` // hydrometer: temperature its scale is made for (20 C or 15.56 C)
	ZeroError  *float64 `json:"zero_error"`   // hydrometer: what it shows in water at ScaleTempC, less 1.000
	// hydrometer: how far its zero may still be off, SG; all its readings share it
	ZeroLimit *float64 `json:"zero_limit"`
	Note      string   `json:"note"` // free text
}

// The kinds of meter.
const (
	MeterHydrometer = "hydrometer"
	MeterPH         = "ph"
)

// meterKinds lists the kinds of meter.
var meterKinds = []string{MeterHydrometer, MeterPH}

// Validate refuses an unknown kind, a scale temperature no hydrometer has, and
// figures of a hydrometer on a pH meter.
func (m Meter) Validate() error {
	if err := CheckName("meter", m.Name); err != nil {
		return err
	}
	if err := checkWord("kind of meter", m.Kind, meterKinds); err != nil {
		return err
	}
	if m.Kind == MeterPH && (m.ScaleTempC != nil || m.ZeroError != nil || m.ZeroLimit != nil) {
		return Refuse("leave --scale, --zero and --zero-limit out; record its buffers with: hedgerow meter calibrate "+
			m.Name+" 4.01=4.10 7.00=7.05",
			"a pH meter has no scale temperature and no zero in water")
	}
	if err := CheckRange("scale temperature", m.ScaleTempC, 10, 30, "C"); err != nil {
		return err
	}
	if err := CheckRange("zero error", m.ZeroError, -0.02, 0.02, "SG"); err != nil {
		return err
	}
	return CheckRange("limit of the zero error", m.ZeroLimit, 0, 0.02, "SG")
}

// MeterByID returns the meter with that id.
func (n *Notebook) MeterByID(id string) (Meter, bool) {
	i := slices.IndexFunc(n.Meters, func(m Meter) bool { return m.ID == id })
	if i < 0 {
		return Meter{}, false
	}
	return n.Meters[i], true
}

// CheckMeter refuses a reading whose meter cannot have given it.
func (n *Notebook) CheckMeter(r Reading) error {
	if r.MeterID == nil {
		return nil
	}
	m, ok := n.MeterByID(*r.MeterID)
	switch {
	case !ok:
		return Refuse("give --meter none, or add the meter", "the meter of this reading is not in the notebook")
	case m.Kind == MeterHydrometer && r.SG == nil:
		return Refuse("add --sg 1.012, or leave --meter out", "%s is a hydrometer, but no gravity was read", m.Name)
	case m.Kind == MeterPH && r.PH == nil:
		return Refuse("add --ph 4.31, or leave --meter out", "%s is a pH meter, but no pH was read", m.Name)
	}
	return nil
}

// ReadWith returns the batches whose gravities were read with a meter.
func (n *Notebook) ReadWith(meterID string) []Batch {
	with := map[string]bool{}
	for _, r := range n.Readings {
		if r.MeterID != nil && *r.MeterID == meterID {
			with[r.BatchID] = true
		}
	}
	var list []Batch
	for _, b := range n.Batches {
		if with[b.ID] || b.OGMeterID != nil && *b.OGMeterID == meterID {
			list = append(list, b)
		}
	}
	return list
}

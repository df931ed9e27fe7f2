package trials

import (
	"slices"

	"hedgerow/dilution"
)

// Meter is an instrument: a hydrometer with the temperature of its scale, or a
// pH meter with its calibrations.
type Meter struct {
	Record
	Kind       string   `json:"kind"`         // hydrometer or ph
	ScaleTempC *float64 `json:"scale_temp_c"` // hydrometer: temperature its scale is made for (20 C or 15.56 C)
	ZeroError  *float64 `json:"zero_error"`   // hydrometer: what it shows in water at ScaleTempC, less 1.000
	ZeroLimit  *float64 `json:"zero_limit"`   // hydrometer: how far its zero may still be off, SG; all its readings share it
	Note       string   `json:"note"`
}

// The kinds of meter.
const (
	MeterHydrometer = "hydrometer"
	MeterPH         = "ph"
)

// MeterKinds lists the kinds of meter.
var MeterKinds = []string{MeterHydrometer, MeterPH}

// Validate refuses an unknown kind, a scale temperature no hydrometer has, and
// figures of a hydrometer on a pH meter.
func (m Meter) Validate() error {
	if err := CheckName("meter", m.Name); err != nil {
		return err
	}
	if err := checkWord("kind of meter", m.Kind, MeterKinds); err != nil {
		return err
	}
	if m.Kind == MeterPH && (m.ScaleTempC != nil || m.ZeroError != nil || m.ZeroLimit != nil) {
		return invalid("leave --scale, --zero and --zero-limit out; record its buffers with: hedgerow meter calibrate "+m.Name+" 4.01=4.10 7.00=7.05",
			"a pH meter has no scale temperature and no zero in water")
	}
	if err := checkRange("scale temperature", m.ScaleTempC, 10, 30, "C"); err != nil {
		return err
	}
	if err := checkRange("zero error", m.ZeroError, -0.02, 0.02, "SG"); err != nil {
		return err
	}
	return checkRange("limit of the zero error", m.ZeroLimit, 0, 0.02, "SG")
}

// scaleC is the temperature the scale of a hydrometer is made for.
func (m Meter) scaleC() float64 {
	if m.ScaleTempC == nil {
		return dilution.Cal20C
	}
	return *m.ScaleTempC
}

// zero is the zero error of a hydrometer, 0 where it was never read.
func (m Meter) zero() float64 {
	if m.ZeroError == nil {
		return 0
	}
	return *m.ZeroError
}

// commonLimit is the part of a gravity limit that all readings with the
// hydrometer share: what was given, else half of the limit, a judgement. A zero
// read in water once is no surer than that reading was.
func (m Meter) commonLimit(gravityLimit float64) float64 {
	if m.ZeroLimit != nil {
		return *m.ZeroLimit
	}
	return gravityLimit / 2
}

// ZeroIn returns the zero error of a hydrometer that shows reading in plain
// water of tempC. At the temperature of its scale that is the reading less 1; at
// any other, less what a true one would show there.
func (m Meter) ZeroIn(reading, tempC float64) (float64, error) {
	if m.Kind != MeterHydrometer {
		return 0, invalid("calibrate a pH meter in two buffers: hedgerow meter calibrate "+m.Name+" 4.01=4.10 7.00=7.05", "%s is no hydrometer", m.Name)
	}
	shown, err := dilution.ReadingInWater(tempC, m.scaleC())
	if err != nil {
		return 0, problemOf(err)
	}
	zero := reading - shown
	return zero, checkRange("zero error", &zero, -0.02, 0.02, "SG")
}

// meterByID returns the meter with that id.
func (n *Notebook) meterByID(id string) (Meter, bool) {
	i := slices.IndexFunc(n.Meters, func(m Meter) bool { return m.ID == id })
	if i < 0 {
		return Meter{}, false
	}
	return n.Meters[i], true
}

// hydrometer returns the hydrometer behind an id: a true one of 20 C where no
// meter is named or the named one is for pH.
func (n *Notebook) hydrometer(id *string) (Meter, error) {
	if id == nil {
		return Meter{}, nil
	}
	m, ok := n.meterByID(*id)
	if !ok {
		return m, invalid("give --meter none, or add the meter", "the meter of this reading is not in the notebook")
	}
	if m.Kind != MeterHydrometer {
		return Meter{}, nil
	}
	return m, nil
}

// CheckMeter refuses a reading whose meter cannot have given it.
func (n *Notebook) CheckMeter(r Reading) error {
	if r.MeterID == nil {
		return nil
	}
	m, ok := n.meterByID(*r.MeterID)
	switch {
	case !ok:
		return invalid("give --meter none, or add the meter", "the meter of this reading is not in the notebook")
	case m.Kind == MeterHydrometer && r.SG == nil:
		return invalid("add --sg 1.012, or leave --meter out", "%s is a hydrometer, but no gravity was read", m.Name)
	case m.Kind == MeterPH && r.PH == nil:
		return invalid("add --ph 4.31, or leave --meter out", "%s is a pH meter, but no pH was read", m.Name)
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

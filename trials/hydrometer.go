package trials

import "hedgerow/dilution"

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
		return 0, Refuse("calibrate a pH meter in two buffers: hedgerow meter calibrate "+m.Name+" 4.01=4.10 7.00=7.05", "%s is no hydrometer", m.Name)
	}
	shown, err := dilution.ReadingInWater(tempC, m.scaleC())
	if err != nil {
		return 0, problemOf(err)
	}
	zero := reading - shown
	return zero, checkRange("zero error", &zero, -0.02, 0.02, "SG")
}

// hydrometer returns the hydrometer behind an id: a true one of 20 C where no
// meter is named or the named one is for pH.
func (n *Notebook) hydrometer(id *string) (Meter, error) {
	if id == nil {
		return Meter{}, nil
	}
	m, ok := n.meterByID(*id)
	if !ok {
		return m, Refuse("give --meter none, or add the meter", "the meter of this reading is not in the notebook")
	}
	if m.Kind != MeterHydrometer {
		return Meter{}, nil
	}
	return m, nil
}

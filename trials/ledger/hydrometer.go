package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials"
)

// scaleOf is the temperature the scale of a hydrometer is made for.
func scaleOf(m trials.Meter) float64 {
	if m.ScaleTempC == nil {
		return dilution.Cal20C
	}
	return *m.ScaleTempC
}

// zeroOf is the zero error of a hydrometer, 0 where it was never read.
func zeroOf(m trials.Meter) float64 {
	if m.ZeroError == nil {
		return 0
	}
	return *m.ZeroError
}

// commonLimit is the part of a gravity limit that all readings with the
// hydrometer share: what was given, else half of the limit, a judgement. A zero
// read in water once is no surer than that reading was.
func commonLimit(m trials.Meter, gravityLimit float64) float64 {
	if m.ZeroLimit != nil {
		return *m.ZeroLimit
	}
	return gravityLimit / 2
}

// ZeroIn returns the zero error of a hydrometer that shows reading in plain
// water of tempC. At the temperature of its scale that is the reading less 1; at
// any other, less what a true one would show there.
func ZeroIn(m trials.Meter, reading, tempC float64) (float64, error) {
	if m.Kind != trials.MeterHydrometer {
		return 0, trials.Refuse("calibrate a pH meter in two buffers: hedgerow meter calibrate "+m.Name+
			" 4.01=4.10 7.00=7.05", "%s is no hydrometer", m.Name)
	}
	shown, err := dilution.ReadingInWater(tempC, scaleOf(m))
	if err != nil {
		return 0, trials.ProblemOf(err)
	}
	zero := reading - shown
	return zero, trials.CheckRange("zero error", &zero, -0.02, 0.02, "SG")
}

// hydrometer returns the hydrometer behind an id: a true one of 20 C where no
// meter is named or the named one is for pH.
func hydrometer(n *trials.Notebook, id *string) (trials.Meter, error) {
	if id == nil {
		return trials.Meter{}, nil
	}
	m, ok := n.MeterByID(*id)
	if !ok {
		return m, trials.Refuse("give --meter none, or add the meter", "the meter of this reading is not in the notebook")
	}
	if m.Kind != trials.MeterHydrometer {
		return trials.Meter{}, nil
	}
	return m, nil
}

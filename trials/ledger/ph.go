package ledger

import (
	"fmt"
	"slices"
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// pointsOf is the calibration as package dilution takes it.
func pointsOf(c trials.Calibration) dilution.PHCalibration {
	return dilution.PHCalibration{Buffer1: c.Buffer1, Read1: c.Read1, Buffer2: c.Buffer2, Read2: c.Read2}
}

// SlopePct returns the slope of the meter in per cent of the true one, and
// whether it is outside 90 to 105 % (common practice, no source).
func SlopePct(c trials.Calibration) (pct float64, flagged bool) {
	pct, flagged, err := pointsOf(c).SlopePct()
	return pct, flagged && err == nil
}

// CalibrationWarnings are the remarks on a calibration.
func CalibrationWarnings(c trials.Calibration) []string {
	if pct, flagged := SlopePct(c); flagged {
		return []string{fmt.Sprintf("the slope of the meter is %.0f %%, outside 90 to 105 %%: the electrode is worn, "+
			"or a buffer is spoilt or its temperature wrong", pct)}
	}
	return nil
}

// PhthalatePH returns the pH of the phthalate buffer (0.05 mol/kg potassium
// hydrogen phthalate) at a temperature from 0 to 60 C.
func PhthalatePH(tempC float64) (float64, error) {
	pH, err := dilution.PhthalatePH(tempC)
	if err != nil {
		return 0, trials.ProblemOf(err)
	}
	return pH, nil
}

// PH is a reading of a pH meter with its correction.
type PH struct {
	Shown    float64             // as the meter showed it
	Value    float64             // corrected; as shown where By is nil
	By       *trials.Calibration // the calibration that corrects it, nil for none
	Warnings []Warning           // remarks, one sentence each
}

// nearBuffers is how far from its buffers a calibration is trusted, in pH (a
// judgement).
const nearBuffers = 1.0

// PHOf returns the pH of a reading, corrected by the calibration of its meter
// that holds at its time; false where no pH was read.
func PHOf(n *trials.Notebook, r trials.Reading) (PH, bool) {
	if r.PH == nil {
		return PH{}, false
	}
	p := PH{Shown: *r.PH, Value: *r.PH}
	c := calibrationFor(n, r)
	if c == nil {
		return p, true
	}
	corrected, err := pointsOf(*c).Correct(p.Shown)
	if err != nil || corrected < 0 || corrected > 14 {
		p.Warnings = []Warning{{Record: r.Name,
			Text: "calibration " + c.Name + " would make the pH impossible; it is left as shown"}}
		return p, true
	}
	p.Value, p.By = corrected, c
	if p.Shown < min(c.Read1, c.Read2)-nearBuffers || p.Shown > max(c.Read1, c.Read2)+nearBuffers {
		p.Warnings = []Warning{{Record: r.Name, Text: fmt.Sprintf("pH %.2f lies far from the buffers of %s; a "+
			"straight line may not hold "+
			"there", p.Shown, c.Name)}}
	}
	return p, true
}

// calibrationFor picks the calibration that holds for a reading: the next one
// if the meter was untouched until then, else the one before, unless the meter
// was set to the buffers then.
func calibrationFor(n *trials.Notebook, r trials.Reading) *trials.Calibration {
	if r.MeterID == nil {
		return nil
	}
	var before *trials.Calibration
	for _, c := range n.CalibrationsOf(*r.MeterID) {
		// the first calibration after the reading decides: of those after it nobody knows what came between
		if c.At.After(r.At) {
			if c.Untouched {
				return &c
			}
			break
		}
		before = &c
	}
	if before == nil || before.Adjusted {
		return nil
	}
	return before
}

// CorrectedBy returns the readings that a calibration corrects, in time order.
func CorrectedBy(n *trials.Notebook, c trials.Calibration) []trials.Reading {
	var list []trials.Reading
	for _, r := range n.Readings {
		if p, ok := PHOf(n, r); ok && p.By != nil && p.By.ID == c.ID {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b trials.Reading) int { return a.At.Compare(b.At) })
	return list
}

// Uncorrected counts the readings of a meter before a time that no calibration
// corrects.
func Uncorrected(n *trials.Notebook, meterID string, before time.Time) int {
	count := 0
	for _, r := range n.Readings {
		if p, ok := PHOf(n, r); ok && p.By == nil && r.MeterID != nil && *r.MeterID == meterID && r.At.Before(before) {
			count++
		}
	}
	return count
}

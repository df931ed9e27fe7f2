package wording

import (
	"strings"
	"time"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// DateText prints the day of a moment in its own time zone.
func DateText(t time.Time) string { return t.Local().Format(time.DateOnly) }

// phText prints a pH, with what the meter showed where it was corrected.
func phText(p ledger.PH) string {
	if p.By == nil {
		return "pH " + document.Fixed(p.Value, 2)
	}
	return "pH " + document.Fixed(p.Value, 2) + " (shown " + document.Fixed(p.Shown, 2) + ")"
}

// ReadingLine is a reading in one line: a gravity as the hydrometer showed it, a
// pH as corrected.
func ReadingLine(n *trials.Notebook, r trials.Reading, u quantity.Units) string {
	var parts []string
	if r.SG != nil {
		text := "gravity " + GravityText(*r.SG)
		if r.SampleTempC != nil {
			text += " in a sample at " + TempText(*r.SampleTempC, u)
		}
		parts = append(parts, text)
	}
	if p, ok := ledger.PHOf(n, r); ok {
		parts = append(parts, phText(p))
	}
	if r.BeerTempC != nil {
		parts = append(parts, "beer at "+TempText(*r.BeerTempC, u))
	}
	if r.VolumeL != nil {
		parts = append(parts, VolumeText(*r.VolumeL, u)+" measured")
	}
	if r.MeterID != nil {
		if name := meterText(n, *r.MeterID); name != "" {
			parts = append(parts, strings.TrimPrefix(name, ", "))
		}
	}
	if r.Note != "" {
		parts = append(parts, r.Note)
	}
	return strings.Join(parts, ", ")
}

// GravityText prints a gravity as it was read: four decimals only if it has them.
func GravityText(sg float64) string {
	if s := document.Fixed(sg, 4); s[len(s)-1] != '0' {
		return s
	}
	return document.Fixed(sg, 3)
}

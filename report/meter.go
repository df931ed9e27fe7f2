package report

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// MeterLine is a meter in one line.
func MeterLine(n *trials.Notebook, m trials.Meter, u quantity.Units) string {
	if m.Kind == trials.MeterPH {
		c := n.CalibrationsOf(m.ID)
		switch len(c) {
		case 0:
			return wording.WithNote("pH meter, never calibrated here", m.Note)
		case 1:
			return wording.WithNote("pH meter, calibrated on "+wording.DateText(c[0].At), m.Note)
		}
		return wording.WithNote(fmt.Sprintf("pH meter, %d calibrations, the last on %s", len(c),
			wording.DateText(c[len(c)-1].At)), m.Note)
	}
	parts := []string{"hydrometer for " + scaleText(m, u)}
	if m.ZeroError != nil {
		parts = append(parts, "shows "+document.Fixed(1+*m.ZeroError, 4)+" in water there")
	} else {
		parts = append(parts, "zero never read")
	}
	if m.ZeroLimit != nil {
		parts = append(parts, "zero known to ±"+document.Significant(*m.ZeroLimit, 1))
	}
	return wording.WithNote(strings.Join(parts, ", "), m.Note)
}

// scaleText is the temperature of a hydrometer's scale.
func scaleText(m trials.Meter, u quantity.Units) string {
	if m.ScaleTempC == nil {
		return wording.TempText(20, u)
	}
	// a float made for 60 F has it printed on: 15.6 C would not be recognised in either system of units
	if f := *m.ScaleTempC*1.8 + 32; f > 59.9 && f < 60.1 {
		return "60 F"
	}
	return wording.TempText(*m.ScaleTempC, u)
}

// MeterList lists the meters.
func MeterList(n *trials.Notebook, u quantity.Units) document.View {
	t := document.Table{Columns: []document.Column{{Title: "meter"}, {Title: "what it is", Wrap: true}}}
	for _, m := range n.Meters {
		t.Rows = append(t.Rows, []string{m.Name, MeterLine(n, m, u)})
	}
	const none = "There is no meter yet: hedgerow meter add float-1 --kind hydrometer --scale 20C"
	return document.ListView(n.Meters, none, t)
}

// calibrationView is a calibration as --json prints it.
type calibrationView struct {
	trials.Calibration
	SlopePct float64            `json:"slope_pct"`
	Readings []correctedReading `json:"readings"`
	Warnings []string           `json:"warnings"` // remarks, one sentence each
}

// correctedReading is a pH reading as shown and as corrected.
type correctedReading struct {
	Reading   string  `json:"reading"`
	Shown     float64 `json:"ph_shown"`
	Corrected float64 `json:"ph"`
}

// calibrationOf is a calibration with the readings that it corrects.
func calibrationOf(n *trials.Notebook, c trials.Calibration) calibrationView {
	pct, _ := ledger.SlopePct(c)
	v := calibrationView{Calibration: c, SlopePct: pct, Readings: []correctedReading{},
		Warnings: append([]string{}, ledger.CalibrationWarnings(c)...)}
	for _, r := range ledger.CorrectedBy(n, c) {
		p, _ := ledger.PHOf(n, r)
		v.Readings = append(v.Readings, correctedReading{r.Name, p.Shown, p.Value})
		v.Warnings = append(v.Warnings, ledger.TextsOf(p.Warnings)...)
	}
	return v
}

// calibrationLine says what a calibration was: "4.01 showed 4.12, 7.00 showed
// 7.08 at 22 C; slope 99 %".
func calibrationLine(c trials.Calibration, u quantity.Units) string {
	pct, _ := ledger.SlopePct(c)
	text := document.Fixed(c.Buffer1, 2) + " showed " + document.Fixed(c.Read1, 2) + ", " +
		document.Fixed(c.Buffer2, 2) + " showed " + document.Fixed(c.Read2, 2)
	if c.BufferTempC != nil {
		text += " at " + wording.TempText(*c.BufferTempC, u)
	}
	text += "; slope " + document.Fixed(pct, 0) + " %"
	if c.Untouched {
		text += "; untouched before"
	}
	if c.Adjusted {
		text += "; then set to the buffers"
	}
	return wording.WithNote(text, c.Note)
}

// Meter shows a meter with its calibrations and the readings they correct.
func Meter(n *trials.Notebook, m trials.Meter, u quantity.Units) document.View {
	list := []calibrationView{}
	warnings := []string{}
	cal := document.Table{Columns: []document.Column{{Title: "calibration"}, {Title: "date"},
		{Title: "buffers", Wrap: true}, {Title: "corrects", Right: true}}}
	read := document.Table{Columns: []document.Column{{Title: "reading"}, {Title: "date"},
		{Title: "shown", Right: true}, {Title: "corrected", Right: true}, {Title: "by"}}}
	for _, c := range n.CalibrationsOf(m.ID) {
		v := calibrationOf(n, c)
		list = append(list, v)
		warnings = append(warnings, v.Warnings...)
		cal.Rows = append(cal.Rows, []string{c.Name, wording.DateText(c.At), calibrationLine(c, u),
			fmt.Sprint(len(v.Readings))})
	}
	for _, r := range n.Readings {
		if r.MeterID == nil || *r.MeterID != m.ID || r.PH == nil {
			continue
		}
		row := []string{r.Name, wording.DateText(r.At), document.Fixed(*r.PH, 2), "-", "-"}
		if p, _ := ledger.PHOf(n, r); p.By != nil {
			row[3], row[4] = document.Fixed(p.Value, 2), p.By.Name
		}
		read.Rows = append(read.Rows, row)
	}
	sections := []document.Section{{Paragraphs: []string{MeterLine(n, m, u)}}}
	if len(cal.Rows) > 0 {
		sections = append(sections, document.Section{Heading: "Calibrations", Table: &cal, Notes: warnings})
	}
	if len(read.Rows) > 0 {
		sections = append(sections, document.Section{Heading: "pH readings", Table: &read})
	}
	return document.View{
		Document: document.Document{Title: m.Name, Sections: sections},
		Payload: struct {
			Meter        trials.Meter      `json:"meter"`
			Calibrations []calibrationView `json:"calibrations"`
			Warnings     []string          `json:"warnings"`
		}{m, list, warnings},
	}
}

// Calibrated says what a new calibration does.
func Calibrated(n *trials.Notebook, c trials.Calibration, u quantity.Units, told []string) document.View {
	v := calibrationOf(n, c)
	s := document.Section{Paragraphs: []string{"logged " + c.Name + ": " + calibrationLine(c, u)}, Notes: v.Warnings}
	if len(v.Readings) > 0 {
		t := document.Table{Columns: []document.Column{{Title: "reading"}, {Title: "shown", Right: true},
			{Title: "corrected", Right: true}}}
		for _, r := range v.Readings {
			t.Rows = append(t.Rows, []string{r.Reading, document.Fixed(r.Shown, 2), document.Fixed(r.Corrected, 2)})
		}
		s.Table = &t
	}
	return document.View{
		Document: document.Document{Sections: []document.Section{s}},
		Payload: struct {
			Saved    trials.Calibration `json:"saved"`
			SlopePct float64            `json:"slope_pct"`
			Readings []correctedReading `json:"readings"`
			Warnings []string           `json:"warnings"`
		}{c, v.SlopePct, v.Readings, append(v.Warnings, told...)},
	}
}

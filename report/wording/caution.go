package wording

import "hedgerow/trials"

// cautionRow is a caution as --json prints it.
type CautionRow struct {
	Hazard   string `json:"hazard"`     // code of the hazard
	Level    string `json:"level"`      // note, warn or stop
	Text     string `json:"caution"`    // as it was written
	WhatToDo string `json:"what_to_do"` // one sentence
	Source   string `json:"source"`     // who said it or where it is written
	NoDose   bool   `json:"no_dose"`    // no dose is suggested for such a plant
}

// CautionRows turns cautions into their printed form.
func CautionRows(list []trials.Caution) []CautionRow {
	rows := make([]CautionRow, len(list))
	for i, c := range list {
		rows[i] = CautionRow{c.HazardCode, string(c.Level), c.Text, c.WhatToDo, c.SourceID, c.NoDose}
	}
	return rows
}

package wording

import "hedgerow/trials"

// cautionRow is a caution as --json prints it.
type CautionRow struct {
	Hazard   string `json:"hazard"`
	Level    string `json:"level"`
	Text     string `json:"caution"`
	WhatToDo string `json:"what_to_do"`
	Source   string `json:"source"`
	NoDose   bool   `json:"no_dose"`
}

// CautionRows turns cautions into their printed form.
func CautionRows(list []trials.Caution) []CautionRow {
	rows := make([]CautionRow, len(list))
	for i, c := range list {
		rows[i] = CautionRow{c.HazardCode, string(c.Level), c.Text, c.WhatToDo, c.SourceID, c.NoDose}
	}
	return rows
}

package report

import "hedgerow/trials"

// cautionRow is a caution as --json prints it.
type cautionRow struct {
	Hazard   string `json:"hazard"`
	Level    string `json:"level"`
	Text     string `json:"caution"`
	WhatToDo string `json:"what_to_do"`
	Source   string `json:"source"`
	NoDose   bool   `json:"no_dose"`
}

// cautionRows turns cautions into their printed form.
func cautionRows(list []trials.Caution) []cautionRow {
	rows := make([]cautionRow, len(list))
	for i, c := range list {
		rows[i] = cautionRow{c.HazardCode, string(c.Level), c.Text, c.WhatToDo, c.SourceID, c.NoDose}
	}
	return rows
}

package wording

import (
	"fmt"
	"strings"

	"hedgerow/trials"
)

// CautionRow is a caution as --json prints it.
type CautionRow struct {
	Hazard   string `json:"hazard"`     // code of the hazard
	Level    string `json:"level"`      // note, warn or stop
	Text     string `json:"caution"`    // as it was written
	WhatToDo string `json:"what_to_do"` // one sentence
	Source   string `json:"source"`     // who said it or where it is written
	Evidence string `json:"evidence"`   // read, secondary, earlier, practice or memory
	Scope    string `json:"scope"`      // material, form or general: beside which entries it is shown
	Form     string `json:"form"`       // of the entry that it holds for, empty if for all
	NoDose   bool   `json:"no_dose"`    // no dose is suggested for such a plant
}

// CautionRows turns cautions into their printed form.
func CautionRows(list []trials.Caution) []CautionRow {
	rows := make([]CautionRow, len(list))
	for i, c := range list {
		rows[i] = CautionRow{c.HazardCode, string(c.Level), c.Text, c.WhatToDo, c.SourceID, c.Evidence, c.Scope, c.Form,
			c.NoDose}
	}
	return rows
}

// CautionLine is a caution in one line with what it rests on.
func CautionLine(c CautionRow) string {
	return fmt.Sprintf("caution (%s): %s %s [%s]", CautionLevel(c), c.Text, c.WhatToDo, Evidence(c.Evidence, c.Source))
}

// CautionLevel is the level of a caution with the form that it holds for: "stop,
// if picked".
func CautionLevel(c CautionRow) string {
	if c.Form == "" {
		return c.Level
	}
	return c.Level + ", if " + c.Form
}

// Citation puts a space after each semicolon, where a line may break.
func Citation(ids string) string { return strings.ReplaceAll(ids, ";", "; ") }

// Evidence says what was done to check a caution or limit, and with which
// source: "read: C30".
func Evidence(word, source string) string {
	source = Citation(source)
	switch word {
	case trials.EvidencePractice, trials.EvidenceMemory:
		return source // "common practice, no source" and "from memory" say it themselves
	case trials.EvidenceEarlier:
		return "named, not reopened: " + source
	}
	return word + ": " + source
}

package catalogue

import (
	"cmp"
	"fmt"
	"slices"
)

// level is how serious a caution is.
type level string

// The levels, mildest first.
const (
	levelNote level = "note" // good practice
	LevelWarn level = "warn" // a real hazard for some people or batches
	levelStop level = "stop" // do not use, or do not go on before it is settled
)

// levels are the levels, mildest first.
var levels = []level{levelNote, LevelWarn, levelStop}

// AtLeast reports whether the level is as serious as min or more.
func (l level) AtLeast(min level) bool { return slices.Index(levels, l) >= slices.Index(levels, min) }

// What a caution may be about.
const (
	aboutMaterial = "material"
	aboutClass    = "class"
	AboutProcess  = "process"
)

// The scopes of a caution: when it is shown beside an entry.
const (
	scopeMaterial = "material" // at every entry of the material
	scopeForm     = "form"     // only where the entry has that form
	ScopeGeneral  = "general"  // once
)

// The evidence of a caution or limit: what was done to check it.
const (
	evidenceRead      = "read"      // the named source was read for the table
	EvidenceSecondary = "secondary" // another named text reports it
	EvidenceEarlier   = "earlier"   // a named source, not opened again
	EvidencePractice  = "practice"  // common practice, no source
	EvidenceMemory    = "memory"    // from memory
)

// evidences are the words of the column evidence.
var evidences = []string{evidenceRead, EvidenceSecondary, EvidenceEarlier, EvidencePractice, EvidenceMemory}

// Caution is one thing to beware of.
type Caution struct {
	HazardCode string   // short stable name of the hazard
	About      string   // material, class or process
	AppliesTo  []string // keys of materials, "class:..." or "process:..."
	Level      level    // how serious
	Text       string   // what is the matter
	WhatToDo   string   // how to keep clear of it
	SourceID   string   // see Catalogue.Sources
	Evidence   string   // what was done to check it: read, secondary, earlier, practice or memory
	Scope      string   // when it is shown: material, form or general
	Form       string   // of the entry that it holds for ("picked", "leaf"); empty if for all
	NoDose     bool     // no dose of the material is suggested because of it
}

// noDoseCodes are the hazards of materials for which no dose is suggested:
// those that are poisonous or forbidden as a whole. A stop about a wrong part
// (rhubarb leaf), a look-alike (yew) or a process (spirit near flame) is no
// reason against the right material, rightly handled.
var noDoseCodes = []string{
	"toxic-plant-parts", "coumarin-high", "safrole", "asarone", "hypericin", "essential-oil", "supplement", "stop-list",
}

var cautionColumns = []string{
	"scope_type", "applies_to", "hazard_code", "level", "caution", "what_to_do", "source_id", "evidence", "scope", "form",
}

// readCautions reads the cautions in the order of the table.
func readCautions() ([]Caution, error) {
	var list []Caution
	err := readTable("cautions.csv", cautionColumns, func(r *record) error {
		c := Caution{
			HazardCode: r.text("hazard_code"),
			About:      r.text("scope_type"),
			AppliesTo:  r.list("applies_to"),
			Level:      level(r.text("level")),
			Text:       r.text("caution"),
			WhatToDo:   r.text("what_to_do"),
			SourceID:   r.text("source_id"),
			Evidence:   r.text("evidence"),
			Scope:      r.text("scope"),
			Form:       r.text("form"),
		}
		// refused here, so that a slip in the table fails the tests and not a brewer
		if !slices.Contains(levels, c.Level) {
			return fmt.Errorf("%s line %d: level %q is not known", r.file, r.line, c.Level)
		}
		if !slices.Contains(evidences, c.Evidence) {
			return fmt.Errorf("%s line %d: evidence %q is not known", r.file, r.line, c.Evidence)
		}
		c.NoDose = slices.Contains(noDoseCodes, c.HazardCode)
		list = append(list, c)
		return nil
	})
	return list, err
}

// Cautions returns what to beware of with a material, the most serious first:
// what the stop list and the list of allergens have on an own name, the rows
// for it and those for its class. General cautions that hold for
// every batch are in GeneralCautions.
func (c *Catalogue) Cautions(m Material) []Caution {
	classes := classesOf(m)
	list := c.cautionsWhere(func(row Caution) bool {
		if row.About == aboutClass {
			return slices.ContainsFunc(row.AppliesTo, func(to string) bool { return slices.Contains(classes, to) })
		}
		return slices.Contains(m.CautionCodes, row.HazardCode) || slices.Contains(row.AppliesTo, m.Key)
	})
	list = append(list, c.stopCautions(m)...)
	list = append(list, c.allergenCautions(m)...)
	// again, for the rows that were appended have levels of their own
	sortCautions(list)
	return list
}

// GeneralCautions returns the cautions that hold whatever the material is:
// for tasters, for children, and that this is no advice.
func (c *Catalogue) GeneralCautions() []Caution {
	return c.cautionsWhere(func(row Caution) bool {
		return row.About == aboutClass && slices.ContainsFunc(row.AppliesTo,
			func(to string) bool { return slices.Contains(generalClasses, to) })
	})
}

// NoDose returns the most serious caution because of which no dose of the
// material is suggested; ok is false if a dose may be suggested.
func (c *Catalogue) NoDose(m Material) (reason Caution, ok bool) {
	list := c.Cautions(m)
	i := slices.IndexFunc(list, func(row Caution) bool { return row.NoDose })
	if i < 0 && m.DoseWithheld {
		// the most serious caution of the plant itself is why
		i = slices.IndexFunc(list, func(row Caution) bool { return row.About == aboutMaterial })
	}
	if i < 0 {
		return Caution{}, false
	}
	return list[i], true
}

// cautionsWhere returns the rows for which keep holds, the most serious first
// and otherwise in the order of the table.
func (c *Catalogue) cautionsWhere(keep func(Caution) bool) []Caution {
	var list []Caution
	for _, row := range c.cautions() {
		if keep(row) {
			list = append(list, row)
		}
	}
	sortCautions(list)
	return list
}

// sortCautions puts the most serious first and leaves equals as they stand.
func sortCautions(list []Caution) {
	slices.SortStableFunc(list, func(a, b Caution) int {
		return cmp.Compare(slices.Index(levels, b.Level), slices.Index(levels, a.Level))
	})
}

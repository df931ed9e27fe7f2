package report

import (
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// materialRow is a material as --json lists it.
type materialRow struct {
	Key      string   `json:"key"`
	Name     string   `json:"name"` // unique among records of its kind
	Category string   `json:"category"`
	Part     string   `json:"part_used"`
	Class    string   `json:"class"`             // solute class, an index into ClassNames
	Low      *float64 `json:"dose_low_g_per_l"`  // lower end
	High     *float64 `json:"dose_high_g_per_l"` // upper end
	Basis    string   `json:"dose_basis"`
	Caution  string   `json:"highest_caution"`
	Own      bool     `json:"own"`
}

// MaterialList lists materials.
func MaterialList(materials trials.Materials, list []trials.Material) document.View {
	t := document.Table{Columns: []document.Column{{Title: "material"}, {Title: "name", Wrap: true},
		{Title: "part", Wrap: true}, {Title: "class"}, {Title: "g/L", Right: true}, {Title: "of"}, {Title: "caution"}}}
	var rows []materialRow
	for _, m := range list {
		r := rowOf(materials, m)
		rows = append(rows, r)
		t.Rows = append(t.Rows, []string{r.Key, r.Name, r.Part, r.Class, doseRange(m), r.Basis, r.Caution})
	}
	return document.ListView(rows, "No material matches.", t)
}

// doseRange prints the published doses of a material.
func doseRange(m trials.Material) string {
	switch {
	case m.DoseLowGPerL == nil && m.DoseHighGPerL == nil:
		return "-"
	case m.DoseLowGPerL == nil:
		return "to " + document.Significant(*m.DoseHighGPerL, 2)
	case m.DoseHighGPerL == nil:
		return "from " + document.Significant(*m.DoseLowGPerL, 2)
	}
	return document.Significant(*m.DoseLowGPerL, 2) + "-" + document.Significant(*m.DoseHighGPerL, 2)
}

// Material shows one material with its cautions, limits and sources.
func Material(materials trials.Materials, m trials.Material, u quantity.Units) document.View {
	title := m.CommonName
	if m.BotanicalName != "" && m.BotanicalName != "-" {
		title += " (" + m.BotanicalName + ")"
	}
	sections := []document.Section{materialFacts(materials, m)}
	cautions := materials.Cautions(m)
	if len(cautions) > 0 {
		t := document.Table{Columns: []document.Column{{Title: "level", Wrap: true}, {Title: "caution", Wrap: true},
			{Title: "what to do", Wrap: true}, {Title: "evidence", Wrap: true}}}
		for _, c := range wording.CautionRows(cautions) {
			t.Rows = append(t.Rows, []string{wording.CautionLevel(c), c.Text, c.WhatToDo,
				wording.Evidence(c.Evidence, c.Source)})
		}
		sections = append(sections, document.Section{Heading: "Cautions", Table: &t,
			Notes: []string{"no medical or legal advice; what is served to others is for the brewer to clear with " +
				"local rules and licensed practice", evidenceNote}})
	}
	general := materials.GeneralCautions()
	sections = append(sections, generalSection(general))
	limits := materials.Limits(m)
	if len(limits) > 0 {
		sections = append(sections, limitSection(limits))
	}
	sections = append(sections, defaultSection(m))
	if sources := materialSources(cited(materials, m, slices.Concat(cautions, general), limits)); len(sources.Notes) > 0 {
		sections = append(sections, sources)
	}
	return document.View{
		Document: document.Document{Title: title, Sections: sections},
		Payload: struct {
			Material      materialRow          `json:"material"`
			BotanicalName string               `json:"botanical_name"`
			MoistureDried *float64             `json:"moisture_dried_fraction"`
			MoistureFresh *float64             `json:"moisture_fresh_fraction"`
			SugarPct      *float64             `json:"sugar_pct"`
			HardWhole     bool                 `json:"hard_whole"`
			Heat          string               `json:"heat_notes"`
			Cautions      []wording.CautionRow `json:"cautions"`
			General       []wording.CautionRow `json:"general_cautions"` // whatever the material
			Limits        []limitRow           `json:"limits"`
			Defaults      []steepFigure        `json:"defaults"`
			Warnings      []string             `json:"warnings"`
		}{rowOf(materials, m), m.BotanicalName, moistureOf(materials, m, "dried"), moistureOf(materials, m,
			"fresh"), m.SugarPct, m.HardWhole, m.HeatNotes,
			wording.CautionRows(cautions), wording.CautionRows(general), limitRows(limits),
			defaultFigures(steeps.AllSteepDefaults(m)), []string{}},
	}
}

// materialFacts is the table of what is known of a material.
func materialFacts(materials trials.Materials, m trials.Material) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "", Wrap: false}, {Title: "", Wrap: true},
		{Title: "source", Wrap: true}}}
	add := func(name, value, source string) {
		// a dash in the tables stands for "none", which is no fact to list
		if value != "" && value != "-" {
			t.Rows = append(t.Rows, []string{name, value, wording.Citation(source)})
		}
	}
	add("key", m.Key, "")
	add("part used", m.PartUsed, "")
	add("kind", m.Category, "")
	add("forms", strings.Join(m.TypicalForms, ", "), "")
	add("solute class", m.Class, "")
	add("tissue", m.Kind, "")
	add("a bare claim is of", basisText(m), "")
	add("allergens", strings.Join(m.Allergens, ", "), "")
	if d := doseRange(m); d != "-" {
		add("claims, published", d+" g/L "+m.DoseBasis+" ("+m.DoseEvidence+")",
			strings.Join(unique(m.DoseLowSource, m.DoseHighSource), "; "))
	}
	for _, form := range []string{"dried", "fresh"} {
		if share, source, ok := materials.DefaultMoisture(m, form); ok {
			add("water, "+form, document.Fixed(100*share, 1)+" %", source)
		}
	}
	if m.SugarPct != nil {
		add("sugar", document.Fixed(*m.SugarPct, 1)+" % "+m.SugarState, m.SugarSource)
	}
	if tsp, _, source := materials.SpoonWeight(m, ""); tsp != nil {
		add("teaspoon", document.Fixed(*tsp, 1)+" g", source)
	}
	if m.LiquidAbsorbedMLPerG != nil {
		add("absorbs", document.Fixed(*m.LiquidAbsorbedMLPerG, 1)+" mL/g (shown only)", m.LiquidAbsorbedSource)
	}
	add("heat", m.HeatNotes, m.HeatSource)
	add("note", m.Notes, "")
	add("kept because", m.Reason, "")
	return document.Section{Table: &t}
}

// generalSection lists what holds for every batch, whatever is put into it.
func generalSection(list []trials.Caution) document.Section {
	s := document.Section{Heading: "For every batch"}
	for _, c := range wording.CautionRows(list) {
		s.Notes = append(s.Notes, wording.CautionLine(c))
	}
	return s
}

// basisText says what a claim is taken for that names no basis.
func basisText(m trials.Material) string {
	if m.DefaultBasis == "" || !m.BasisAsk {
		return m.DefaultBasis
	}
	return m.DefaultBasis + " (fresh and dry are both usual: say which)"
}

// defaultSection lists the defaults of the steep model that matter here.
func defaultSection(m trials.Material) document.Section {
	return document.Section{Heading: "Defaults", Table: defaultTable(steeps.SteepDefaults(m)),
		Notes: []string{"grade A measured in a cited source, B worked out from one, C our judgement; what you measure " +
			"takes their place; --explain shows all of them"}}
}

// WithAllDefaults returns the view of a material with every default of the steep
// model that it may meet at its end.
func WithAllDefaults(v document.View, m trials.Material) document.View {
	// a clone: append could write into the view it was given, which others hold too
	v.Document.Sections = append(slices.Clone(v.Document.Sections),
		document.Section{Heading: "Every default of a steep", Table: defaultTable(steeps.AllSteepDefaults(m))})
	return v
}

// defaultTable is a table of defaults.
func defaultTable(list []steeps.SteepDefault) *document.Table {
	t := document.Table{Columns: []document.Column{{Title: "what is assumed in a steep", Wrap: true},
		{Title: "value", Right: true}, {Title: "grade"}, {Title: "source", Wrap: true}}}
	for _, d := range list {
		t.Rows = append(t.Rows, []string{d.Name,
			strings.TrimSpace(document.Significant(d.Value, 2) + " " + strings.TrimPrefix(d.Unit, "1")),
			gradeLetter(d.Grade), d.Source})
	}
	return &t
}

// unique drops empty and repeated words.
func unique(words ...string) []string {
	var list []string
	for _, w := range words {
		if w != "" && (len(list) == 0 || list[len(list)-1] != w) {
			list = append(list, w)
		}
	}
	return list
}

// rowOf is a material as a list shows it.
func rowOf(materials trials.Materials, m trials.Material) materialRow {
	r := materialRow{m.Key, m.CommonName, m.Category, m.PartUsed, m.Class, m.DoseLowGPerL, m.DoseHighGPerL, m.DoseBasis,
		"", m.Own}
	// the first is the gravest: the catalogue sorts them
	if c := materials.Cautions(m); len(c) > 0 {
		r.Caution = string(c[0].Level)
	}
	return r
}

// moistureOf is the water of a material in a form, nil if not known.
func moistureOf(materials trials.Materials, m trials.Material, form string) *float64 {
	share, _, ok := materials.DefaultMoisture(m, form)
	if !ok {
		return nil
	}
	return &share
}

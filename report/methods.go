package report

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// methodRow is one method of a comparison as --json prints it.
type methodRow struct {
	Name        string         `json:"method"` // unique among records of its kind
	Place       int            `json:"place"`
	Dose        *figure.Stated `json:"effective_dose_g_per_l"` // null when only the place is to be believed
	RankingOnly bool           `json:"ranking_only"`
	Reasons     []string       `json:"reasons"`
	MassG       float64        `json:"mass_g"` // grams as weighed
	AddedL      float64        `json:"added_l"`
	MixL        float64        `json:"volume_after_mixing_l"`
	Cost        strengthCost   `json:"strength_cost"`
	Minutes     float64        `json:"minutes"` // how long
	Handlings   int            `json:"handlings"`
	Warnings    []string       `json:"warnings"` // remarks, one sentence each
}

// methodPair is the comparison of two methods as --json prints it.
type methodPair struct {
	First  string         `json:"first"`
	Second string         `json:"second"`
	P      float64        `json:"p_first_stronger"`
	Ratio  *figure.Stated `json:"dose_ratio"`
	Call   string         `json:"call"` // clear or cannot tell
	place  [2]int
}

// Methods shows steeps of one material side by side, the strongest first.
func Methods(m steeps.MethodComparison, u quantity.Units) document.View {
	rows, pairs := methodRows(m), methodPairs(m)
	warnings := methodWarnings(rows)
	title := "Methods side by side, " + m.Class.String() + " class"
	return document.View{
		Document: document.Document{Title: title,
			Sections: []document.Section{methodTable(m, rows, u), pairTable(rows, pairs, warnings)}},
		Payload: struct {
			Class    string       `json:"class"`
			Methods  []methodRow  `json:"methods"`
			Pairs    []methodPair `json:"pairs"`
			Draws    int          `json:"draws"`
			Seed     uint64       `json:"seed"`
			Warnings []string     `json:"warnings"`
		}{m.Class.String(), rows, pairs, m.N, m.Seed, warnings},
	}
}

// methodRows turns the rows into their printed form.
func methodRows(m steeps.MethodComparison) []methodRow {
	rows := make([]methodRow, len(m.Rows))
	for i, r := range m.Rows {
		rows[i] = methodRow{Name: r.Name, Place: i + 1, RankingOnly: r.RankingOnly,
			Reasons: append([]string{}, r.Reasons...), MassG: m.Mass[i],
			AddedL: r.AddedL, MixL: r.MixL, Cost: costView(m.Costs[i]), Minutes: r.Minutes, Handlings: r.Handlings,
			Warnings: append([]string{}, r.Warnings...)}
		// a number too doubtful to show stays out of JSON too: a program would believe it
		if at := r.Dose.At80; !r.RankingOnly {
			dose := figure.StatedBetween(at.Value, at.Low, at.High, at.Level)
			rows[i].Dose = &dose
		}
	}
	return rows
}

// methodPairs turns the pairs into their printed form.
func methodPairs(m steeps.MethodComparison) []methodPair {
	pairs := make([]methodPair, len(m.Pairs))
	for i, p := range m.Pairs {
		pairs[i] = methodPair{First: m.Rows[p.First].Name, Second: m.Rows[p.Second].Name, P: p.P, Call: "cannot tell",
			place: [2]int{p.First, p.Second}}
		if p.IsClear() {
			pairs[i].Call = "clear"
		}
		if p.Ratio.Level > 0 {
			ratio := figure.StatedBetween(p.Ratio.Value, p.Ratio.Low, p.Ratio.High, p.Ratio.Level)
			pairs[i].Ratio = &ratio
		}
	}
	return pairs
}

// methodTable is the table of methods.
func methodTable(m steeps.MethodComparison, rows []methodRow, u quantity.Units) document.Section {
	thins := "thins"
	for _, r := range rows {
		// the strength was given: points lost tell more than a share; JSON has both
		if r.Cost.ABVPct != nil {
			thins = "% vol\nlost"
		}
	}
	t := document.Table{Columns: []document.Column{{Title: "", Right: true}, {Title: "method", Wrap: true},
		{Title: "effective g/L\n(80 %)", Right: true}, {Title: "liquid\nadded", Right: true},
		{Title: thins, Right: true}, {Title: "time", Right: true}, {Title: "hand-\nlings",
			Right: true}, {Title: "weighed", Right: true, Wide: true}}}
	hidden := false
	for i, r := range rows {
		dose := "only a place"
		if r.Dose != nil {
			dose = document.SignificantSpread(*r.Dose)
		} else {
			hidden = true
		}
		t.Rows = append(t.Rows, []string{letter(r.Place), r.Name, dose, addedCell(r.AddedL, u), costCell(m.Costs[i]),
			wording.DurationText(r.Minutes), fmt.Sprint(r.Handlings), wording.MassText(r.MassG, u)})
	}
	notes := []string{"the strongest first; handlings: weighing, heating, straining, squeezing, bagging"}
	if hidden {
		notes = append(notes, "only a place: the number is too doubtful to show; for which reason see below")
	}
	return document.Section{Table: &t, Notes: notes}
}

// addedCell prints added liquid, a dash for none.
func addedCell(l float64, u quantity.Units) string {
	if l < 0.0005 {
		return "-"
	}
	return wording.VolumeText(l, u)
}

// letter names a row: a, b, c ...
func letter(place int) string {
	// after z only numbers are left
	if place > 26 {
		return fmt.Sprint(place)
	}
	return string(rune('a' + place - 1))
}

// pairTable is the table of who is stronger, with what cannot be told apart.
func pairTable(rows []methodRow, pairs []methodPair, warnings []string) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "", Right: true}, {Title: "method", Wrap: true}}}
	for _, r := range rows[1:] {
		t.Columns = append(t.Columns, document.Column{Title: letter(r.Place), Right: true})
	}
	cells := map[[2]int]string{}
	for _, p := range pairs {
		cells[p.place] = document.Fixed(p.P, 2)
		if p.Call != "clear" {
			cells[p.place] += "?"
		}
	}
	// the upper half alone: the lower is one less each
	for i, r := range rows[:len(rows)-1] {
		line := []string{letter(r.Place), r.Name}
		for j := 1; j < len(rows); j++ {
			line = append(line, cells[[2]int{i, j}])
		}
		t.Rows = append(t.Rows, line)
	}
	notes := append([]string{"chance that the method of the row gives more than that of the column; ? = cannot tell " +
		"(0.25 to 0.75)"}, warnings...)
	return document.Section{Heading: "Which is stronger", Table: &t, Notes: notes}
}

// methodWarnings gathers why numbers are hidden and what the steeps warn of; the
// same sentence for several methods is said once.
func methodWarnings(rows []methodRow) []string {
	var order []string
	who := map[string][]string{}
	add := func(sentence, name string) {
		if len(who[sentence]) == 0 {
			order = append(order, sentence)
		}
		who[sentence] = append(who[sentence], name)
	}
	for _, r := range rows {
		for _, reason := range r.Reasons {
			add("only a place: "+reason, r.Name)
		}
		for _, w := range r.Warnings {
			add(w, r.Name)
		}
	}
	list := []string{}
	for _, sentence := range order {
		names := strings.Join(who[sentence], "; ")
		if len(who[sentence]) == len(rows) {
			names = "every method"
		}
		list = append(list, names+": "+sentence)
	}
	return list
}

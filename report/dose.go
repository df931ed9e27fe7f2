package report

import (
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// Dose shows advice as grams per litre.
func Dose(d quantity.Dose, u quantity.Units) document.View {
	text := document.Significant(d.LowGPerL, 3)
	payload := struct {
		GPerL       float64  `json:"g_per_l"`
		HighGPerL   *float64 `json:"high_g_per_l,omitempty"`
		AsWritten   string   `json:"as_written"`
		Basis       string   `json:"basis"`
		UpTo        bool     `json:"up_to"` // g_per_l is the most, not the dose
		PerTea      bool     `json:"per_tea"`
		Assumptions []string `json:"assumptions"`
		Warnings    []string `json:"warnings"`
	}{GPerL: d.LowGPerL, AsWritten: d.AsWritten, Basis: d.BasisWord, UpTo: d.UpTo, PerTea: d.PerTea,
		Assumptions: append([]string{}, d.Assumptions...), Warnings: append([]string{}, d.Warnings...)}
	if d.IsRange {
		payload.HighGPerL = &d.HighGPerL
		text += " to " + document.Significant(d.HighGPerL, 3)
	}
	line := "\"" + d.AsWritten + "\" is " + text + " g/L"
	if d.UpTo {
		line += " at most"
	}
	if d.PerTea {
		line += " of the tea, not of the beer"
	}
	if d.BasisWord != "" {
		line += " of " + d.BasisWord + " material"
	}
	s := document.Section{Paragraphs: []string{line + "."}}
	// beside and not in place of grams per litre, which every other command speaks
	if u == quantity.USUnits {
		us := wording.DoseText(d.LowGPerL, u)
		if d.IsRange {
			us += " to " + wording.DoseText(d.HighGPerL, u)
		}
		s.Paragraphs = append(s.Paragraphs, "In US units "+us+".")
	}
	for _, a := range d.Assumptions {
		s.Notes = append(s.Notes, "assumed: "+a)
	}
	s.Notes = append(s.Notes, d.Warnings...)
	return document.View{Document: document.Document{Sections: []document.Section{s}}, Payload: payload}
}

// ClaimList lists claims in one unit.
func ClaimList(list []trials.Claim) document.View {
	t := document.Table{Columns: []document.Column{{Title: "claim"}, {Title: "as written", Wrap: true},
		{Title: "g/L", Right: true}, {Title: "of"}, {Title: "heard from", Wrap: true}}}
	for _, c := range list {
		t.Rows = append(t.Rows, []string{c.Name, c.AsWritten, wording.ClaimRange(c), wording.ClaimOf(c), c.Source})
	}
	const none = `There is no claim yet: hedgerow claim add heather "1 oz per 5 gal" --source "a friend"`
	return document.ListView(list, none, t)
}

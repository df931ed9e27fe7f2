package report

import (
	"fmt"
	"strings"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// BatchLine is a batch in one line.
func BatchLine(b trials.Batch, u quantity.Units) string {
	parts := []string{wording.VolumeText(b.VolumeL, u)}
	if b.OG != nil {
		parts = append(parts, "OG "+document.Fixed(*b.OG, 3))
	}
	if b.FG != nil {
		parts = append(parts, "expected FG "+document.Fixed(*b.FG, 3))
	}
	if b.IBU != nil {
		parts = append(parts, document.Fixed(*b.IBU, 0)+" IBU")
	}
	if b.SRM != nil {
		parts = append(parts, document.Fixed(*b.SRM, 0)+" SRM")
	}
	return strings.Join(append(parts, "begun "+wording.DateText(b.StartedAt)), ", ")
}

// batchWarnings are remarks on figures that are allowed but unusual.
func batchWarnings(b trials.Batch) []string {
	if b.OG != nil && *b.OG > figure.SGWarn {
		return []string{fmt.Sprintf("original gravity %s is above 1.150: the tables behind it are extrapolated there",
			document.Fixed(*b.OG, 3))}
	}
	return nil
}

// BatchHistory shows a batch and what happened to it.
func BatchHistory(n *trials.Notebook, b trials.Batch, u quantity.Units) document.View {
	t := document.Table{Columns: []document.Column{{Title: "day", Right: true}, {Title: "date"}, {Title: "name"},
		{Title: "what happened", Wrap: true}}}
	type event struct {
		Day  float64   `json:"day"`
		At   time.Time `json:"at"`
		Kind string    `json:"kind"`
		Name string    `json:"name"`
		What string    `json:"what"`
	}
	events := []event{}
	all := ledger.Events(n, b)
	for _, e := range all {
		day := e.At.Sub(all[0].At).Hours() / 24
		what := wording.EventSentence(n, e, u)
		events = append(events, event{day, e.At, string(e.Kind), e.Name, what})
		t.Rows = append(t.Rows, []string{document.Fixed(day, 0), wording.DateText(e.At), e.Name, what})
	}
	line := BatchLine(b, u)
	if b.Brewer != "" {
		line += ", brewed by " + n.BrewerNames()[b.Brewer]
	}
	s := document.Section{Paragraphs: []string{line}, Table: &t}
	if b.Note != "" {
		s.Notes = append(s.Notes, b.Note)
	}
	return document.View{
		Document: document.Document{Title: b.Name, Sections: []document.Section{s}},
		Payload: struct {
			Batch    trials.Batch `json:"batch"`
			Events   []event      `json:"events"`
			Warnings []string     `json:"warnings"`
		}{b, events, append([]string{}, batchWarnings(b)...)},
	}
}

// ReadingList lists the readings, of one batch if b is given.
func ReadingList(n *trials.Notebook, b *trials.Batch, u quantity.Units) document.View {
	t := document.Table{Columns: []document.Column{{Title: "reading"}, {Title: "date"},
		{Title: "what was read", Wrap: true}}}
	type reading struct {
		trials.Reading
		CorrectedPH *float64 `json:"ph_corrected"` // null where no calibration holds
	}
	var list []reading
	for _, r := range n.Readings {
		if b == nil || r.BatchID == b.ID {
			row := reading{Reading: r}
			// what was shown is no corrected value: without a calibration it stays null
			if p, _ := ledger.PHOf(n, r); p.By != nil {
				row.CorrectedPH = &p.Value
			}
			list = append(list, row)
			t.Rows = append(t.Rows, []string{r.Name, wording.DateText(r.At), wording.ReadingLine(n, r, u)})
		}
	}
	return document.ListView(list, "There is no reading yet. Log one: hedgerow reading add BATCH --sg 1.012", t)
}

// AdditionList lists the additions, of one batch if b is given, one sentence
// each.
func AdditionList(n *trials.Notebook, b *trials.Batch, u quantity.Units) document.View {
	t := document.Table{Columns: []document.Column{{Title: "addition"}, {Title: "what went in", Wrap: true}}}
	var list []trials.Addition
	for _, a := range n.Additions {
		if b == nil || a.BatchID == b.ID {
			list = append(list, a)
			t.Rows = append(t.Rows, []string{a.Name, wording.AdditionSentence(n, a, u)})
		}
	}
	return document.ListView(list, "Nothing has been added yet: hedgerow addition add BATCH MATERIAL 40g --form cut "+
		"--as tea ...", t)
}

// ExtractList lists the extracts.
func ExtractList(n *trials.Notebook, u quantity.Units) document.View {
	t := document.Table{Columns: []document.Column{{Title: "extract", Wrap: true}, {Title: "made"},
		{Title: "what it is", Wrap: true}}}
	for _, x := range n.Extracts {
		t.Rows = append(t.Rows, []string{x.Name, wording.DateText(x.MadeAt), wording.ExtractSentence(x, u)})
	}
	return document.ListView(n.Extracts, "There is no extract yet: hedgerow extract new NAME MATERIAL 40g --form cut", t)
}

// TasterList lists the tasters with how much each has scored.
func TasterList(n *trials.Notebook) document.View {
	type taster struct {
		Name     string `json:"name"`
		Tastings int    `json:"tastings"`
		Scores   int    `json:"scores"`
	}
	t := document.Table{Columns: []document.Column{{Title: "taster"}, {Title: "tastings", Right: true},
		{Title: "scores", Right: true}}}
	var list []taster
	for _, p := range n.Tasters {
		seen := map[string]bool{}
		row := taster{Name: p.Name}
		for _, s := range n.Scores {
			if s.TasterID == p.ID {
				seen[s.TastingID] = true
				row.Scores++
			}
		}
		for _, d := range n.Dosings {
			if d.TasterID == p.ID && d.Noted() {
				seen[d.TastingID] = true
			}
		}
		row.Tastings = len(seen)
		list = append(list, row)
		t.Rows = append(t.Rows, []string{row.Name, fmt.Sprint(row.Tastings), fmt.Sprint(row.Scores)})
	}
	return document.ListView(list, "There is no taster yet; one is added with the first score.", t)
}

// SettingList lists settings with their values.
func SettingList(known []trials.Setting, settings map[string]string) document.View {
	type setting struct {
		Setting string `json:"setting"`
		Value   string `json:"value"`
		Origin  string `json:"origin"`
	}
	t := document.Table{Columns: []document.Column{{Title: "setting"}, {Title: "value"}, {Title: "set by"},
		{Title: "what it is", Wrap: true}}}
	var list []setting
	for _, s := range known {
		row := setting{s.Key, s.Default, "default"}
		if v := settings[s.Key]; v != "" {
			row.Value, row.Origin = v, "you"
		}
		list = append(list, row)
		t.Rows = append(t.Rows, []string{row.Setting, row.Value, row.Origin, s.What})
	}
	return document.ListView(list, "", t)
}

package report

import (
	"fmt"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// pouredRow is some of an extract poured into a batch, as --json prints it.
type pouredRow struct {
	Addition string  `json:"addition"`
	Batch    string  `json:"batch"`    // the beer
	VolumeL  float64 `json:"volume_l"` // litres at 20 C
	CarriedG float64 `json:"carried_g"`
	Share    float64 `json:"share"`
	Strength float64 `json:"strength"` // beside the extract as made
}

// pouredRows turns the pours into their printed form.
func pouredRows(j steeps.Jug) []pouredRow {
	rows := []pouredRow{}
	for _, p := range j.Pours {
		rows = append(rows, pouredRow{p.Addition.Name, p.Batch, p.VolumeL, p.Grams, p.Share, p.Strength})
	}
	return rows
}

// jugRow is a moment of an extract, as --json prints it.
type jugRow struct {
	At       time.Time `json:"at"`
	Kind     string    `json:"kind"`      // pass, top-up, droppers or pour
	Name     string    `json:"name"`      // "pass 1", "top-up", or the name of an addition or a tasting
	VolumeL  float64   `json:"volume_l"`  // that came out, went in or was poured
	CarriedG float64   `json:"carried_g"` // of the class that counts for the material
	SolidsG  float64   `json:"solids_g"`  // dissolved solids
	LeftL    float64   `json:"left_l"`    // in the jug afterwards
	LeftG    float64   `json:"left_g"`    // what that carries
	Strength float64   `json:"strength"`  // liquid of passes in what is left
}

// jugRows turns the history of an extract into its printed form.
func jugRows(s steeps.ExtractStory) []jugRow {
	class, rows := s.Yield.Class, []jugRow{}
	for _, l := range s.Jug.Lines {
		kind := map[steeps.JugKind]string{steeps.JugPass: "pass", steeps.JugTopUp: "top-up",
			steeps.JugDrops: "droppers", steeps.JugPour: "pour"}[l.Kind]
		rows = append(rows, jugRow{l.At.UTC(), kind, l.Name, l.VolumeL, l.Grams[class], l.SolidsG, l.LeftL, l.LeftG[class],
			l.Rest})
	}
	return rows
}

// jugSection is the history of an extract, line by line: what came in, what was
// poured, and what was left after it.
func jugSection(s steeps.ExtractStory, u quantity.Units) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "when"}, {Title: "what", Wrap: true},
		{Title: "liquid", Right: true}, {Title: "g", Right: true}, {Title: "left", Right: true},
		{Title: "g left", Right: true}, {Title: "strength", Right: true}}}
	for _, r := range jugRows(s) {
		what, grams := r.Name, document.Significant(r.CarriedG, 3)
		switch r.Kind {
		case "pour":
			what = "poured: " + r.Name
		case "droppers":
			what = "droppers: " + r.Name
		case "top-up":
			grams = "-" // water carries nothing
		}
		// local time here, UTC in JSON: people look at their clock, programs compare
		t.Rows = append(t.Rows, []string{r.At.Local().Format("2006-01-02 15:04"), what,
			wording.VolumeText(r.VolumeL, u), grams, wording.VolumeText(r.LeftL, u),
			document.Significant(r.LeftG, 3), "x " + document.Fixed(r.Strength, 2)})
	}
	return document.Section{Heading: "What became of it", Table: &t, Notes: []string{leftInJug(s, u),
		"g: fully extracted dried material, " + trials.ClassNames[s.Yield.Class] + " class; a pour takes its share of " +
			"what there was at its time",
		"strength: of what is left, beside the extract as made, before topping up"}}
}

// leftInJug says what is left of an extract and how strong it is.
func leftInJug(s steeps.ExtractStory, u quantity.Units) string {
	added := 0.0
	for _, t := range s.Extract.TopUps {
		added += t.VolumeL
	}
	text := JugWords(s.Extract.Name, s.Jug, u)
	// an extract that was never topped up is as strong as it was made: no word is due
	if added > 0 {
		text += fmt.Sprintf("; topped up with %s of water, so that it is %s as strong as it was made",
			wording.VolumeText(added, u), document.Percent(s.Jug.Strength()))
	}
	return text
}

// JugWords says in one clause what is left of an extract.
func JugWords(name string, j steeps.Jug, u quantity.Units) string {
	if j.LeftL <= 0 {
		return "nothing is left of " + name
	}
	return wording.VolumeText(j.LeftL, u) + " of " + name + " is left"
}

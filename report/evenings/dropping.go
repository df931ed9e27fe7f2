package evenings

import (
	"fmt"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// dropperRow is a dropper as --json prints it; what is in it is null while it is sealed.
type dropperRow struct {
	Code     string   `json:"code"`     // three digits
	Strength *int     `json:"strength"` // 2 for the stronger, 1 for the weaker
	Extract  *float64 `json:"extract_share"`
}

// droppedRow is a glass as --json prints it; the doses are null while it is sealed.
type droppedRow struct {
	Taster    string   `json:"taster"`
	Number    int      `json:"number"`    // of the glass of that taster
	Dropper   *string  `json:"dropper"`   // its code; null while only its place is known
	Direction string   `json:"direction"` // up or down
	Right     *int     `json:"right_step"`
	Past      *int     `json:"past_step"`
	Stopped   *int     `json:"stopped_at"`
	RightDose *float64 `json:"right_g_per_l"`
	PastDose  *float64 `json:"past_g_per_l"`
	last      *int     // step that was tasted, as far as it was noted
}

// Dropping shows an evening of dosing to taste: while it is sealed who has noted which
// glass, afterwards what was in the droppers and the doses of the notes. Key shows the
// droppers of a sealed one.
func Dropping(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, key bool, remarks ...string) (document.View,
	error) {
	reveal := key && !t.CupsUnread() || !t.Sealed()
	base, _ := n.BatchByID(s.BatchID)
	x, _ := n.ExtractByID(s.ExtractID)
	droppers, table := []dropperRow{}, document.Table{Columns: []document.Column{{Title: "dropper"}, {Title: "in it",
		Wrap: true}}}
	for _, d := range n.DroppersOf(t.ID) {
		r, in := dropperRow{Code: d.Code}, "sealed"
		if reveal {
			share := s.InDropper(d.Strength)
			r.Strength, r.Extract, in = &d.Strength, &share, inDropper(s, x, d.Strength)
		}
		droppers = append(droppers, r)
		table.Rows = append(table.Rows, []string{d.Code, in})
	}
	rows, err := droppedRows(n, t, s, x)
	if err != nil {
		return document.View{}, err
	}
	seen := seenText(n, t)
	use := "the very extract that goes into the beer"
	if !s.Used {
		use = "an extract made for the evening"
	}
	about := []string{fmt.Sprintf("%s, %s; %s dosed to taste with %s, %s, for %s.", wording.DateText(t.At),
		tastingState(t), base.Name, x.Name, use, t.Attributes[0])}
	took := tookOf(n, t, s)
	if took != nil {
		about = append(about, fmt.Sprintf("By the notes the glasses took %s mL of %s, and the droppers %s mL of %s.",
			document.Fixed(took.BeerML, 0), base.Name, document.Fixed(took.ExtractML, 0), x.Name))
	}
	sections := []document.Section{{Paragraphs: append(about, seen...), Table: &table},
		glassesSection(t, rows)}
	return document.View{Figures: true,
		Document: document.Document{Title: "Tasting " + t.Name + ", dosed to taste", Sections: sections},
		Payload: struct {
			Tasting    string       `json:"tasting"`
			Batch      string       `json:"batch"`
			Extract    string       `json:"extract"`
			Used       bool         `json:"used"`
			Attributes []string     `json:"attributes"`
			StepFactor float64      `json:"step_factor"`
			Sealed     bool         `json:"sealed"`
			Peeked     bool         `json:"key_looked_at"`
			Droppers   []dropperRow `json:"droppers"`
			Glasses    []droppedRow `json:"glasses"`
			Took       *tookView    `json:"took"` // null while it is sealed
			Seed       *int64       `json:"seed"`
			Warnings   []string     `json:"warnings"`
		}{t.Name, base.Name, x.Name, s.Used, t.Attributes, s.StepFactor, t.Sealed(), t.PeekedAt != nil, droppers, rows, took,
			openSeed(t), append(append([]string{}, seen...), remarks...)}}, nil
}

// tookView is what an evening took, as --json prints it.
type tookView struct {
	BeerML    float64 `json:"beer_ml"`    // in the glasses that were noted
	ExtractML float64 `json:"extract_ml"` // in both droppers
}

// tookOf is what an evening took, nil while it is sealed.
func tookOf(n *trials.Notebook, t trials.Tasting, s trials.ToTaste) *tookView {
	if t.Sealed() {
		return nil
	}
	return &tookView{1000 * s.BeerOf(n.DosingsOf(t.ID)), 1000 * s.FillingOf(n.Glasses(t.ID)).ExtractL}
}

// inDropper says what is in a dropper: 1 part extract, 3 parts water.
func inDropper(s trials.ToTaste, x trials.Extract, strength int) string {
	thin := "water"
	if x.SpiritPct != nil {
		thin = document.Significant(*x.SpiritPct, 2) + " % spirit"
	}
	parts := 1 / s.InDropper(strength)
	if parts <= 1 {
		return x.Name + " as it is"
	}
	return fmt.Sprintf("1 part %s, %s of %s", x.Name, document.Count(int(parts+0.5)-1, "part"), thin)
}

// droppedRows lists the glasses of an evening, with their doses once nothing is sealed.
func droppedRows(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, x trials.Extract) ([]droppedRow, error) {
	rows := []droppedRow{}
	class, err := ledger.ClassFor(n, x.MaterialKey, t.Attributes[0])
	if err != nil {
		return nil, err
	}
	droppers := map[string]trials.Dropper{}
	for _, d := range n.DroppersOf(t.ID) {
		droppers[d.ID] = d
	}
	for _, d := range n.DosingsOf(t.ID) {
		r := droppedRow{Taster: n.TasterName(d.TasterID), Number: d.Number, Direction: d.Direction, Right: d.Right,
			Past: d.Past, Stopped: d.Stopped, last: d.LastStep()}
		dropper := droppers[d.DropperID]
		if !t.CupsUnread() {
			r.Dropper = &dropper.Code
		}
		// sealed, a dose would tell the strength of the dropper
		if d.Noted() && !t.Sealed() {
			doses, err := ledger.TasteDoses(n, ledger.TasteGlass{Evening: s, At: t.At, Strength: dropper.Strength,
				Direction: d.Direction}, class)
			if err != nil {
				return nil, err
			}
			r.RightDose, r.PastDose = doseAt(doses, d.Right), doseAt(doses, d.Past)
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// doseAt is the dose of a step, nil for one that was not noted.
func doseAt(doses []float64, step *int) *float64 {
	if step == nil {
		return nil
	}
	return &doses[*step-1]
}

// glassesSection is the table of the glasses.
func glassesSection(t trials.Tasting, rows []droppedRow) document.Section {
	table := document.Table{Columns: []document.Column{{Title: "taster"}, {Title: "glass"}, {Title: "dropper"}}}
	if t.Sealed() {
		table.Columns = append(table.Columns, document.Column{Title: "noted"})
	} else {
		table.Columns = append(table.Columns, document.Column{Title: "right at\nstep", Right: true},
			document.Column{Title: "past it\nat step", Right: true}, document.Column{Title: "last\nstep", Right: true},
			document.Column{Title: "right at\ng/L", Right: true},
			document.Column{Title: "past it\nat g/L", Right: true})
	}
	nothing := 0
	for _, r := range rows {
		dropper := "-"
		if r.Dropper != nil {
			dropper = *r.Dropper
		}
		row := []string{r.Taster, r.Direction, dropper}
		if t.Sealed() {
			noted := "not yet"
			if r.last != nil {
				noted = "yes"
			}
			table.Rows = append(table.Rows, append(row, noted))
			continue
		}
		table.Rows = append(table.Rows, append(row, stepText(r.Right), stepText(r.Past), stepText(r.last),
			document.SignificantOrDash(r.RightDose, 2), document.SignificantOrDash(r.PastDose, 2)))
		if r.Right == nil && r.Past == nil && r.Stopped != nil {
			nothing++
		}
	}
	sec := document.Section{Heading: "Glasses", Table: &table}
	if !t.Sealed() {
		sec.Notes = []string{"past it: too much, in a glass that went down too little; doses are effective g/L"}
		if nothing > 0 {
			sec.Notes = append(sec.Notes, document.Count(nothing, "glass")+" stopped before the dose was right or past it, "+
				"which says nothing of the right dose")
		}
	}
	return sec
}

// stepText prints a step, a dash for none.
func stepText(step *int) string {
	if step == nil {
		return "-"
	}
	return fmt.Sprint(*step)
}

// DropperKey is for whoever fills the droppers and does not taste: what goes into each.
func DropperKey(n *trials.Notebook, t trials.Tasting, s trials.ToTaste) document.View {
	x, _ := n.ExtractByID(s.ExtractID)
	base, _ := n.BatchByID(s.BatchID)
	f := s.FillingOf(n.Glasses(t.ID))
	type keyRow struct {
		Code     string  `json:"code"`
		Strength int     `json:"strength"`
		FillML   float64 `json:"fill_ml"`
	}
	keys, table := []keyRow{}, document.Table{Columns: []document.Column{{Title: "code"}, {Title: "fill it with",
		Wrap: true},
		{Title: "at least\nmL", Right: true}}}
	for _, d := range n.DroppersOf(t.ID) {
		keys = append(keys, keyRow{d.Code, d.Strength, 1000 * f.DropperL[d.Strength]})
		table.Rows = append(table.Rows, []string{d.Code, inDropper(s, x, d.Strength), mL(f.DropperL[d.Strength])})
	}
	return document.View{
		Document: document.Document{Title: "Droppers of " + t.Name + ", " + wording.DateText(t.At),
			Sections: []document.Section{{Heading: "Key: for whoever fills the droppers", Table: &table,
				Paragraphs: []string{fmt.Sprintf("Out of sight of the tasters fill two droppers that look alike, and mark them "+
					"with the codes. Put %s mL of %s into each glass; %s mL of beer are needed in all.", mL(s.GlassL), base.Name,
					mL(f.BeerL))},
				Notes: []string{"no taster sees this page before hedgerow tasting close " + t.Name}}}},
		Payload: struct {
			Tasting  string   `json:"tasting"`
			Key      []keyRow `json:"key"`
			BeerML   float64  `json:"beer_ml"`
			Warnings []string `json:"warnings"`
		}{t.Name, keys, 1000 * f.BeerL, []string{}}}
}

// AloneDroppers tells how one person fills, shuffles and uses two droppers without knowing
// which is which. The codes are no secret: what is not known is where they stand.
func AloneDroppers(n *trials.Notebook, t trials.Tasting, s trials.ToTaste) document.View {
	key := DropperKey(n, t, s)
	sec := key.Document.Sections[0]
	sec.Heading, sec.Notes = "Fill two droppers", nil
	sec.Paragraphs = []string{fmt.Sprintf("They look alike; write the code where you do not see it while you drop. %s "+
		"mL of beer go into each glass.", mL(s.GlassL))}
	steps := document.Section{Heading: "Shuffle and taste"}
	for i, text := range []string{
		"Move the droppers with closed eyes until you have lost both of them, and set them in a row: place 1 is on the left.",
		"The glass that goes up gets the dropper at place 1, the one that goes down that at place 2, as on the sheet below.",
		"Note the steps: hedgerow tasting score " + t.Name + " --taster \"" + tasterOf(n, t) + "\"",
		"Read the codes and say which stood where: hedgerow tasting places " + t.Name + " 1=.. 2=..",
	} {
		steps.Paragraphs = append(steps.Paragraphs, fmt.Sprintf("%d. %s", i+1, text))
	}
	d := document.Document{Title: "Dosing to taste alone: " + t.Name, Sections: []document.Section{sec, steps}}
	sheets, err := DropperSheetsOf(n, t, s, "")
	// an evening without a glass has nothing to draw
	if err == nil {
		d.Sections = append(d.Sections, sheets.View().Document.Sections...)
	}
	return document.View{Document: d, Payload: key.Payload}
}

// tasterOf is the name of who tastes alone.
func tasterOf(n *trials.Notebook, t trials.Tasting) string {
	for _, d := range n.DosingsOf(t.ID) {
		return n.TasterName(d.TasterID)
	}
	return ".."
}

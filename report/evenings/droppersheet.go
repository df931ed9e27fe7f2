package evenings

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
)

// DropperSheets are the sheets of an evening of dosing to taste, one for each taster.
// Nothing in them tells what is in a dropper.
type DropperSheets struct {
	Tasting   string            `json:"tasting"`   // empty for one that was not recorded
	Date      string            `json:"date"`      // day of the evening; empty for one that was not recorded
	Attribute string            `json:"attribute"` // what it is to be right of
	Sheets    []dropperSheet    `json:"sheets"`    // one a taster
	Warnings  []string          `json:"warnings"`  // remarks, one sentence each
	steps     map[string]stepOf // by direction
	evening   trials.ToTaste
}

// dropperSheet is the sheet of one taster.
type dropperSheet struct {
	Taster  string         `json:"taster"` // empty: to be written in by hand
	Glasses []dropperGlass `json:"glasses"`
}

// dropperGlass is one glass on a sheet.
type dropperGlass struct {
	Number    int    `json:"number"`    // from 1
	Dropper   string `json:"dropper"`   // its code, or its place; empty for one that is not drawn yet
	Direction string `json:"direction"` // up or down
}

// stepOf is what goes in at each step of a glass, and in all.
type stepOf struct{ in, total []float64 }

// stepsIn lists what goes into a glass at each step, litres.
func stepsIn(s trials.ToTaste, direction string) stepOf {
	var out stepOf
	if direction == trials.DirectionDown {
		for k := range s.DownSteps {
			out.in = append(out.in, s.FillL)
			out.total = append(out.total, float64(k)*s.FillL)
		}
		return out
	}
	sum := 0.0
	for _, l := range s.UpL {
		sum += l
		out.in, out.total = append(out.in, l), append(out.total, trials.Tidy(sum))
	}
	return out
}

// DropperSheetsOf makes the sheets of all tasters, or of the one asked for.
func DropperSheetsOf(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, taster string) (DropperSheets, error) {
	out := blankDroppers(s, strings.Join(t.Attributes, ", "))
	out.Tasting, out.Date = t.Name, wording.DateText(t.At)
	codes := map[string]string{}
	for i, d := range n.DroppersOf(t.ID) {
		codes[d.ID] = d.Code
		if t.CupsUnread() {
			codes[d.ID] = fmt.Sprintf("at place %d", i+1)
		}
	}
	for _, d := range n.DosingsOf(t.ID) {
		name := n.TasterName(d.TasterID)
		if taster != "" && !strings.EqualFold(taster, name) {
			continue
		}
		if k := len(out.Sheets); k == 0 || out.Sheets[k-1].Taster != name {
			out.Sheets = append(out.Sheets, dropperSheet{Taster: name})
		}
		last := &out.Sheets[len(out.Sheets)-1]
		last.Glasses = append(last.Glasses, dropperGlass{d.Number, codes[d.DropperID], d.Direction})
	}
	if len(out.Sheets) == 0 {
		return out, &trials.Problem{Code: trials.NotFound,
			Message: fmt.Sprintf("taster %q has no glass in tasting %s", taster, t.Name),
			Hint:    fmt.Sprintf("hedgerow tasting join %s %q", t.Name, taster)}
	}
	return out, nil
}

// BlankDroppers are sheets for so many tasters of an evening that is not recorded.
func BlankDroppers(s trials.ToTaste, attribute string, tasters int) DropperSheets {
	out := blankDroppers(s, attribute)
	for range tasters {
		out.Sheets = append(out.Sheets, dropperSheet{Glasses: []dropperGlass{{1, "", trials.DirectionUp},
			{2, "", trials.DirectionDown}}})
	}
	return out
}

// blankDroppers is an evening without sheets.
func blankDroppers(s trials.ToTaste, attribute string) DropperSheets {
	return DropperSheets{Attribute: attribute, Sheets: []dropperSheet{}, Warnings: []string{}, evening: s,
		steps: map[string]stepOf{trials.DirectionUp: stepsIn(s, trials.DirectionUp),
			trials.DirectionDown: stepsIn(s, trials.DirectionDown)}}
}

// View draws the sheets.
func (s DropperSheets) View() document.View {
	title := "Dosing to taste"
	if s.Tasting != "" {
		title += ": " + s.Tasting + ", " + s.Date
	}
	about := "the taste"
	if s.Attribute != "" {
		about = s.Attribute
	}
	d := document.Document{Title: title, Sections: []document.Section{{Paragraphs: []string{
		fmt.Sprintf("Go step by step: put in what stands there, turn the glass, take a small sip (%s mL), and think of "+
			"%s. Mark the first step at which it is just right, and go on to the first at which it is too much (in the glass "+
			"that goes down: too little). Water and bread between the glasses; do not talk before all sheets are in.",
			mL(s.evening.SipL), about)}}}}
	for i, sheet := range s.Sheets {
		for k, g := range sheet.Glasses {
			sec := s.glassSection(g)
			if name := sheet.Taster; name != "" {
				sec.Heading = name + ", " + sec.Heading
			} else {
				sec.Heading = "Taster: " + writeHere[:16] + ", " + sec.Heading
			}
			sec.NewPage = k == 0 && i > 0
			d.Sections = append(d.Sections, sec)
		}
	}
	return document.View{Document: d, Payload: s}
}

// glassSection is one glass with a row for each step.
func (s DropperSheets) glassSection(g dropperGlass) document.Section {
	dropper := g.Dropper
	if dropper == "" {
		dropper = ".........."
	}
	sec := document.Section{Heading: fmt.Sprintf("glass %d, dropper %s, %s", g.Number, dropper, g.Direction)}
	sec.Paragraphs = []string{fmt.Sprintf("%s mL of beer; drop by drop.", mL(s.evening.GlassL))}
	t := &document.Table{Columns: []document.Column{{Title: "step", Right: true}, {Title: "put in\nmL", Right: true},
		{Title: "in all\nmL", Right: true}, {Title: "just right"}, {Title: trials.PastWord(g.Direction)}}}
	if g.Direction == trials.DirectionDown {
		sec.Paragraphs = []string{fmt.Sprintf("%s mL of beer and %s mL from the dropper: that is step 1. From step 2 on "+
			"drink or pour away %s mL, and fill up with as much beer.", mL(s.evening.GlassL), mL(s.evening.DownL),
			mL(s.evening.FillL))}
		t.Columns[1].Title, t.Columns[2].Title = "beer in\nmL", "in all\nmL"
	}
	in, total := wording.SyringeML(s.steps[g.Direction].in...), wording.SyringeML(s.steps[g.Direction].total...)
	for i := range in {
		if g.Direction == trials.DirectionDown && i == 0 {
			in[i] = "-"
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), in[i], total[i], "( )", "( )"})
	}
	sec.Table = t
	sec.Notes = []string{"stopped at step ....."}
	return sec
}

// mL prints one amount in millilitres.
func mL(l float64) string { return wording.SyringeML(l)[0] }

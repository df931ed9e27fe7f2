package evenings

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
)

// ScoreSheets are the score sheets of a tasting, one for each taster. Nothing
// in them tells what is behind a code.
type ScoreSheets struct {
	Tasting    string       `json:"tasting"`
	Date       string       `json:"date"`       // day of the evening
	Attributes []string     `json:"attributes"` // what is scored
	Sheets     []scoreSheet `json:"sheets"`     // one a taster
	Warnings   []string     `json:"warnings"`   // remarks, one sentence each
}

// scoreSheet is the sheet of one taster.
type scoreSheet struct {
	Taster  string         `json:"taster"`  // empty: to be written in by hand
	Flights [][]sheetGlass `json:"flights"` // glasses before each pause
}

// sheetGlass is one glass on a sheet.
type sheetGlass struct {
	Position int    `json:"position"` // place in the order, from 1
	Code     string `json:"code"`     // three digits, the same for all tasters
}

// ScoreSheetsOf makes the sheets for everybody who has an order, or for the one
// taster asked for. Where nobody has an order it is one sheet without a name,
// its glasses in the order of their codes.
func ScoreSheetsOf(n *trials.Notebook, t trials.Tasting, taster string) (ScoreSheets, error) {
	s := ScoreSheets{Tasting: t.Name, Date: wording.DateText(t.At), Attributes: t.Attributes, Warnings: []string{}}
	expected := n.Expected(t.ID)
	for _, p := range expected {
		if taster == "" || strings.EqualFold(taster, p.Name) {
			s.Sheets = append(s.Sheets, scoreSheet{p.Name, sheetFlights(t, n.OrderOf(t.ID, p.ID))})
		}
	}
	switch {
	case len(s.Sheets) > 0:
	case taster != "" && len(expected) > 0:
		return s, &trials.Problem{Code: trials.NotFound,
			Message: fmt.Sprintf("taster %q has no order in tasting %s", taster, t.Name),
			Hint:    fmt.Sprintf("hedgerow tasting join %s %q", t.Name, taster)}
	default:
		s.Sheets = []scoreSheet{{taster, sheetFlights(t, n.ServingsOf(t.ID))}}
		s.Warnings = append(s.Warnings, "nobody has a serving order, so all would drink in the order of the codes: "+
			"hedgerow tasting join "+t.Name+" A B C")
	}
	return s, nil
}

// sheetFlights parts an order into the flights of a sheet.
func sheetFlights(t trials.Tasting, order []trials.Serving) [][]sheetGlass {
	var glasses []sheetGlass
	for i, s := range order {
		glasses = append(glasses, sheetGlass{i + 1, s.Code})
	}
	return inFlights(t, glasses)
}

// The scales as a terminal draws them, a dash for each point, so that the boxes
// have room for their words in 80 columns.
const (
	intensityLine = "0 |----+----| 10"
	voteBoxes     = "too little / just right / too much"
	likingScale   = "1 2 3 4 5 6 7 8 9"
	writeHere     = "...................................."
)

// sheetHelp tells a taster what to do.
const sheetHelp = "Drink from the top. Mark how strong each taste is on the line from 0 (none) to 10 (very strong), " +
	"then say whether there is too little of it, just right or too much for you. " +
	"Liking: 1 dislike extremely, 5 neither, 9 like extremely. Rinse with water between glasses; do not talk about " +
	"them before all sheets are in."

// View draws the sheets.
func (s ScoreSheets) View() document.View {
	d := document.Document{Title: "Tasting " + s.Tasting + ", " + s.Date,
		Sections: []document.Section{{Paragraphs: []string{sheetHelp}}}}
	for _, sheet := range s.Sheets {
		for f, flight := range sheet.Flights {
			d.Sections = append(d.Sections, document.Section{Heading: sheetHeading(sheet, f), Table: s.sheetTable(flight)})
		}
	}
	last := &d.Sections[len(d.Sections)-1]
	last.Notes = append(last.Notes, s.Warnings...)
	return document.View{Document: d, Payload: s}
}

// sheetHeading names the taster, and the flight where there are several.
func sheetHeading(s scoreSheet, flight int) string {
	text := s.Taster
	if text == "" {
		text = "Taster: " + writeHere
	}
	if len(s.Flights) == 1 {
		return text
	}
	if flight > 0 {
		return fmt.Sprintf("%s, flight %d, after a pause of 15 minutes", text, flight+1)
	}
	return fmt.Sprintf("%s, flight %d", text, flight+1)
}

// sheetTable is the table of one flight: a row for each answer.
func (s ScoreSheets) sheetTable(flight []sheetGlass) *document.Table {
	t := &document.Table{Columns: []document.Column{{Title: "glass", Right: true}, {Title: "code"}, {Title: ""},
		{Title: "how strong"}, {Title: "how much of it"}}}
	for _, g := range flight {
		first := []string{fmt.Sprint(g.Position), g.Code}
		for _, a := range s.Attributes {
			t.Rows = append(t.Rows, append(first, a, intensityLine, voteBoxes))
			// number and code once a glass: repeated, they would look like more glasses
			first = []string{"", ""}
		}
		t.Rows = append(t.Rows, []string{"", "", "liking", likingScale, ""},
			[]string{"", "", "notes", writeHere[:len(likingScale)], writeHere[:len(voteBoxes)]}, []string{"", "", "", "", ""})
	}
	// the last glass needs no gap below it
	t.Rows = t.Rows[:len(t.Rows)-1]
	return t
}

package evenings

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
)

// pourSheet is for whoever pours and does not score: how to pour, in which order
// for whom, and the key, which goes on a page of its own.
type pourSheet struct {
	Tasting  string     `json:"tasting"`
	Date     string     `json:"date"`     // day of the evening
	Steps    []string   `json:"steps"`    // in order
	Orders   []orderRow `json:"orders"`   // of the tasters
	Key      []keyRow   `json:"key"`      // what is behind each code
	Warnings []string   `json:"warnings"` // remarks, one sentence each

	orders document.Section
}

// keyRow is what is behind one code.
type keyRow struct {
	Code   string `json:"code"`  // three digits, the same for all tasters
	Batch  string `json:"batch"` // the beer
	Repeat bool   `json:"repeat"`
}

// PourSheetOf makes the pour sheet of a tasting. It holds the key.
func PourSheetOf(n *trials.Notebook, t trials.Tasting) pourSheet {
	servings := n.ServingsOf(t.ID)
	s := pourSheet{Tasting: t.Name, Date: wording.DateText(t.At), Orders: orderRows(n, t), Warnings: []string{}}
	s.orders = orderSection(t, s.Orders)
	for _, v := range servings {
		b, _ := n.BatchByID(v.BatchID)
		s.Key = append(s.Key, keyRow{v.Code, b.Name, v.Repeat})
	}
	s.Steps = pourSteps(len(servings), len(s.Orders))
	return s
}

// pourSteps are the steps of pouring blind (common practice, no source).
func pourSteps(glasses, tasters int) []string {
	if tasters == 0 {
		// nobody is named yet: the steps are right for one, and more glasses are easily marked
		tasters = 1
	}
	return []string{
		fmt.Sprintf("Out of sight of the tasters, mark %s with the codes: each of the %d codes once for each taster.",
			document.Count(glasses*tasters, "glass"), glasses),
		"Bring all beers to the same temperature and pour 30 to 50 mL of each, to the same height, from bottles " +
			"opened at the same time.",
		"Pour everybody a warm-up glass of the plain beer first; it is not scored, since the first glass of an " +
			"evening tends to be judged high.",
		"Set the glasses of each taster in the order given, first on the left. Put out water and plain bread; leave " +
			"a minute or two between glasses.",
		"Keep the key to yourself until all sheets are in, then enter them and close the tasting. Whoever has seen " +
			"the key does not score.",
	}
}

// beer names what is behind a code.
func (k keyRow) beer() string {
	if k.Repeat {
		return k.Batch + " (repeat)"
	}
	return k.Batch
}

// View draws the sheet, the key last.
func (s pourSheet) View() document.View {
	steps := document.Section{Heading: "How to pour"}
	for i, text := range s.Steps {
		steps.Paragraphs = append(steps.Paragraphs, fmt.Sprintf("%d. %s", i+1, text))
	}
	d := document.Document{Title: "Pour sheet of " + s.Tasting + ", " + s.Date, Sections: []document.Section{steps}}
	if len(s.Orders) > 0 {
		d.Sections = append(d.Sections, s.orders)
	}
	key := document.Table{Columns: []document.Column{{Title: "code"}, {Title: "beer", Wrap: true}}}
	for _, k := range s.Key {
		key.Rows = append(key.Rows, []string{k.Code, k.beer()})
	}
	d.Sections = append(d.Sections, document.Section{Heading: "Key: for whoever pours", Table: &key, NewPage: true,
		Notes: []string{"no taster sees this page before " + strings.TrimSpace("hedgerow tasting close "+s.Tasting)}})
	return document.View{Document: d, Payload: s}
}

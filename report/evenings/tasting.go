package evenings

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
)

// servingRow is a serving as --json prints it. The batch is null while the
// tasting is sealed.
type servingRow struct {
	Code    string   `json:"code"`  // three digits, the same for all tasters
	Batch   *string  `json:"batch"` // the beer
	Repeat  *bool    `json:"repeat"`
	Tasters []string `json:"scored_by"` // how many took part
}

// scoreRow is a score as --json prints it, once nothing is sealed.
type scoreRow struct {
	Code      string    `json:"code"`      // three digits, the same for all tasters
	Batch     string    `json:"batch"`     // the beer
	Taster    string    `json:"taster"`    // name of the taster
	Attribute string    `json:"attribute"` // what was scored, in the words of the tasting
	Intensity *float64  `json:"intensity"` // 0 to 10
	Vote      *string   `json:"vote"`      // -1 too little, 0 just right, 1 too much
	Liking    *float64  `json:"liking"`    // 1 to 9
	Position  *int      `json:"position"`  // place in the order, from 1
	At        time.Time `json:"at"`        // when it happened
}

// noteRow is a taster's note as --json prints it.
type noteRow struct {
	Code   string `json:"code"`   // three digits, the same for all tasters
	Taster string `json:"taster"` // name of the taster
	Text   string `json:"text"`   // as it was written
}

// TastingList lists the tastings.
func TastingList(n *trials.Notebook) document.View {
	type row struct {
		Name       string    `json:"name"`
		At         time.Time `json:"at"`
		Servings   int       `json:"servings"`
		Attributes []string  `json:"attributes"`
		Blind      bool      `json:"blind"`
		Sealed     bool      `json:"sealed"`
	}
	t := document.Table{Columns: []document.Column{{Title: "tasting"}, {Title: "date"},
		{Title: "servings", Right: true}, {Title: "scores", Wrap: true}, {Title: "state", Wrap: true}}}
	var list []row
	for _, g := range n.Tastings {
		r := row{g.Name, g.At, len(n.ServingsOf(g.ID)), g.Attributes, g.Blind, g.Sealed()}
		list = append(list, r)
		servings := fmt.Sprint(r.Servings)
		if _, drops := n.ToTasteOf(g.ID); drops {
			servings = "to taste" // it has glasses of one beer, and no servings
		}
		t.Rows = append(t.Rows, []string{r.Name, wording.DateText(r.At), servings,
			strings.Join(r.Attributes, ", "), tastingState(g)})
	}
	return document.ListView(list, "There is no tasting yet: hedgerow tasting new NAME --serving BATCH --serving "+
		"BATCH --attribute floral", t)
}

// tastingState says how far a tasting is.
func tastingState(t trials.Tasting) string {
	switch {
	// told even while sealed: a key that was seen cannot be unseen
	case t.Sealed() && t.PeekedAt != nil:
		return "sealed, but the key was looked at"
	case t.CupsUnread():
		return "alone, by place; the codes are not read yet"
	case t.Sealed():
		return "sealed"
	case !t.Blind:
		return "not blind"
	case t.PeekedAt != nil:
		return "closed; the key was looked at before"
	case t.Alone:
		return "closed; blind by shuffling, done alone"
	}
	return "closed"
}

// seenText tells what the marks on a tasting say of who may have known the key.
func seenText(n *trials.Notebook, t trials.Tasting) []string {
	var text []string
	if count, _ := n.Marked(t.ID, trials.MarkScored); count > 0 {
		text = append(text, document.Count(count, "score")+" changed after the key was open.")
	}
	if _, last := n.Marked(t.ID, trials.MarkPoured); last != nil {
		text = append(text, "The pour sheet, with the key, was last printed on "+wording.DateText(*last)+".")
	}
	return text
}

// Tasting shows a tasting: while it is sealed only codes and who has scored,
// afterwards what was in the glasses and every score. Key shows the key of a
// sealed one. Remarks made on the way go into the JSON.
func Tasting(n *trials.Notebook, t trials.Tasting, key bool, remarks ...string) document.View {
	// by place a key would name the wrong beers
	reveal := key && !t.CupsUnread() || !t.Sealed()
	servings := servingRows(n, t, reveal)
	first := document.Table{Columns: []document.Column{{Title: "code"}, {Title: "beer", Wrap: true},
		{Title: "scored by", Wrap: true}}}
	for _, s := range servings {
		beer := "sealed"
		if s.Batch != nil {
			beer = *s.Batch
			if *s.Repeat {
				beer += " (repeat)"
			}
		}
		first.Rows = append(first.Rows, []string{s.Code, beer, strings.Join(s.Tasters, ", ")})
	}
	seen := seenText(n, t)
	sections := []document.Section{{Paragraphs: append([]string{wording.DateText(t.At) + ", " + tastingState(t) +
		"; scored: " + strings.Join(t.Attributes, ", ") + ", liking."}, seen...), Table: &first}}
	orders := orderRows(n, t)
	if len(orders) > 0 {
		sections = append(sections, orderSection(t, orders))
	}
	scores, notes := []scoreRow{}, []noteRow{}
	// key or not: scores beside beers would let one guess what is still to be scored
	if !t.Sealed() {
		scores, notes = scoreRows(n, t), noteRows(n, t)
		if votes := votesSection(t, scores); votes != nil {
			sections = append(sections, *votes)
		}
		if len(scores)+len(notes) > 0 {
			sections = append(sections, scoreSection(n, t, scores, notes))
		}
	}
	return document.View{
		Figures:  true,
		Document: document.Document{Title: "Tasting " + t.Name, Sections: sections},
		Payload: struct {
			Tasting    string       `json:"tasting"`
			At         time.Time    `json:"at"`
			Attributes []string     `json:"attributes"`
			Blind      bool         `json:"blind"`
			Sealed     bool         `json:"sealed"`
			Peeked     bool         `json:"key_looked_at"`
			Servings   []servingRow `json:"servings"`
			Orders     []orderRow   `json:"orders"`
			FlightSize int          `json:"flight_size"`
			Seed       *int64       `json:"seed"`
			Scores     []scoreRow   `json:"scores"`
			Notes      []noteRow    `json:"notes"`
			Warnings   []string     `json:"warnings"`
		}{t.Name, t.At, t.Attributes, t.Blind, t.Sealed(), t.PeekedAt != nil, servings, orders, t.FlightSize,
			openSeed(t), scores, notes, append(append([]string{}, seen...), remarks...)},
	}
}

// openSeed is the seed of a tasting that is no longer sealed: with it and the
// servings anybody could work out the codes.
func openSeed(t trials.Tasting) *int64 {
	if t.Sealed() {
		return nil
	}
	return &t.Seed
}

// servingRows lists the servings in the order of their codes.
func servingRows(n *trials.Notebook, t trials.Tasting, reveal bool) []servingRow {
	rows := []servingRow{}
	for _, s := range n.ServingsOf(t.ID) {
		r := servingRow{Code: s.Code, Tasters: []string{}}
		if reveal {
			b, _ := n.BatchByID(s.BatchID)
			r.Batch, r.Repeat = &b.Name, &s.Repeat
		}
		for _, sc := range n.Scores {
			name := n.TasterName(sc.TasterID)
			if sc.ServingID == s.ID && !slices.Contains(r.Tasters, name) {
				r.Tasters = append(r.Tasters, name)
			}
		}
		// by name: the order of the records would tell who was first to finish
		slices.Sort(r.Tasters)
		rows = append(rows, r)
	}
	return rows
}

// scoreRows lists the scores of a tasting.
func scoreRows(n *trials.Notebook, t trials.Tasting) []scoreRow {
	rows := []scoreRow{}
	for _, s := range n.ServingsOf(t.ID) {
		b, _ := n.BatchByID(s.BatchID)
		for _, sc := range n.Scores {
			if sc.ServingID != s.ID {
				continue
			}
			r := scoreRow{s.Code, b.Name, n.TasterName(sc.TasterID), wording.WordOf(sc.Attribute), sc.Intensity, nil,
				sc.Liking, sc.Position, sc.At}
			if sc.Vote != nil {
				r.Vote = &trials.VoteWords[*sc.Vote+1]
			}
			rows = append(rows, r)
		}
	}
	return rows
}

// noteRows lists the notes of a tasting.
func noteRows(n *trials.Notebook, t trials.Tasting) []noteRow {
	rows := []noteRow{}
	for _, s := range n.ServingsOf(t.ID) {
		for _, x := range n.TasterNotes {
			if x.ServingID == s.ID {
				rows = append(rows, noteRow{s.Code, n.TasterName(x.TasterID), x.Text})
			}
		}
	}
	return rows
}

// voteMarks stand for the votes in a table.
var voteMarks = map[string]string{"too little": "-", "just right": "=", "too much": "+"}

// scoreSection is the table of scores, a row for each glass and taster, and
// what the tasters wrote.
func scoreSection(n *trials.Notebook, t trials.Tasting, scores []scoreRow, notes []noteRow) document.Section {
	type glass struct{ batch, code, taster string }
	cells := map[glass]map[string]string{}
	var order []glass
	for _, s := range scores {
		g := glass{s.Batch, s.Code, s.Taster}
		if cells[g] == nil {
			cells[g] = map[string]string{}
			order = append(order, g)
		}
		text := ""
		if s.Intensity != nil {
			text = document.Fixed(*s.Intensity, 1)
		}
		if s.Liking != nil {
			text = document.Fixed(*s.Liking, 1)
		}
		if s.Vote != nil {
			text = strings.TrimSpace(text + " " + voteMarks[*s.Vote])
		}
		cells[g][s.Attribute] = text
	}
	slices.SortStableFunc(order, func(a, b glass) int {
		return strings.Compare(a.batch+"\x00"+a.code+"\x00"+a.taster, b.batch+"\x00"+b.code+"\x00"+b.taster)
	})
	table := document.Table{Columns: []document.Column{{Title: "beer", Wrap: true}, {Title: "code"}, {Title: "taster"}}}
	attributes := append(slices.Clone(t.Attributes), "liking")
	for _, a := range attributes {
		table.Columns = append(table.Columns, document.Column{Title: a, Right: true})
	}
	for _, g := range order {
		row := []string{g.batch, g.code, g.taster}
		for _, a := range attributes {
			text := cells[g][a]
			if text == "" {
				// a dot and not a dash, which stands for a vote of too little
				text = "."
			}
			row = append(row, text)
		}
		table.Rows = append(table.Rows, row)
	}
	remarks := []string{"- too little, = just right, + too much; a dot is not scored"}
	for _, x := range notes {
		remarks = append(remarks, x.Taster+" on "+x.Code+": "+x.Text)
	}
	return document.Section{Heading: "Scores", Table: &table, Notes: remarks}
}

package plans

import (
	"fmt"
	"time"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"
)

// glassResult are the doses of one kind of glass, as planned and with the extract as it was
// made.
type glassResult struct {
	Direction string    `json:"direction"` // up or down
	Strength  int       `json:"strength"`  // of the dropper: 2 for the stronger, 1 for the weaker
	Planned   []float64 `json:"planned_g_per_l"`
	Done      []float64 `json:"done_g_per_l"` // null where the evening or its extract is gone
}

// tasteResult shows what was done with an evening of dosing to taste: the extract as it was
// made, and what that did to the doses of the steps.
func tasteResult(n *trials.Notebook, p trials.Plan, u quantity.Units) (document.View, error) {
	list := []glassResult{}
	t := document.Table{Columns: []document.Column{{Title: "glass and dropper"}, {Title: "planned\ng/L", Right: true},
		{Title: "as done\ng/L", Right: true}}}
	for _, direction := range []string{trials.DirectionUp, trials.DirectionDown} {
		for strength := 2; strength >= 1; strength-- {
			r := glassResult{Direction: direction, Strength: strength,
				Planned: plannedDoses(p.Design.Taste, direction, strength)}
			var err error
			if r.Done, err = dosesDone(n, p, direction, strength); err != nil {
				return document.View{}, err
			}
			list = append(list, r)
			t.Rows = append(t.Rows, []string{direction + ", " + map[int]string{1: "the weaker", 2: "the stronger"}[strength],
				firstToLast(r.Planned), firstToLast(r.Done)})
		}
	}
	sec := document.Section{Table: &t, Notes: []string{"effective g/L at the first and at the last step"}}
	if p.DoneAt != nil {
		sec.Paragraphs = []string{"Done on " + wording.DateText(*p.DoneAt) + "."}
	}
	if text := extractDone(n, p, u); text != "" {
		sec.Paragraphs = append(sec.Paragraphs, text)
	}
	return document.View{Document: document.Document{Title: "Plan " + p.Name + ", as done",
		Sections: []document.Section{sec}}, Payload: struct {
		Plan     string        `json:"plan"`
		DoneAt   *time.Time    `json:"done_at"`
		Glasses  []glassResult `json:"glasses"`
		Warnings []string      `json:"warnings"`
	}{p.Name, p.DoneAt, list, []string{}}}, nil
}

// plannedDoses are the doses of one kind of glass as planned.
func plannedDoses(d *trials.TasteDesign, direction string, strength int) []float64 {
	steps := d.Up
	if direction == trials.DirectionDown {
		steps = d.Down
	}
	list := make([]float64, len(steps))
	for i, s := range steps {
		if list[i] = s.WeakerGPerL; strength == 2 {
			list[i] = s.StrongGPerL
		}
	}
	return list
}

// dosesDone are the doses of one kind of glass with the extract and the steps as they are
// logged now; nil where the evening was deleted.
func dosesDone(n *trials.Notebook, p trials.Plan, direction string, strength int) ([]float64, error) {
	if p.TastingID == nil {
		return nil, nil
	}
	s, ok := n.ToTasteOf(*p.TastingID)
	if !ok {
		return nil, nil
	}
	t, _ := n.TastingByID(s.TastingID)
	return ledger.TasteDoses(n, ledger.TasteGlass{Evening: s, At: t.At, Strength: strength, Direction: direction},
		p.Design.Class)
}

// firstToLast prints where doses begin and end.
func firstToLast(list []float64) string {
	if len(list) == 0 {
		return "-"
	}
	return document.Significant(list[0], 2) + " to " + document.Significant(list[len(list)-1], 2)
}

// extractDone says what the extract carries as it was made, beside what was planned; ""
// where it is gone.
func extractDone(n *trials.Notebook, p trials.Plan, u quantity.Units) string {
	if p.ExtractID == nil {
		return ""
	}
	x, ok := n.ExtractByID(*p.ExtractID)
	if !ok {
		return ""
	}
	text := "Extract " + x.Name + ": " + wording.ExtractSentence(x, u) + "."
	materials, err := n.Catalogue()
	if err != nil {
		return text
	}
	carries, _, err := planning.CarriesNow(n, materials, x, p.Design.Class)
	if err != nil {
		return text
	}
	return text + fmt.Sprintf(" It carries %s effective g/L; planned were %s.", document.Significant(carries, 3),
		document.Significant(p.Design.CarriesGPerL, 3))
}

package decisions

import (
	"fmt"
	"math"

	"hedgerow/report/document"
	"hedgerow/report/panel"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// positionRow tells whether the place in the flight moved the scores of one
// attribute, as --json prints it.
type positionRow struct {
	Attribute string          `json:"attribute"` // what was scored, in the words of the tasting
	Scores    int             `json:"scores"`
	P         *float64        `json:"p"` // null where it cannot be told; Reason says why
	Shifts    []positionShift `json:"shifts"`
	Reason    string          `json:"reason"`
}

// positionShift is how much higher a glass scores at a position than in the
// first.
type positionShift struct {
	Position int            `json:"position"` // place in the order, from 1
	N        int            `json:"n"`        // how many
	Shift    *figure.Stated `json:"shift"`    // null for the first position, and where the orders cannot tell
}

// positionEffects looks for the effect of the position in every attribute of
// which positions are known.
func positionEffects(n *trials.Notebook, s ledger.TrialSet, attributes []string) []positionRow {
	rows := []positionRow{}
	for _, a := range attributes {
		scores := placedScores(s, a)
		if len(scores) == 0 {
			continue
		}
		r := positionRow{Attribute: wording.WordOf(a), Scores: len(scores), Shifts: []positionShift{}}
		e, err := panel.PositionEffect(scores, comparisonLevel)
		if err != nil {
			// kept as a row: that the orders cannot tell is an answer too
			r.Reason = err.Error()
			rows = append(rows, r)
			continue
		}
		r.P = &e.Test.P
		for _, shift := range e.Shifts {
			p := positionShift{Position: shift.Position, N: shift.N}
			if shift.OK {
				v := figure.StatedBetween(shift.Shift, shift.Low, shift.High, comparisonLevel)
				p.Shift = &v
			}
			r.Shifts = append(r.Shifts, p)
		}
		rows = append(rows, r)
	}
	return rows
}

// placedScores collects the intensities (or likings) whose position is known. A
// taster of two evenings counts as two, since each evening has its own level.
func placedScores(s ledger.TrialSet, attribute string) []panel.PlacedScore {
	var scores []panel.PlacedScore
	for _, sc := range s.Scores {
		v := sc.Intensity
		if attribute == trials.Overall {
			v = sc.Liking
		}
		if sc.Attribute != attribute || v == nil || sc.Position == nil {
			continue
		}
		scores = append(scores, panel.PlacedScore{Score: panel.Score{Taster: sc.Taster + "/" + sc.TastingID,
			Trial: s.Trials[sc.Trial].Name(), Value: *v}, Position: *sc.Position})
	}
	return scores
}

// positionsSection is the table of position effects, nil where no position is
// known. It shows the largest shift of each attribute; --json has all of them.
func positionsSection(rows []positionRow) *document.Section {
	if len(rows) == 0 {
		return nil
	}
	t := document.Table{Columns: []document.Column{{Title: ""}, {Title: "scores", Right: true},
		{Title: "largest shift"}, {Title: "what it says", Wrap: true}}}
	for _, r := range rows {
		if r.P == nil {
			t.Rows = append(t.Rows, []string{r.Attribute, fmt.Sprint(r.Scores), "-", r.Reason})
			continue
		}
		t.Rows = append(t.Rows, []string{r.Attribute, fmt.Sprint(r.Scores), largestShift(r.Shifts), positionWords(r)})
	}
	return &document.Section{Heading: "Position in the flight", Table: &t,
		Notes: []string{"points beside the first glass, trials and tasters allowed for; with balanced orders the " +
			"means need no correction; --json has every position"}}
}

// largestShift prints the position whose scores lie farthest from the first.
func largestShift(shifts []positionShift) string {
	text, most := "-", -1.0
	for _, p := range shifts {
		if p.Shift != nil && math.Abs(p.Shift.Value) > most {
			most = math.Abs(p.Shift.Value)
			text = fmt.Sprintf("glass %d: %s", p.Position, document.Spread(*p.Shift, 1, 1))
		}
	}
	return text
}

// positionWords says in words whether the position mattered.
func positionWords(r positionRow) string {
	if *r.P < 1-comparisonLevel {
		return "the position moved the scores (p " + document.PText(*r.P) + "): a warm-up glass may have been missing"
	}
	return "no effect of the position shown (p " + document.PText(*r.P) + ")"
}

// positionWarning warns a suggestion of scores that moved with the position;
// empty where there is nothing to say.
func positionWarning(n *trials.Notebook, s ledger.TrialSet, attribute string) []string {
	for _, r := range positionEffects(n, s, []string{attribute}) {
		if r.P != nil && *r.P < 1-comparisonLevel {
			return []string{"order: " + positionWords(r) + "; hedgerow compare shows by how much"}
		}
	}
	return nil
}

package decisions

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// Without positions nothing is said; in a square of three the effect of positions
// that were added by hand is found: a point more for each place after the first
// takes the adjusted shifts up by one and two points beside those of the series.
func TestPositionEffects(t *testing.T) {
	n := invented.Series()
	attributes := []string{"tartness", "overall"}
	before := positionEffects(n, invented.SetOf(t, n), attributes)
	if len(before) != 0 || positionsSection(before) != nil {
		t.Fatalf("no positions are known, but %+v", before)
	}
	place := map[string]int{"club/double": 0, "club/plain": 1, "club/single": 2}
	position := func(serving, taster string) int { return (place[serving]+int(taster[1]-'0'))%3 + 1 }
	for i := range n.Scores {
		p := position(n.Scores[i].ServingID, n.Scores[i].TasterID)
		n.Scores[i].Position = &p
	}
	plain := positionEffects(n, invented.SetOf(t, n), attributes)
	for i := range n.Scores {
		if v := n.Scores[i].Intensity; v != nil {
			*v += float64(*n.Scores[i].Position - 1)
		}
	}
	moved := positionEffects(n, invented.SetOf(t, n), attributes)
	if len(plain) != 2 || len(moved) != 2 || moved[0].P == nil {
		t.Fatalf("%+v", moved)
	}
	for k, by := range []float64{1, 2} {
		invented.Near(t, "shift", moved[0].Shifts[k+1].Shift.Value, plain[0].Shifts[k+1].Shift.Value+by, 1e-9)
	}
	section := positionsSection(moved)
	if section == nil || !strings.Contains(drawing.AsText(t, document.Document{Sections: []document.Section{*section}},
		80), "glass 3: ") {
		t.Error("the effect is not shown")
	}
	if w := positionWarning(n, invented.SetOf(t, n), "tartness"); len(w) > 1 {
		t.Errorf("%q", w)
	}
}

// Each taster has a level of their own on each evening. Here everyone scores 3
// points higher on the second, on which a glass that was not scored came first:
// by hand, trial + evening + 0.1 for an uneven cell leaves nothing to the
// positions, but the later ones hold more of the second evening's scores.
func TestEveningsOfOneTasterStayApart(t *testing.T) {
	s := ledger.TrialSet{Trials: make([]ledger.Trial, 3)}
	for i, name := range []string{"x", "y", "z"} {
		s.Trials[i].Batch.Name = name
	}
	for k, taster := range []string{"A", "B", "C"} {
		for evening, orders := range [][]int{{0, 1, 2}, {2, 0, 1}} {
			for place := range orders {
				trial := orders[(place+k)%3]
				v := 2*float64(trial) + 3*float64(evening) + 0.1*float64((trial*trial+k*place+2*evening)%3)
				position := place + 1 + evening
				s.Scores = append(s.Scores, ledger.Scored{Trial: trial, Taster: taster, Score: trials.Score{
					TastingID: fmt.Sprint("evening", evening), Attribute: "tartness", Intensity: &v, Position: &position}})
			}
		}
	}
	rows := positionEffects(nil, s, []string{"tartness"})
	if len(rows) != 1 || rows[0].P == nil {
		t.Fatalf("%+v", rows)
	}
	if *rows[0].P < 0.05 {
		t.Errorf("the evening is taken for the position: %+v", rows[0])
	}
	for _, shift := range rows[0].Shifts {
		if shift.Shift != nil && math.Abs(shift.Shift.Value) > 0.3 {
			t.Errorf("glass %d: %+v", shift.Position, *shift.Shift)
		}
	}
}

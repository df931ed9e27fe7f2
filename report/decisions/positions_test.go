package decisions

import (
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
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
	if section == nil || !strings.Contains(drawing.AsText(t, document.Document{Sections: []document.Section{*section}}, 80), "glass 3: ") {
		t.Error("the effect is not shown")
	}
	if w := positionWarning(n, invented.SetOf(t, n), "tartness"); len(w) > 1 {
		t.Errorf("%q", w)
	}
}

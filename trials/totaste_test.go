package trials

import (
	"math"
	"strings"
	"testing"
)

// The steps of a glass stand in the order of the protocol: first right, then too much
// (going down too little), then stopped, each of them a step that was poured.
func TestDosingStepsInOrder(t *testing.T) {
	evening := ToTaste{StepFactor: 1.25, Share: 1, GlassL: 0.05, SipL: 0.002, UpL: []float64{1e-4, 1e-4, 1e-4, 1e-4, 1e-4},
		DownL: 0.004, FillL: 0.01, DownSteps: 7}
	step := func(k int) *int {
		if k == 0 {
			return nil
		}
		return &k
	}
	for _, c := range []struct {
		direction            string
		right, past, stopped int // 0 is not noted
		want                 string
	}{
		{DirectionUp, 3, 5, 0, ""},
		{DirectionUp, 3, 0, 4, ""},
		{DirectionUp, 0, 2, 2, ""},
		{DirectionDown, 3, 7, 7, ""},
		{DirectionUp, 5, 3, 0, "too much at step 3 is not past right at step 5"},
		{DirectionDown, 4, 4, 0, "too little at step 4 is not past right at step 4"},
		{DirectionUp, 3, 6, 0, "too much at step 6: no such step was poured"},
		{DirectionUp, -1, 0, 0, "right at step -1: no such step was poured"},
		{DirectionDown, 3, 0, 8, "stopped at step 8: no such step was poured"},
		{DirectionUp, 3, 0, 2, "stopped at step 2 is before right at step 3"},
		{DirectionUp, 0, 4, 3, "stopped at step 3 is before too much at step 4"},
		{"sideways", 1, 2, 3, `direction "sideways" is neither up nor down`},
	} {
		d := Dosing{Direction: c.direction, Right: step(c.right), Past: step(c.past), Stopped: step(c.stopped)}
		err := d.Validate(evening)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%+v: %v", c, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%+v: %v, want %q", c, err, c.want)
		}
	}
}

// Where two names of one person were dosed on one evening, the glasses of the name that
// stays are kept; elsewhere the glasses move.
func TestMergedTasterKeepsOwnGlasses(t *testing.T) {
	from, into := Taster{Record: Record{ID: "f", Name: "Taster F"}}, Taster{Record: Record{ID: "i", Name: "Taster I"}}
	n := &Notebook{Dosings: []Dosing{{ID: "1", TastingID: "both", TasterID: "f", Number: 1},
		{ID: "2", TastingID: "both", TasterID: "i", Number: 1}, {ID: "3", TastingID: "one", TasterID: "f", Number: 1}}}
	m := n.MergeTasters(from, into)
	if len(m.MovedDosings) != 1 || m.MovedDosings[0].ID != "3" || m.MovedDosings[0].TasterID != "i" ||
		len(m.DroppedDosings) != 1 || m.DroppedDosings[0].ID != "1" {
		t.Errorf("moved %+v, dropped %+v", m.MovedDosings, m.DroppedDosings)
	}
}

// By hand: two glasses up of 6 mL and one down of 4 mL from the stronger dropper are 17.6
// mL with a tenth more, so 18 mL of extract; one down from the weaker 4.4, so 5 mL, half
// of it extract. Beer: 2 x 50, and 2 x (50 + 2 x 10) mL.
func TestFillingByHand(t *testing.T) {
	s := ToTaste{Share: 1, GlassL: 0.05, UpL: []float64{0.002, 0.004}, DownL: 0.004, FillL: 0.01, DownSteps: 3}
	f := s.FillingOf(map[int]map[string]int{2: {"up": 2, "down": 1}, 1: {"down": 1}})
	for _, c := range []struct{ got, want float64 }{{f.DropperL[2], 0.018}, {f.DropperL[1], 0.005},
		{f.ExtractL, 0.0205}, {f.BeerL, 0.24}} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%g, want %g", c.got, c.want)
		}
	}
}

// By hand: a glass up holds 50 mL; one down 50 mL and 10 mL for each step after the first
// that was tasted; one that nobody noted was not poured.
func TestBeerOfAnEvening(t *testing.T) {
	s := ToTaste{GlassL: 0.050, FillL: 0.010, DownSteps: 9, UpL: []float64{1e-4, 1e-4}}
	step := func(k int) *int { return &k }
	for _, c := range []struct {
		name    string
		glasses []Dosing
		want    float64
	}{
		{"nobody", []Dosing{{Direction: DirectionUp}, {Direction: DirectionDown}}, 0},
		{"up", []Dosing{{Direction: DirectionUp, Right: step(1), Past: step(2)}}, 0.050},
		{"down to right", []Dosing{{Direction: DirectionDown, Right: step(4)}}, 0.080},
		{"down past it", []Dosing{{Direction: DirectionDown, Right: step(4), Past: step(6)}}, 0.100},
		{"down to where it was stopped", []Dosing{{Direction: DirectionDown, Stopped: step(9)}}, 0.130},
		{"two", []Dosing{{Direction: DirectionUp, Stopped: step(2)}, {Direction: DirectionDown, Past: step(1)}}, 0.100},
	} {
		if got := s.BeerOf(c.glasses); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v L, want %v", c.name, got, c.want)
		}
	}
}

package ledger

import (
	"testing"
	"time"

	"hedgerow/trials"
)

// toTasteNotebook is an invented evening: jugTea, 30.0895 g in 981.614 mL, dropped into
// glasses of 50 mL of a plain beer by two tasters.
func toTasteNotebook() *trials.Notebook {
	n, _ := batchOf(trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)},
		jugTea())
	n.Tasters = []trials.Taster{{Record: trials.Record{ID: "a", Name: "Taster A"}},
		{Record: trials.Record{ID: "c", Name: "Taster C"}}}
	n.Tastings = []trials.Tasting{{Record: trials.Record{ID: "t", Name: "drops"}, At: day(12),
		Attributes: []string{"tartness"}, Blind: true, ClosedAt: ptr(day(12).Add(3 * time.Hour))}}
	n.ToTastes = []trials.ToTaste{{ID: "s", TastingID: "t", BatchID: "b", ExtractID: "x", Used: true, StepFactor: 1.5,
		Share: 1, GlassL: 0.050, SipL: 0.002, UpL: []float64{0.001, 0.0005, 0.001}, DownL: 0.004, FillL: 0.0108,
		DownSteps: 3}}
	n.Droppers = []trials.Dropper{{ID: "strong", TastingID: "t", Code: "417", Strength: 2},
		{ID: "weak", TastingID: "t", Code: "839", Strength: 1}}
	n.Dosings = []trials.Dosing{
		{ID: "1", TastingID: "t", TasterID: "a", Number: 1, DropperID: "strong", Direction: trials.DirectionUp,
			Right: ptr(2), Past: ptr(3), Stopped: ptr(3)},
		{ID: "2", TastingID: "t", TasterID: "a", Number: 2, DropperID: "weak", Direction: trials.DirectionDown,
			Right: ptr(2), Stopped: ptr(3)},
		{ID: "3", TastingID: "t", TasterID: "c", Number: 1, DropperID: "weak", Direction: trials.DirectionUp, Right: ptr(1)},
		{ID: "4", TastingID: "t", TasterID: "c", Number: 2, DropperID: "strong", Direction: trials.DirectionDown}}
	return n
}

// The doses of the steps, by hand. The tea carries 30.0895/0.981614 = 30.653 g/L.
//
//	up, 2x:   1.0 mL brings 30.653 mg into 51 mL: 0.60104; 2 mL are drunk, 29.451 mg stay in 49 mL;
//	          0.5 mL bring 15.327 mg into 49.5 mL: 0.90460; 47.5 mL keep 42.969 mg;
//	          1.0 mL bring 30.653 mg into 48.5 mL: 1.5180
//	up, 1x:   half of it at each step: 0.30052, 0.45230, 0.75898
//	down, 2x: 4 mL bring 122.612 mg into 54 mL: 2.2706; 10.8 of 54 mL give way to beer: x 0.8 each
//	down, 1x: half of it
//
// Volumes of tea, water and beer are added there, to within 0.1 % of what the account has.
func TestTasteDosesByHand(t *testing.T) {
	n := toTasteNotebook()
	for _, c := range []struct {
		strength  int
		direction string
		want      []float64
	}{
		{2, trials.DirectionUp, []float64{0.60104, 0.90460, 1.5180}},
		{1, trials.DirectionUp, []float64{0.30052, 0.45230, 0.75898}},
		{2, trials.DirectionDown, []float64{2.2706, 1.8165, 1.4532}},
		{1, trials.DirectionDown, []float64{1.1353, 0.90825, 0.72660}},
	} {
		g := TasteGlass{Evening: n.ToTastes[0], At: day(12), Strength: c.strength, Direction: c.direction}
		m, err := shipped(t).Find("hibiscus")
		if err != nil {
			t.Fatal(err)
		}
		got, err := TasteDoses(n, g, trials.ClassIndex(m))
		if err != nil || len(got) != len(c.want) {
			t.Fatalf("%d, %s: %v, %v", c.strength, c.direction, got, err)
		}
		for i := range got {
			near(t, c.direction, got[i], c.want[i], 0.002*c.want[i])
		}
	}
}

// A closed evening is in the set of its material, glass by glass; a sealed one is named.
func TestGatherTakesDosedGlasses(t *testing.T) {
	n := toTasteNotebook()
	m, err := shipped(t).Find("hibiscus")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Dosed) != 3 || s.Dosed[0].PastGPerL == nil || s.Dosed[1].PastGPerL != nil || !s.Dosed[2].Used {
		t.Fatalf("%+v", s.Dosed)
	}
	near(t, "too much of Taster A", *s.Dosed[0].PastGPerL, 1.5180, 0.003)
	near(t, "right of Taster A, going down", *s.Dosed[1].RightGPerL, 0.90825, 0.002)
	near(t, "right of Taster C", *s.Dosed[2].RightGPerL, 0.30052, 0.001)
	n.Tastings[0].ClosedAt = nil
	if s, err = Gather(n, m); err != nil || len(s.Dosed) != 0 || len(s.Sealed) != 1 {
		t.Errorf("sealed: %+v, %v, %v", s.Dosed, s.Sealed, err)
	}
}

// An evening of another brewer is named, not inferred from.
func TestOtherBrewersDosedGlasses(t *testing.T) {
	n := toTasteNotebook()
	for i := range n.Batches {
		n.Batches[i].Brewer = "their-notebook"
	}
	m, err := shipped(t).Find("hibiscus")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.OthersDosed) != 1 || s.OthersDosed[0] != "drops" || len(s.Dosed) != 0 {
		t.Errorf("%q named, %d glasses taken", s.OthersDosed, len(s.Dosed))
	}
}

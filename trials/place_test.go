package trials

import (
	"slices"
	"testing"
	"time"
)

// orderedEvening is a notebook with one tasting of three servings and two tasters who
// have orders, set up as a command would.
func orderedEvening(t *testing.T) (*Notebook, Tasting) {
	t.Helper()
	g := Tasting{Record: Record{ID: "g", Name: "night"}, Attributes: []string{"floral"}, Blind: true, FlightSize: 2}
	n := &Notebook{Tastings: []Tasting{g}, Servings: []Serving{
		{ID: "s1", TastingID: "g", BatchID: "b1", Code: "137"}, {ID: "s2", TastingID: "g", BatchID: "b2",
			Code: "248"}, {ID: "s3", TastingID: "g", BatchID: "b1", Code: "369", Repeat: true}}}
	tasters, fresh, err := n.TastersNamed([]string{"A", "B"})
	if err != nil {
		t.Fatal(err)
	}
	n.Tasters = fresh
	n.Places = Evening{Tasting: g, Servings: n.Servings, Tasters: tasters, Orders: [][]int{{2, 0, 1}, {1, 2, 0}}}.Places()
	return n, g
}

// A score gets the position of its glass in the order of its taster; what is
// typed comes first; a taster without an order has none.
func TestScoresTakeTheirPositionFromTheOrder(t *testing.T) {
	n, g := orderedEvening(t)
	third := 3
	cases := []struct {
		taster, code string
		typed, want  *int
	}{
		{"A", "369", nil, ptr(1)}, {"A", "137", nil, ptr(2)}, {"B", "248", nil, ptr(1)}, {"B", "137", nil, ptr(3)},
		{"B", "248", &third, &third}, {"late", "137", nil, nil}, {"late", "137", &third, &third},
	}
	for _, c := range cases {
		m := Marks{Taster: c.taster, Serving: c.code, Answers: []Answer{{Attribute: "floral", Intensity: ptr(4.0)}},
			Position: c.typed}
		e, err := n.Enter(g, []Marks{m}, false, time.Now())
		if err != nil {
			t.Fatal(err)
		}
		got := e.Scores[0].Position
		if (got == nil) != (c.want == nil) || got != nil && *got != *c.want {
			t.Errorf("%s %s typed %v: position %v, want %v", c.taster, c.code, c.typed, got, c.want)
		}
	}
	far := 4
	_, err := n.Enter(g, []Marks{{Taster: "A", Serving: "137",
		Answers: []Answer{{Attribute: "floral", Intensity: ptr(4.0)}}, Position: &far}}, false, time.Now())
	if CodeOf(err) != Invalid {
		t.Errorf("fourth of three glasses: %v", err)
	}
}

func TestOrderOf(t *testing.T) {
	n, g := orderedEvening(t)
	var codes []string
	for _, s := range n.OrderOf(g.ID, n.Tasters[0].ID) {
		codes = append(codes, s.Code)
	}
	if !slices.Equal(codes, []string{"369", "137", "248"}) {
		t.Errorf("order of A: %v", codes)
	}
	if len(n.OrderOf(g.ID, "nobody")) != 0 || len(n.Expected(g.ID)) != 2 {
		t.Errorf("expected %v", n.Expected(g.ID))
	}
}

// Flights are as even as they can be and none is larger than asked for.
func TestFlights(t *testing.T) {
	cases := []struct {
		size, glasses int
		want          []int
	}{{6, 4, []int{4}}, {6, 6, []int{6}}, {6, 7, []int{4, 3}}, {3, 8, []int{3, 3, 2}}, {5, 12, []int{4, 4, 4}}, {1, 2,
		[]int{1, 1}}, {0, 2, []int{1, 1}}}
	for _, c := range cases {
		if got := (Tasting{FlightSize: c.size}).Flights(c.glasses); !slices.Equal(got, c.want) {
			t.Errorf("%d glasses by %d: %v, want %v", c.glasses, c.size, got, c.want)
		}
	}
}

func TestTastersNamed(t *testing.T) {
	n, _ := orderedEvening(t)
	all, fresh, err := n.TastersNamed([]string{"b", " C  D "})
	if err != nil || len(all) != 2 || all[0].ID != n.Tasters[1].ID || len(fresh) != 1 || fresh[0].Name != "C D" {
		t.Errorf("all %v, new %v (%v)", all, fresh, err)
	}
	if _, _, err := n.TastersNamed([]string{"X", "x"}); CodeOf(err) != Invalid {
		t.Errorf("one taster twice: %v", err)
	}
	if err := n.CheckJoin(Tasting{Record: Record{ID: "g"}}, n.Tasters[0]); CodeOf(err) != Invalid {
		t.Errorf("joining twice: %v", err)
	}
}

// Joining two names hands the order on, unless there is one already.
func TestMergeHandsTheOrderOn(t *testing.T) {
	n, g := orderedEvening(t)
	late := Taster{Record: Record{ID: "late", Name: "late"}}
	m := n.MergeTasters(n.Tasters[0], late)
	if len(m.MovedPlaces) != 3 || len(m.DroppedPlaces) != 0 || m.MovedPlaces[0].TasterID != "late" {
		t.Errorf("into somebody without an order: %+v", m)
	}
	m = n.MergeTasters(n.Tasters[0], n.Tasters[1])
	if len(m.MovedPlaces) != 0 || len(m.DroppedPlaces) != 3 {
		t.Errorf("into somebody with an order in %s: %+v", g.Name, m)
	}
}

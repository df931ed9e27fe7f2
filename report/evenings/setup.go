package evenings

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"hedgerow/report/document"
	"hedgerow/report/panel"
	"hedgerow/trials"
)

// MostServings is how many glasses an evening may have at most: with pauses
// every sixth glass that is already two hours (common practice, no source).
const MostServings = 12

// EveningRequest is a tasting to set up.
type EveningRequest struct {
	Tasting trials.Tasting // as asked for
	Batches []trials.Batch // what is served
	Repeats []trials.Batch // what is served a second time under another code
	Tasters []string       // who gets an order; may be empty
}

// PlanEvening puts codes on the servings and gives each taster an order of them,
// the same for the same seed. The remarks say what stays uneven.
func PlanEvening(n *trials.Notebook, r EveningRequest) (trials.Evening, []string, error) {
	v := trials.Evening{Tasting: r.Tasting}
	var err error
	if v.Servings, err = planServings(r.Tasting, r.Batches, r.Repeats); err != nil {
		return v, nil, err
	}
	if v.Tasters, v.NewTasters, err = n.TastersNamed(r.Tasters); err != nil {
		return v, nil, err
	}
	remarks := flightRemarks(r.Tasting, len(v.Servings))
	if len(v.Servings) == 1 || v.Tasting.Alone {
		return v, remarks, nil // of one glass, or of cups that are shuffled, there is no order to give
	}
	if len(v.Tasters) == 0 {
		return v, append(remarks, "no serving orders: name who tastes with --taster A --taster B, or --tasters 4"), nil
	}
	plan, err := panel.ServingOrders(len(v.Servings), len(v.Tasters), uint64(r.Tasting.Seed))
	if err != nil {
		return v, nil, trials.Refuse("write --tasters 4, or name them with --taster", "%v", err)
	}
	v.Orders = plan.Orders
	return v, append(remarks, balanceRemark(len(v.Servings), len(v.Tasters), plan.Balance)), nil
}

// planServings puts codes on the servings: random three-digit numbers with
// different digits. Repeats get a code of their own.
func planServings(t trials.Tasting, batches, repeats []trials.Batch) ([]trials.Serving, error) {
	total := len(batches) + len(repeats)
	switch {
	case total == 1 && !t.Blind:
		// one beer against memory: nothing is hidden, and nothing is claimed to be
	case total < 2:
		return nil, trials.Refuse("add another --serving, such as the beer without the material",
			"a tasting needs at least two servings, not %d", total)
	case total > MostServings:
		return nil, trials.Refuse("make two tastings of it, on two evenings",
			"%d servings are too many: %d is the most for one evening", total, MostServings)
	}
	if err := checkServed(batches, repeats); err != nil {
		return nil, err
	}
	codes, err := panel.Codes(total, uint64(t.Seed), nil)
	if err != nil {
		return nil, err
	}
	// Codes go to the servings in random order, so that their order in the
	// notebook tells nothing.
	rand.New(rand.NewPCG(uint64(t.Seed), 1)).Shuffle(total, func(i, j int) { codes[i], codes[j] = codes[j], codes[i] })
	var list []trials.Serving
	for i, b := range append(append([]trials.Batch{}, batches...), repeats...) {
		list = append(list, trials.Serving{TastingID: t.ID, BatchID: b.ID, Code: fmt.Sprint(codes[i]),
			Repeat: i >= len(batches)})
	}
	return list, nil
}

// checkServed refuses a beer that is served twice without being a repeat, and a
// repeat of one that is not served.
func checkServed(batches, repeats []trials.Batch) error {
	served := map[string]bool{}
	for _, b := range batches {
		if served[b.ID] {
			return trials.Refuse("serve it again with --repeat "+b.Name, "batch %s is named twice", b.Name)
		}
		served[b.ID] = true
	}
	for _, b := range repeats {
		if !served[b.ID] {
			return trials.Refuse("add --serving "+b.Name, "batch %s cannot be repeated, since it is not served", b.Name)
		}
	}
	return nil
}

// flightRemarks says how the glasses are parted by pauses, and why.
func flightRemarks(t trials.Tasting, glasses int) []string {
	flights := t.Flights(glasses)
	if len(flights) == 1 {
		return nil
	}
	return []string{fmt.Sprintf("%d glasses are poured in %d flights of at most %d, with a pause of 15 minutes: past "+
		"%d in one go the palate tires (common practice, no source)",
		glasses, len(flights), t.FlightSize, t.FlightSize)}
}

// balanceRemark says how evenly the orders treat the servings.
func balanceRemark(servings, tasters int, b panel.OrderBalance) string {
	if b.PositionEven && b.NeighbourEven {
		return fmt.Sprintf("the orders are balanced: every serving stands %s at each position and comes %s straight "+
			"after each other one", timesText(b.PositionMin, b.PositionMax), timesText(b.NeighbourMin, b.NeighbourMax))
	}
	square := servings
	if servings%2 == 1 {
		square *= 2
	}
	return fmt.Sprintf("with %s a serving stands %s at a position and comes %s straight after another; %d tasters, "+
		"or a multiple, would make it even",
		document.Count(tasters, "taster"), timesText(b.PositionMin, b.PositionMax), timesText(b.NeighbourMin,
			b.NeighbourMax), square)
}

// timesText prints "once", "2 times" or "0 to 2 times".
func timesText(low, high int) string {
	switch {
	case low != high:
		return fmt.Sprintf("%d to %d times", low, high)
	case low == 1:
		return "once"
	}
	return fmt.Sprintf("%d times", low)
}

// LateOrder is an order of the servings for a taster who came late: of the rows
// of the balanced square the one that keeps the orders given so far most even.
func LateOrder(n *trials.Notebook, t trials.Tasting) ([]int, error) {
	servings := n.ServingsOf(t.ID)
	square, err := panel.WilliamsOrders(len(servings))
	if err != nil {
		return nil, trials.Refuse("a tasting needs two servings", "%v", err)
	}
	var given [][]int
	for _, taster := range n.Expected(t.ID) {
		var order []int
		for _, s := range n.OrderOf(t.ID, taster.ID) {
			order = append(order, slices.IndexFunc(servings, func(o trials.Serving) bool { return o.ID == s.ID }))
		}
		given = append(given, order)
	}
	rows := square
	if len(given) > 0 {
		rows = squaresWith(square, given[0])
	}
	// by how many came before: two latecomers must not both get the first of equal rows
	rand.New(rand.NewPCG(uint64(t.Seed), uint64(len(given)))).Shuffle(len(rows),
		func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
	best, least := rows[0], -1
	for _, row := range rows {
		if cost := crowding(given, row); least < 0 || cost < least {
			best, least = row, cost
		}
	}
	return best, nil
}

// squaresWith returns the rows of every naming of the servings under which the
// square has the given order as one of its rows: the others of that square are
// the orders that go with it.
func squaresWith(square [][]int, given []int) [][]int {
	var rows [][]int
	for _, own := range square {
		label := make([]int, len(given))
		for k, s := range own {
			label[s] = given[k]
		}
		for _, row := range square {
			named := make([]int, len(row))
			for k, s := range row {
				named[k] = label[s]
			}
			rows = append(rows, named)
		}
	}
	return rows
}

// crowding counts how often the orders given already have what a new order would
// have: the same serving at a position, which weighs more, or the same pair of
// neighbours.
func crowding(given [][]int, row []int) int {
	cost := 0
	for _, order := range given {
		for p := range min(len(row), len(order)) {
			if order[p] == row[p] {
				cost += 2
			}
			if p > 0 && order[p-1] == row[p-1] && order[p] == row[p] {
				cost++
			}
		}
	}
	return cost
}

// TasterNames makes names for so many tasters: Taster A, Taster B and so on.
func TasterNames(count int) ([]string, error) {
	if count < 1 || count > 26 {
		return nil, trials.Refuse("write --tasters 4", "%d tasters are outside 1 to 26", count)
	}
	names := make([]string, count)
	for i := range names {
		names[i] = "Taster " + string(rune('A'+i))
	}
	return names, nil
}

package panel

import (
	"fmt"
	"math/rand/v2"
)

// servingPlan says in which order each taster drinks.
type servingPlan struct {
	Orders   [][]int      // Orders[t][p] is the serving, from 0, that taster t drinks at position p
	Seed     uint64       // gives this plan again
	Squares  int          // whole balanced squares used
	Extra    int          // tasters left over, served from a part of one more square
	Balance  OrderBalance // of the orders as served
	Warnings []string     // what stays uneven, in words
}

// OrderBalance counts how evenly a set of orders treats the servings.
type OrderBalance struct {
	PositionMin   int  // fewest times that some serving stands at some position
	PositionMax   int  // most times
	NeighbourMin  int  // fewest times that some serving comes straight after some other
	NeighbourMax  int  // most times
	PositionEven  bool // every serving equally often at every position
	NeighbourEven bool // every serving equally often straight after every other
}

// Bounds of the serving plans: more glasses than tasted in one go anywhere, and
// more tasters than fit in a room.
const (
	maxServings = 20
	maxTasters  = 1000
	tiring      = 6 // glasses; common practice, no source
)

// WilliamsOrders returns the balanced square for n servings [12]. The first
// row is 0, 1, n-1, 2, n-2, ...; row i adds i modulo n; for odd n the reversed
// rows are added. Every serving stands equally often at every position and
// equally often straight after every other: once for even n, twice for odd.
//
// Errors: fewer than 2 servings, more than 20.
func WilliamsOrders(n int) ([][]int, error) {
	if n < 2 || n > maxServings {
		return nil, fmt.Errorf("%d servings: give a number from 2 to %d", n, maxServings)
	}
	first := make([]int, n)
	for k := 1; k < n; k++ {
		first[k] = (k + 1) / 2
		// out and back by turns: steps from glass to glass all differ then, which evens the neighbours
		if k%2 == 0 {
			first[k] = n - k/2
		}
	}
	var rows [][]int
	for i := range n {
		row := make([]int, n)
		for k, v := range first {
			row[k] = (v + i) % n
		}
		rows = append(rows, row)
	}
	// an odd square cannot even the neighbours by itself; with its mirror each pair comes as often either way
	if n%2 == 1 {
		for _, row := range rows[:n] {
			back := make([]int, n)
			for k, v := range row {
				back[n-1-k] = v
			}
			rows = append(rows, back)
		}
	}
	return rows, nil
}

// Why neighbours matter: a strong glass dulls the palate for the next one, so
// each serving should follow each other one equally often. Why positions
// matter: the first glass of an evening tends to score high.

// ServingOrders returns one order for each taster, balanced for position and
// for which serving comes before which, as far as the numbers allow: whole
// squares of WilliamsOrders first, then those rows of one more square that
// treat positions, and next neighbours, most evenly. Servings and tasters are
// shuffled; the same seed gives the same plan. What stays uneven is in Balance
// and, in words, in Warnings.
//
// Minimum: two servings, one taster.
//
// Errors: servings outside 2 to 20, tasters outside 1 to 1000.
func ServingOrders(servings, tasters int, seed uint64) (*servingPlan, error) {
	square, err := WilliamsOrders(servings)
	if err != nil {
		return nil, err
	}
	if tasters < 1 || tasters > maxTasters {
		return nil, fmt.Errorf("%d tasters: give a number from 1 to %d", tasters, maxTasters)
	}
	r := rand.New(rand.NewPCG(seed, uint64(servings)))
	p := &servingPlan{Seed: seed, Squares: tasters / len(square), Extra: tasters % len(square)}
	var rows [][]int
	for range p.Squares {
		rows = append(rows, square...)
	}
	rows = append(rows, bestRows(square, p.Extra, r)...)
	// else the weakest dose would always take the part of serving 0
	label := r.Perm(servings)
	for _, t := range r.Perm(len(rows)) {
		order := make([]int, servings)
		for k, v := range rows[t] {
			order[k] = label[v]
		}
		p.Orders = append(p.Orders, order)
	}
	p.Balance = balanceOf(p.Orders, servings)
	p.warn(servings, tasters, len(square))
	return p, nil
}

// bestRows picks m rows of a square. The cost weighs positions before
// neighbours, because a first-glass bias is the stronger of the two. Any rows of one cyclic half put each
// serving at most once at each position, so the first try is never worse than
// one apart; further tries look for more even neighbours.
func bestRows(square [][]int, m int, r *rand.Rand) [][]int {
	n := len(square[0])
	cost := func(rows [][]int) int {
		b := balanceOf(rows, n)
		return (b.PositionMax-b.PositionMin)*len(square) + b.NeighbourMax - b.NeighbourMin
	}
	pick := func(order []int) [][]int {
		var rows [][]int
		for _, i := range order[:m] {
			rows = append(rows, square[i])
		}
		return rows
	}
	order := r.Perm(n)
	for _, i := range r.Perm(len(square) - n) {
		order = append(order, n+i)
	}
	best := pick(order)
	// rows of an even square never repeat a neighbour pair, so all choices of m are alike
	if m == 0 || n%2 == 0 {
		return best
	}
	least := cost(best)
	const tries = 300
	for range tries {
		rows := pick(r.Perm(len(square)))
		if c := cost(rows); c < least {
			best, least = rows, c
		}
	}
	return best
}

// balanceOf counts positions and neighbours.
func balanceOf(orders [][]int, n int) OrderBalance {
	position, after := make([]int, n*n), make([]int, n*n)
	for _, row := range orders {
		for k, v := range row {
			position[k*n+v]++
			if k > 0 {
				after[row[k-1]*n+v]++
			}
		}
	}
	b := OrderBalance{PositionMin: len(orders), NeighbourMin: len(orders)}
	for i := range n {
		for j := range n {
			b.PositionMin, b.PositionMax = min(b.PositionMin, position[i*n+j]), max(b.PositionMax, position[i*n+j])
			if i != j {
				b.NeighbourMin, b.NeighbourMax = min(b.NeighbourMin, after[i*n+j]), max(b.NeighbourMax, after[i*n+j])
			}
		}
	}
	b.PositionEven = b.PositionMin == b.PositionMax
	b.NeighbourEven = b.NeighbourMin == b.NeighbourMax
	return b
}

func (p *servingPlan) warn(servings, tasters, square int) {
	b := p.Balance
	if !b.PositionEven || !b.NeighbourEven {
		p.Warnings = append(p.Warnings, fmt.Sprintf(
			"%s do not fill whole sets of %d orders: a serving stands %d to %d times at a position and comes %d to %d "+
				"times straight after another",
			plural(tasters, "taster"), square, b.PositionMin, b.PositionMax, b.NeighbourMin, b.NeighbourMax))
	}
	if servings > tiring {
		p.Warnings = append(p.Warnings, fmt.Sprintf("%d glasses tire the palate: pour at most %d in one flight (common "+
			"practice)", servings, tiring))
	}
}

// forcedOrder is the order of glasses of one taster in a difference test of
// beer A against beer B, B the one with the addition.
type forcedOrder struct {
	Reference string   // the named glass of a duo-trio, else empty
	Glasses   []string // "A" or "B" by position
}

// ForcedChoiceOrders returns one order for each taster, every possible order
// equally often as far as the number allows, shuffled by the seed: triangle
// AAB ABA BAA BBA BAB ABB; 3-AFC the three places of B among A; duo-trio both
// references and both sides; paired AB BA; tetrad the six places of two A.
//
// Errors: an unknown test, tasters outside 1 to 1000.
func ForcedChoiceOrders(test DifferenceTest, tasters int, seed uint64) ([]forcedOrder, error) {
	if _, err := test.Chance(); err != nil {
		return nil, err
	}
	if tasters < 1 || tasters > maxTasters {
		return nil, fmt.Errorf("%d tasters: give a number from 1 to %d", tasters, maxTasters)
	}
	all := forcedOrders(test)
	r := rand.New(rand.NewPCG(seed, uint64(len(all))))
	var orders []forcedOrder
	for len(orders) < tasters {
		for _, i := range r.Perm(len(all)) {
			orders = append(orders, all[i])
		}
	}
	// cut before the shuffle: each round holds every order once, so any cut stays even to one
	orders = orders[:tasters]
	r.Shuffle(tasters, func(i, j int) { orders[i], orders[j] = orders[j], orders[i] })
	return orders, nil
}

// forcedOrders lists the possible orders of a test.
func forcedOrders(test DifferenceTest) []forcedOrder {
	if test == DuoTrio {
		return []forcedOrder{
			{"A", []string{"A", "B"}}, {"A", []string{"B", "A"}},
			{"B", []string{"A", "B"}}, {"B", []string{"B", "A"}},
		}
	}
	texts := map[DifferenceTest][]string{
		Triangle:       {"AAB", "ABA", "BAA", "BBA", "BAB", "ABB"},
		ThreeAFC:       {"AAB", "ABA", "BAA"},
		Paired:         {"AB", "BA"},
		PairedTwoSided: {"AB", "BA"},
		Tetrad:         {"AABB", "ABAB", "ABBA", "BAAB", "BABA", "BBAA"},
	}
	var orders []forcedOrder
	for _, text := range texts[test] {
		o := forcedOrder{}
		for _, glass := range text {
			o.Glasses = append(o.Glasses, string(glass))
		}
		orders = append(orders, o)
	}
	return orders
}

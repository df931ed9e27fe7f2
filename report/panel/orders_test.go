package panel

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The square of 4 as printed in [12]: first row 0 1 3 2, each row one more.
func TestWilliamsOrdersFour(t *testing.T) {
	got, err := WilliamsOrders(4)
	if err != nil {
		t.Fatal(err)
	}
	want := [][]int{{0, 1, 3, 2}, {1, 2, 0, 3}, {2, 3, 1, 0}, {3, 0, 2, 1}}
	for i := range want {
		if !slices.Equal(got[i], want[i]) {
			t.Errorf("row %d = %v, want %v", i, got[i], want[i])
		}
	}
}

// A whole square puts every serving equally often at each position and after
// each other one: once for an even number, twice for an odd one.
func TestWilliamsOrdersBalance(t *testing.T) {
	for n := 2; n <= maxServings; n++ {
		rows, err := WilliamsOrders(n)
		if err != nil {
			t.Fatal(err)
		}
		times := 1 + n%2
		b := balanceOf(rows, n)
		want := OrderBalance{times, times, times, times, true, true}
		if len(rows) != n*times || b != want {
			t.Errorf("%d servings: %d rows, %+v, want %+v", n, len(rows), b, want)
		}
	}
}

// For 2 to 10 servings and 1 to 12 tasters, as far as arithmetic allows: at a
// position counts differ by at most one, and not at all when the tasters are a
// multiple of the servings; neighbours likewise for even numbers. For odd
// numbers single squares with even neighbours do not exist for all sizes, so
// the remainder may differ by two, and is reported.
func TestServingOrdersBalance(t *testing.T) {
	for servings := 2; servings <= 10; servings++ {
		for tasters := 1; tasters <= 12; tasters++ {
			p, err := ServingOrders(servings, tasters, 42)
			if err != nil {
				t.Fatal(err)
			}
			name := fmt.Sprintf("%d servings, %d tasters: %+v", servings, tasters, p.Balance)
			checkOrders(t, p, servings, tasters)
			b := p.Balance
			if b.PositionMax-b.PositionMin > 1 || b.PositionEven != (tasters%servings == 0) {
				t.Errorf("%s: positions", name)
			}
			spread := b.NeighbourMax - b.NeighbourMin
			if servings%2 == 0 && (spread > 1 || b.NeighbourEven != (tasters%servings == 0)) || spread > 2 {
				t.Errorf("%s: neighbours", name)
			}
			uneven := !b.PositionEven || !b.NeighbourEven
			if hasWarning(p.Warnings, "do not fill") != uneven {
				t.Errorf("%s: warnings %q", name, p.Warnings)
			}
			if hasWarning(p.Warnings, "tire") != (servings > 6) {
				t.Errorf("%s: warnings %q", name, p.Warnings)
			}
		}
	}
}

// checkOrders sees that everyone gets every serving once and that the balance
// told is that of the orders, counted here afresh.
func checkOrders(t testing.TB, p *servingPlan, servings, tasters int) {
	t.Helper()
	if len(p.Orders) != tasters {
		t.Fatalf("%d orders for %d tasters", len(p.Orders), tasters)
	}
	at := make(map[[2]int]int)
	for _, o := range p.Orders {
		sorted := slices.Sorted(slices.Values(o))
		for k, v := range sorted {
			if v != k || len(o) != servings {
				t.Fatalf("order %v is no order of %d servings", o, servings)
			}
		}
		for k, v := range o {
			at[[2]int{k, v}]++
		}
	}
	low, high := tasters, 0
	for k := range servings {
		for v := range servings {
			low, high = min(low, at[[2]int{k, v}]), max(high, at[[2]int{k, v}])
		}
	}
	if low != p.Balance.PositionMin || high != p.Balance.PositionMax {
		t.Fatalf("positions %d to %d, told %+v", low, high, p.Balance)
	}
}

func TestServingOrdersSeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		servings, tasters := rapid.IntRange(2, 12).Draw(t, "servings"), rapid.IntRange(1, 40).Draw(t, "tasters")
		seed := rapid.Uint64().Draw(t, "seed")
		a, err := ServingOrders(servings, tasters, seed)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := ServingOrders(servings, tasters, seed)
		for i := range a.Orders {
			if !slices.Equal(a.Orders[i], b.Orders[i]) {
				t.Fatalf("the same seed gives %v and %v", a.Orders[i], b.Orders[i])
			}
		}
		if a.Balance.PositionMax-a.Balance.PositionMin > 1 {
			t.Fatalf("%+v", a.Balance)
		}
	})
}

func TestServingOrdersRefuses(t *testing.T) {
	for _, c := range [][2]int{{1, 4}, {0, 4}, {21, 4}, {4, 0}, {4, -1}, {4, 1001}} {
		if _, err := ServingOrders(c[0], c[1], 1); err == nil {
			t.Errorf("%d servings for %d tasters accepted", c[0], c[1])
		}
	}
}

func TestForcedChoiceOrders(t *testing.T) {
	sizes := map[DifferenceTest]int{Triangle: 6, ThreeAFC: 3, DuoTrio: 4, Paired: 2, PairedTwoSided: 2, Tetrad: 6}
	for test, size := range sizes {
		for tasters := 1; tasters <= 2*size+1; tasters++ {
			orders, err := ForcedChoiceOrders(test, tasters, 5)
			if err != nil {
				t.Fatal(err)
			}
			count := make(map[string]int)
			for _, o := range orders {
				count[fmt.Sprint(o)]++
			}
			for o, n := range count {
				if n > (tasters+size-1)/size || len(orders) != tasters || tasters >= size && len(count) != size {
					t.Errorf("%s, %d tasters: %s %d times of %d kinds", test, tasters, o, n, len(count))
				}
			}
		}
	}
	if _, err := ForcedChoiceOrders("quartet", 4, 1); err == nil {
		t.Error("unknown test accepted")
	}
	if _, err := ForcedChoiceOrders(Triangle, 0, 1); err == nil {
		t.Error("0 tasters accepted")
	}
}

func BenchmarkServingOrders(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ServingOrders(7, 12, 1); err != nil {
			b.Fatal(err)
		}
	}
}

// Two or three rows of an odd square can be chosen without a pair of neighbours
// in common, and so can the rows left out of two squares: whatever the seed, no
// serving comes more than once oftener after one than after another. The first
// rows tried often fail.
func TestServingOrdersLookForEvenNeighbours(t *testing.T) {
	for _, c := range []struct{ servings, tasters int }{{5, 2}, {5, 8}, {7, 2}, {7, 3}, {7, 11}, {7, 12}} {
		for seed := range uint64(40) {
			p, err := ServingOrders(c.servings, c.tasters, seed)
			if err != nil {
				t.Fatal(err)
			}
			if b := p.Balance; b.NeighbourMax-b.NeighbourMin > 1 {
				t.Errorf("%d servings, %d tasters, seed %d: neighbours %d to %d",
					c.servings, c.tasters, seed, b.NeighbourMin, b.NeighbourMax)
			}
		}
	}
}

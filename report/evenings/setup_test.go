package evenings

import (
	"fmt"
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
)

// planned sets up an evening of so many beers and tasters, as its records.
func plannedEvening(t testing.TB, servings, tasters int, seed int64) (*trials.Notebook, trials.Tasting) {
	t.Helper()
	n := &trials.Notebook{Now: invented.Day(60)}
	r := EveningRequest{Tasting: trials.Tasting{Record: trials.Record{ID: "g", Name: "evening"}, At: invented.Day(50),
		Attributes: []string{"floral", "bitter <b>"}, Blind: true, Seed: seed, FlightSize: 6}}
	for i := range servings {
		b := trials.Batch{Record: trials.Record{ID: fmt.Sprint("b", i), Name: fmt.Sprint("hidden-", i)}}
		r.Batches, n.Batches = append(r.Batches, b), append(n.Batches, b)
	}
	names, err := TasterNames(tasters)
	if err != nil {
		t.Fatal(err)
	}
	r.Tasters = names
	v, _, err := PlanEvening(n, r)
	if err != nil {
		t.Fatal(err)
	}
	for i := range v.Servings {
		v.Servings[i].ID = fmt.Sprint("s", i)
	}
	n.Tastings, n.Servings, n.Tasters, n.Places = []trials.Tasting{v.Tasting}, v.Servings, v.NewTasters, v.Places()
	return n, v.Tasting
}

// counts counts, for every serving, how often it stands at each position and how
// often it comes straight after each other one, in the records.
func counts(n *trials.Notebook, t trials.Tasting) (position map[[2]string]int, after map[[2]string]int) {
	position, after = map[[2]string]int{}, map[[2]string]int{}
	for _, taster := range n.Expected(t.ID) {
		order := n.OrderOf(t.ID, taster.ID)
		for p, s := range order {
			position[[2]string{s.Code, fmt.Sprint(p)}]++
			if p > 0 {
				after[[2]string{order[p-1].Code, s.Code}]++
			}
		}
	}
	return position, after
}

// spread is the difference between the most and the fewest of all cells, cells
// that do not occur counted as zero.
func spread(cells map[[2]string]int, all int) int {
	low, high := 0, 0
	if len(cells) == all {
		low = 1 << 30
	}
	for _, c := range cells {
		low, high = min(low, c), max(high, c)
	}
	return high - low
}

// Whatever the numbers, the orders as they are kept put every serving equally
// often at each position, to one; with whole squares (as many tasters as
// servings, twice as many for an odd number; Williams 1949) neighbours are even
// too, and the remark says what is left uneven.
func TestOrdersAreBalancedAsKept(t *testing.T) {
	for servings := 2; servings <= 10; servings++ {
		for tasters := 1; tasters <= 12; tasters++ {
			n, g := plannedEvening(t, servings, tasters, 42)
			position, after := counts(n, g)
			if got := spread(position, servings*servings); got > 1 || (got == 0) != (tasters%servings == 0) {
				t.Errorf("%d servings, %d tasters: positions differ by %d", servings, tasters, got)
			}
			square := servings * (1 + servings%2)
			even := spread(after, servings*(servings-1)) == 0
			if tasters%square == 0 && !even {
				t.Errorf("%d servings, %d tasters: neighbours are not even", servings, tasters)
			}
		}
	}
}

// Four beers and three tasters lack one row of a square: who joins late gets just
// that row.
func TestLateTasterFillsTheSquare(t *testing.T) {
	for seed := range int64(20) {
		n, g := plannedEvening(t, 4, 3, seed)
		order, err := LateOrder(n, g)
		if err != nil {
			t.Fatal(err)
		}
		late := trials.Taster{Record: trials.Record{ID: "late", Name: "Late"}}
		n.Tasters, n.Places = append(n.Tasters, late), append(n.Places, n.Join(g, late, order)...)
		position, _ := counts(n, g)
		if got := spread(position, 16); got > 1 {
			t.Errorf("seed %d: positions differ by %d", seed, got)
		}
	}
}

func TestBalanceRemark(t *testing.T) {
	for _, c := range []struct {
		servings, tasters int
		want              string
	}{
		{4, 4, "the orders are balanced: every serving stands once at each position and comes once straight after " +
			"each other one"},
		{3, 6, "the orders are balanced: every serving stands 2 times at each position and comes 2 times straight " +
			"after each other one"},
		{4, 3, "with 3 tasters a serving stands 0 to 1 times at a position and comes 0 to 1 times straight after " +
			"another; 4 tasters, or a multiple, would make it even"},
		{3, 1, "with 1 taster a serving stands 0 to 1 times at a position and comes 0 to 1 times straight after " +
			"another; 6 tasters, or a multiple, would make it even"},
	} {
		n := &trials.Notebook{}
		r := EveningRequest{Tasting: trials.Tasting{Record: trials.Record{ID: "g"}, FlightSize: 6}}
		for i := range c.servings {
			r.Batches = append(r.Batches, trials.Batch{Record: trials.Record{ID: fmt.Sprint(i), Name: fmt.Sprint(i)}})
		}
		r.Tasters, _ = TasterNames(c.tasters)
		_, remarks, err := PlanEvening(n, r)
		if err != nil || len(remarks) != 1 || remarks[0] != c.want {
			t.Errorf("%d servings, %d tasters: %q (%v)", c.servings, c.tasters, remarks, err)
		}
	}
}

// Score sheets name codes and attributes and never a beer, in any format; what is
// typed as markup stays text. The pour sheet has the key, after a page break.
func TestSheets(t *testing.T) {
	n, g := plannedEvening(t, 7, 3, 5)
	sheets, err := ScoreSheetsOf(n, g, "")
	if err != nil {
		t.Fatal(err)
	}
	page := drawing.Drawn(t, func(b *strings.Builder) error { return WriteSheets(b, sheets) })
	drawing.CheckView(t, "score sheets", sheets.View())
	text := drawing.AsText(t, sheets.View().Document, 80)
	for name, out := range map[string]string{"page": page, "text": text,
		"Markdown": drawing.AsMarkdown(t, sheets.View().Document), "JSON": drawing.JsonOf(t, sheets.View())} {
		if strings.Contains(out, "hidden-") {
			t.Errorf("the %s tells a beer", name)
		}
		for _, s := range n.Servings {
			if got := strings.Count(out, s.Code); got < 3 {
				t.Errorf("%s: code %s stands %d times, want once for each of 3 tasters", name, s.Code, got)
			}
		}
	}
	// 7 glasses in two flights for 3 tasters are 6 pages, 5 of them after a break.
	if got := strings.Count(page, `class="newpage"`); got != 5 || strings.Contains(page, "bitter <b>") ||
		strings.Contains(page, "<script") || strings.Contains(page, "http") {
		t.Errorf("%d page breaks, or markup let through", got)
	}
	for _, line := range strings.Split(text, "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("a line of %d: %q", len([]rune(line)), line)
		}
	}
	pour := PourSheetOf(n, g)
	drawing.CheckView(t, "pour sheet", pour.View())
	key := drawing.Drawn(t, func(b *strings.Builder) error { return document.WriteHTML(b, pour.View().Document) })
	if strings.Index(key, "hidden-3") < strings.Index(key, `class="newpage"`) || strings.Count(key, "hidden-") != 7 {
		t.Error("the key is not on a page of its own")
	}
}

func TestSheetsOfFew(t *testing.T) {
	n, g := plannedEvening(t, 3, 2, 5)
	one, err := ScoreSheetsOf(n, g, "taster b")
	if err != nil || len(one.Sheets) != 1 || one.Sheets[0].Taster != "Taster B" {
		t.Errorf("%+v (%v)", one, err)
	}
	if _, err := ScoreSheetsOf(n, g, "Z"); trials.CodeOf(err) != trials.NotFound {
		t.Errorf("somebody without an order: %v", err)
	}
	n.Places = nil
	blank, err := ScoreSheetsOf(n, g, "")
	if err != nil || len(blank.Sheets) != 1 || len(blank.Warnings) != 1 || blank.Sheets[0].Taster != "" {
		t.Errorf("without orders: %+v (%v)", blank, err)
	}
}

// Every category of the catalogue has words of its own, all usable as attributes.
func TestOfferedAttributes(t *testing.T) {
	materials, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range materials.All() {
		words := OfferedAttributes(m)
		if _, own := offeredWords[m.Category]; !own || len(words) < 3 {
			t.Errorf("%s of category %q is offered %v", m.Key, m.Category, words)
		}
		g := trials.Tasting{Record: trials.Record{Name: "g"}, Attributes: words}
		if err := g.Validate(); err != nil {
			t.Errorf("%s: %v", m.Key, err)
		}
	}
	if got := OfferedFor(invented.Series(), invented.Series().Batches); got[0] != "floral" {
		t.Errorf("hibiscus, a flower, is offered %v", got)
	}
	if got := OfferedFor(invented.Series(), nil); len(got) != len(otherWords) {
		t.Errorf("nothing is offered %v", got)
	}
}

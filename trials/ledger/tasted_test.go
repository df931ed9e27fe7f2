package ledger

import (
	"testing"
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// seedBatch is an invented beer of 12 L with 24 g of whole coriander seed put in on
// day 11, tasted on days 3, 7 and 14 after that.
func seedBatch(more ...any) (*trials.Notebook, trials.Batch) {
	seed := trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(11),
		Stage: trials.StageSecondary, MaterialKey: "coriander-seed", Method: trials.MethodContact, Form: "whole",
		MassG: ptr(24.0), MoisturePct: ptr(10.0)}
	read := trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010)}
	n, b := batchOf(append([]any{seed, read}, more...)...)
	for _, at := range []time.Time{day(14), day(18), day(25)} {
		serve(n, trials.Tasting{Record: trials.Record{Name: at.Format("Jan-2")}, At: at, Blind: true,
			ClosedAt: ptr(at)}, "b")
	}
	return n, b
}

// The shares of aroma that whole seed has given in still beer at 20 C by day 3, 7 and
// 14, from the table of an independent implementation of the course of a plant, of
// 24 g/12 L x 0.75 that beer can carry.
var seedShares = map[int]float64{14: 0.79, 18: 0.97, 25: 1.00}

// A tasting is a step of the ledger with the dose of its day; the addition itself has
// given next to nothing yet.
func TestLedgerShowsTastingsAtTheDoseOfTheirDay(t *testing.T) {
	n, b := seedBatch()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, s := range l.Steps {
		switch {
		case s.Kind == EventAddition && s.Doses[0].GPerL[extraction.Aroma].Value > 0.1:
			t.Errorf("the dose is %v as soon as the seed goes in", s.Doses[0].GPerL[extraction.Aroma].Value)
		case s.Kind == EventTasting:
			found++
			near(t, "dose at "+s.Name, s.Doses[0].GPerL[extraction.Aroma].Value,
				1.5*seedShares[int(s.At.Sub(day(0)).Hours()/24)],
				0.015)
		}
	}
	if found != 3 {
		t.Errorf("%d tastings in the ledger, want 3", found)
	}
}

// By hand: 60 g of sugar in 12 L add 60 x 0.061315/12 = 0.307 % vol once they have
// fermented (the shortcut of the page on conditioning), less what 0.3 mL a gram thin
// it. A tasting after the bottling has that beer, one before it has not; a note
// written later does not matter.
func TestTastingAfterBottlingUsesTheConditionedBeer(t *testing.T) {
	n, b := seedBatch(trials.Addition{Record: trials.Record{ID: "s", Name: "heather-1.a2"}, At: day(20),
		Stage: trials.StagePackaging, LiquidKind: "sugar", LiquidMassG: ptr(60.0)})
	n.Packagings = append(n.Packagings, trials.Packaging{Record: trials.Record{ID: "p", Name: "heather-1.p1"},
		BatchID: "b", At: day(20)})
	n.BatchNotes = append(n.BatchNotes, trials.BatchNote{Record: trials.Record{ID: "n", Name: "heather-1.n1"},
		BatchID: "b", At: day(40), Text: "clear"})
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	abv := map[string]float64{}
	for _, s := range l.Steps {
		if s.Kind == EventTasting {
			abv[s.Name] = s.State().ABVPct.Value
		}
	}
	near(t, "gained between the tastings", abv["Mar-26"]-abv["Mar-19"], 0.300, 0.01)
	if l.Last().Kind != EventConditioned {
		t.Errorf("the ledger ends with %s", l.Last().Kind)
	}
}

// A tasting that is yet to come is not in the ledger.
func TestLedgerLeavesOutTastingsToCome(t *testing.T) {
	n, b := seedBatch()
	n.Now = day(17)
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	if got := l.Last(); got.Kind != EventTasting || got.Name != "Mar-15" {
		t.Errorf("the last step is %s %s, want the tasting of day 14", got.Kind, got.Name)
	}
}

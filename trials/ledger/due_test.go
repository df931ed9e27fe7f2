package ledger

import (
	"fmt"
	"math"
	"runtime"
	"testing"
	"time"

	"hedgerow/trials"
)

// day is a moment of the batch of these tests.
func dueDay(d float64) time.Time {
	return time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC).Add(time.Duration(d * 24 * float64(time.Hour)))
}

// waiting is a notebook with one batch, begun on day 0, at the moment of a day.
func waiting(now float64, readings map[float64]float64) *trials.Notebook {
	og := 1.048
	n := &trials.Notebook{Now: dueDay(now)}
	n.Batches = []trials.Batch{{Record: trials.Record{ID: "b", Name: "moor"}, Kind: trials.KindBatch, StartedAt: dueDay(0),
		VolumeL: 12, OG: &og}}
	for at, sg := range readings {
		n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{Name: "r" + trials.Number(at)}, BatchID: "b",
			At: dueDay(at), SG: &sg})
	}
	return n
}

// putIn puts 20 g of heather loose into the batch.
func putIn(n *trials.Notebook, at float64, minutes *float64) {
	grams := 20.0
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "a", Name: "moor.a1"}, BatchID: "b",
		At: dueDay(at), Stage: trials.StageSecondary, MaterialKey: "heather", Method: trials.MethodContact, Form: "cut",
		MassG: &grams, Minutes: minutes})
}

// The rules by hand: a first reading a week after the start, the next three days after
// the last, an end when two that are two days apart agree within 0.002; then it waits
// for its bottles, and a fortnight later for its tasters (common practice, no source).
func TestWhatIsDue(t *testing.T) {
	threeDays := 3 * 24 * 60.0
	steady := map[float64]float64{8: 1.010, 11: 1.010}
	loose := func(n *trials.Notebook) { putIn(n, 12, nil) }
	timed := func(n *trials.Notebook) { putIn(n, 12, &threeDays) }
	gravity, pack := []dueKind{DueGravity}, []dueKind{DuePackage}
	for name, c := range map[string]struct {
		n    *trials.Notebook
		and  func(*trials.Notebook)
		want []dueKind
		at   float64 // day from which the first is due
		days float64
	}{
		"just begun":    {n: waiting(2, nil), want: gravity, at: 7, days: -1},
		"read once":     {n: waiting(9, map[float64]float64{8: 1.020}), want: gravity, at: 11, days: 1},
		"still falling": {n: waiting(12, map[float64]float64{8: 1.020, 11: 1.012}), want: gravity, at: 14, days: 1},
		"twice on one day": {n: waiting(12, map[float64]float64{11: 1.010, 11.5: 1.010}), want: gravity, at: 14.5,
			days: 0.5},
		"standing still":         {n: waiting(14, map[float64]float64{8: 1.012, 11: 1.010}), want: pack, at: 11, days: 3},
		"with a plant in it":     {n: waiting(14, steady), and: loose, want: []dueKind{DuePull}, at: 13, days: 2},
		"a plant for three days": {n: waiting(14, steady), and: timed, want: []dueKind{DuePull}, at: 15, days: 2},
		"something went in":      {n: waiting(16, steady), and: timed, want: gravity, at: 15, days: 5},
		"water went in": {n: waiting(14, steady), and: func(n *trials.Notebook) {
			half := 0.5
			n.Additions = []trials.Addition{{Record: trials.Record{ID: "w", Name: "moor.a1"}, BatchID: "b", At: dueDay(12),
				Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: &half}}
		}, want: pack, at: 11, days: 3},
		"in bottles with nothing in it": {n: waiting(40, steady), and: bottled},
		"in bottles": {n: waiting(40, steady), and: func(n *trials.Notebook) {
			timed(n)
			bottled(n)
		}, want: []dueKind{DueTaste}, at: 34, days: 20},
		"tasted": {n: waiting(40, steady), and: func(n *trials.Notebook) {
			timed(n)
			bottled(n)
			n.Tastings = []trials.Tasting{{Record: trials.Record{ID: "t", Name: "club"}, At: dueDay(38)}}
			n.Servings = []trials.Serving{{ID: "s", TastingID: "t", BatchID: "b", Code: "417"}}
		}},
	} {
		if c.and != nil {
			c.and(c.n)
		}
		list, err := Standings(c.n, c.n.Batches)
		if err != nil {
			t.Fatal(err)
		}
		due := DueFor(c.n, list[0])
		if len(due) != len(c.want) {
			t.Errorf("%s: %d things are due, want %v", name, len(due), c.want)
			continue
		}
		for i, d := range due {
			if d.Kind != c.want[i] || !d.At.Equal(dueDay(c.at)) || math.Abs(d.Days-c.days) > 1e-9 {
				t.Errorf("%s: %s from %s, %g days; want %s from day %g, %g", name, d.Kind, d.At, d.Days, c.want[i], c.at, c.days)
			}
		}
	}
}

// bottled closes the batch in on day 20.
func bottled(n *trials.Notebook) {
	n.Packagings = []trials.Packaging{{Record: trials.Record{ID: "p", Name: "moor.p1"}, BatchID: "b", At: dueDay(20)}}
}

// A beer without an original gravity has no strength, but what is left of it is known:
// 12 L less 2 L for a jar and less 500 mL, by hand; and of one that went into jars
// nothing to speak of is left.
func TestWhatIsLeft(t *testing.T) {
	n := waiting(14, nil)
	n.Batches[0].OG = nil
	id := "b"
	n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: "j", Name: "jar"}, Kind: trials.KindJar,
		ParentID: &id, StartedAt: dueDay(10), VolumeL: 2})
	n.Losses = []trials.Loss{{Record: trials.Record{ID: "l", Name: "moor.l1"}, BatchID: "b", At: dueDay(11),
		Kind: trials.LossTrub, VolumeL: 0.5}}
	left, err := LeftL(n)
	if err != nil || math.Abs(left["b"]-9.5) > 0.01 || math.Abs(left["j"]-2) > 0.01 {
		t.Errorf("left %v (%v)", left, err)
	}
	list, err := Standings(n, n.Batches)
	if err != nil || math.Abs(list[0].LeftL.Value-9.5) > 0.01 || list[0].ABVPct.OK || list[0].Spent() {
		t.Errorf("the batch stands %+v (%v)", list[0], err)
	}
	n.Batches[1].VolumeL = 11.4
	if list, err = Standings(n, n.Batches); err != nil || !list[0].Spent() || list[1].Spent() {
		t.Errorf("after the split %+v (%v)", list, err)
	}
}

// What is left of twice as many batches without an original gravity costs about twice as
// much, not four times: the notebook is not gone through anew for each of them.
func TestWhatIsLeftOfManyCostsAsMany(t *testing.T) {
	cost := func(batches int) uint64 {
		n := waiting(14, nil)
		first := n.Batches[0]
		first.OG, n.Batches = nil, nil
		for i := range batches {
			b := first
			b.ID, b.Name = fmt.Sprint("b", i), fmt.Sprint("moor-", i)
			n.Batches = append(n.Batches, b)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		left, err := LeftL(n)
		runtime.ReadMemStats(&after)
		if err != nil || len(left) != batches {
			t.Fatalf("%d of %d batches, %v", len(left), batches, err)
		}
		return after.TotalAlloc - before.TotalAlloc
	}
	cost(1) // the built-in materials are read once
	// a third more than twice: lists that grow take up to twice what they need
	if once, twice := cost(200), cost(400); 3*twice > 8*once {
		t.Errorf("400 batches take %d bytes, 200 of them %d", twice, once)
	}
}

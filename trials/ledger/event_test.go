package ledger

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"hedgerow/dilution"
	"hedgerow/testdata/properties"
	"hedgerow/trials"
	"hedgerow/trials/steeps"

	"pgregory.net/rapid"
)

// namesOf lists the events of a batch as "kind:name".
func namesOf(n *trials.Notebook, b trials.Batch) []string {
	var list []string
	for _, e := range Events(n, b) {
		list = append(list, string(e.Kind)+":"+e.Name)
	}
	return list
}

// family is a batch with an addition, a child split off on day 8 and a
// grandchild on day 10; things go on in each after that.
func family() (n *trials.Notebook, parent, child, grandchild trials.Batch) {
	child = trials.Batch{Record: trials.Record{ID: "c", Name: "jar-1", CreatedAt: day(8)}, ParentID: ptr("b"),
		Kind: trials.KindJar, StartedAt: day(8), VolumeL: 4}
	grandchild = trials.Batch{Record: trials.Record{ID: "g", Name: "glass-1", CreatedAt: day(10)}, ParentID: ptr("c"),
		Kind: trials.KindGlass, StartedAt: day(10), VolumeL: 0.2}
	n, parent = batchOf(jugTea(), child, grandchild,
		trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1", CreatedAt: day(4)}, At: day(4),
			Stage: trials.StageSecondary, ExtractID: ptr("x")},
		trials.Loss{Record: trials.Record{ID: "l", Name: "heather-1.l1", CreatedAt: day(9)}, At: day(9),
			Kind: trials.LossTrub, VolumeL: 1})
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "w", Name: "jar-1.a1",
		CreatedAt: day(9)}, BatchID: "c", At: day(9), Stage: trials.StageSecondary, LiquidKind: "water",
		VolumeL: ptr(0.4)})
	n.Packagings = []trials.Packaging{{Record: trials.Record{ID: "p", Name: "heather-1.p1", CreatedAt: day(7)},
		BatchID: "b", At: day(7)}}
	return n, parent, child, grandchild
}

// A child's history is its parent's up to the split: neither what happened to
// the parent later, nor its packaging, nor the split itself from outside.
func TestHistoryOfAFamily(t *testing.T) {
	n, parent, child, grandchild := family()
	cases := []struct {
		batch trials.Batch
		want  string
	}{
		{parent, "start:heather-1 addition:heather-1.a1 package:heather-1.p1 split:jar-1 loss:heather-1.l1"},
		{child, "start:heather-1 addition:heather-1.a1 split-from:jar-1 addition:jar-1.a1 split:glass-1"},
		{grandchild, "start:heather-1 addition:heather-1.a1 split-from:jar-1 addition:jar-1.a1 split-from:glass-1"},
	}
	for _, c := range cases {
		if got := strings.Join(namesOf(n, c.batch), " "); got != c.want {
			t.Errorf("%s: %s\nwant %s", c.batch.Name, got, c.want)
		}
	}
}

// By hand: the jar of 4 L gets 0.4 L of water, so every g/L falls to 4/4.4 (the
// volumes of beer and water add to within 0.05 %), in the glass too.
func TestDosesInAFamily(t *testing.T) {
	n, parent, child, grandchild := family()
	dose := func(b trials.Batch) float64 {
		l, err := Of(n, b)
		if err != nil {
			t.Fatal(err)
		}
		return l.Doses[0].GPerL[0].Value
	}
	whole := dose(parent)
	near(t, "dose in the jar", dose(child), whole*4/4.4, 1e-3*whole)
	near(t, "dose in the glass", dose(grandchild), dose(child), 1e-12)
	// 36 g x 0.85 x 0.983317 in 12.981614 L (case A of the page, in 12 L).
	near(t, "dose in the parent", whole, 36*0.85*0.983317/12.981614, 2e-3)
}

// A child of which the parent is gone still has its own history.
func TestChildOfAMissingParent(t *testing.T) {
	child := trials.Batch{Record: trials.Record{ID: "c", Name: "jar-1"}, ParentID: ptr("gone"), Kind: trials.KindJar,
		StartedAt: day(8), VolumeL: 2}
	n := &trials.Notebook{Batches: []trials.Batch{child}, Now: day(60)}
	if got := strings.Join(namesOf(n, child), " "); got != "split-from:jar-1" {
		t.Errorf("events %s", got)
	}
	if _, err := Of(n, child); err == nil {
		t.Error("a ledger without a beginning was worked out")
	}
}

// A reading takes part in the order of the moment it was written when two have
// the same time: the later record comes later.
func TestEventsOfOneMomentGoByTheirWriting(t *testing.T) {
	n, b := batchOf(
		trials.Loss{Record: trials.Record{Name: "heather-1.l1", CreatedAt: day(6).Add(time.Minute)}, At: day(5),
			Kind: trials.LossTrub, VolumeL: 1},
		trials.Reading{Record: trials.Record{Name: "heather-1.r1", CreatedAt: day(6)}, At: day(5), SG: ptr(1.02)})
	if got := strings.Join(namesOf(n, b), " "); got != "start:heather-1 reading:heather-1.r1 loss:heather-1.l1" {
		t.Error(got)
	}
}

// The ledger is a pure fold: neither the order of the records in the notebook
// nor the run changes a digit, and reading it leaves the notebook as it was.
func TestLedgerDoesNotDependOnTheOrderOfRecords(t *testing.T) {
	n, b := handBatch()
	for i := range n.Readings {
		n.Readings[i].CreatedAt = n.Readings[i].At
	}
	first, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 3 {
		rng.Shuffle(len(n.Readings), func(i, j int) { n.Readings[i], n.Readings[j] = n.Readings[j], n.Readings[i] })
		rng.Shuffle(len(n.Losses), func(i, j int) { n.Losses[i], n.Losses[j] = n.Losses[j], n.Losses[i] })
		rng.Shuffle(len(n.Additions), func(i, j int) { n.Additions[i], n.Additions[j] = n.Additions[j], n.Additions[i] })
		again, err := Of(n, b)
		if err != nil {
			t.Fatal(err)
		}
		for i := range first.Steps {
			if !reflect.DeepEqual(first.Steps[i].Result, again.Steps[i].Result) || first.Steps[i].Name != again.Steps[i].Name {
				t.Fatalf("step %d (%s) changed", i, first.Steps[i].Name)
			}
		}
		if !reflect.DeepEqual(first.Doses, again.Doses) || !reflect.DeepEqual(first.Warnings, again.Warnings) {
			t.Fatal("doses or warnings changed")
		}
	}
}

// drawBatch is a random but possible batch: a fermentation with water, tea and
// losses in any order.
func drawBatch(t *rapid.T) (*trials.Notebook, trials.Batch) {
	og := rapid.Float64Range(1.030, 1.090).Draw(t, "og")
	volume := rapid.Float64Range(5, 50).Draw(t, "volume")
	events := []any{jugTea(), func(b *trials.Batch) { b.VolumeL, b.OG, b.IBU = volume, &og, ptr(20.0) },
		trials.Addition{Record: trials.Record{ID: "tea", Name: "heather-1.a0"}, At: day(1), Stage: trials.StagePrimary,
			ExtractID: ptr("x")}}
	sg := og
	for i := range rapid.IntRange(0, 6).Draw(t, "events") {
		at := day(2 + i)
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			sg -= rapid.Float64Range(0, 0.3).Draw(t, "drop") * (sg - 1.002)
			events = append(events, trials.Reading{Record: trials.Record{Name: "heather-1.r1"}, At: at, SG: ptr(sg)})
		case 1:
			events = append(events, trials.Addition{Record: trials.Record{ID: "w", Name: "heather-1.a1"}, At: at,
				Stage: trials.StagePrimary, LiquidKind: "water",
				VolumeL: ptr(rapid.Float64Range(0.05, 2).Draw(t, "water"))})
		case 2:
			events = append(events, trials.Loss{Record: trials.Record{Name: "heather-1.l1"}, At: at,
				Kind: trials.LossTrub, VolumeL: rapid.Float64Range(0.01, 0.1).Draw(t, "share") * volume})
		case 3:
			events = append(events, trials.Addition{Record: trials.Record{ID: "s", Name: "heather-1.a2"}, At: at,
				Stage: trials.StagePrimary, LiquidKind: "sugar",
				LiquidMassG: ptr(rapid.Float64Range(10, 500).Draw(t, "sugar"))})
		}
	}
	return batchOf(events...)
}

// Whatever happens: every figure is an ordinary number inside its interval,
// water never raises a dose or the strength, and a loss changes neither. The
// account of the ledger is run with few draws; properties need no more.
func TestLedgerProperties(t *testing.T) {
	properties.CheckFew(t, func(t *rapid.T) {
		n, b := drawBatch(t)
		k, err := newBook(n, steeps.Full)
		if err != nil {
			t.Fatal(err)
		}
		builder := &ledgerBuilder{book: k, origins: origins{}}
		if err := builder.build(Events(n, b)); err != nil {
			t.Fatal(err)
		}
		results, err := builder.account.MonteCarlo(dilution.Draws{N: 200, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		for i, step := range builder.steps {
			after := results[builder.after[i]]
			ordinary(t, i, after)
			if i < 2 {
				continue
			}
			before := results[builder.after[i-1]]
			of := func(r dilution.StepResult) float64 {
				d, err := k.doseOf(builder.dosed[0], r.DosesGPerL[0], step.At)
				if err != nil {
					t.Fatal(err)
				}
				return d.GPerL[0].Value
			}
			dose, was := of(after), of(before)
			abv, abvWas := after.Estimates[dilution.QABV].Value, before.Estimates[dilution.QABV].Value
			switch {
			case step.Kind == EventLoss:
				if math.Abs(dose-was) > 1e-9*was || math.Abs(abv-abvWas) > 1e-9 {
					t.Fatalf("a loss changed the dose from %g to %g, the strength from %g to %g", was, dose, abvWas, abv)
				}
			case step.Kind == EventAddition && (dose >= was || abv > abvWas+1e-9):
				t.Fatalf("%s raised the dose from %g to %g or the strength from %g to %g", step.Addition.LiquidKind,
					was, dose, abvWas, abv)
			}
		}
	})
}

// ordinary fails unless every known figure of a step is an ordinary number with
// its interval in order.
func ordinary(t *rapid.T, step int, r dilution.StepResult) {
	for q, e := range r.Estimates {
		if !e.OK {
			continue
		}
		if sum := e.Value + e.Low + e.High + e.U; math.IsNaN(sum) || math.IsInf(sum, 0) {
			t.Fatalf("step %d, quantity %d: %+v", step, q, e)
		}
		if e.Low > e.High {
			t.Fatalf("step %d, quantity %d: from %g down to %g", step, q, e.Low, e.High)
		}
	}
}

package planning

import (
	"strings"
	"testing"

	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// recorded is a plan of three jars from a batch of 12 L, written into its
// notebook as a command would.
func recorded(t *testing.T, kind string) (*trials.Notebook, trials.Batch, trials.Plan) {
	t.Helper()
	n, b := batchOf(trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(9), SG: ptr(1.010)})
	q := hibiscusSeries(0, 1, 2)
	q.BeerL, q.PourStepL, q.ScaleStepG = 2, 0.001, 0.1
	if kind == trials.PlanBatch {
		q.DosesGPerL, q.BeerL, q.All = []float64{2}, 12, true
	}
	d, err := Amounts(n, shipped(t), q)
	if err != nil {
		t.Fatal(err)
	}
	m, err := RecordsOf(n, "split-1", kind, b, d, day(10))
	if err != nil {
		t.Fatal(err)
	}
	return write(n, m), b, m.Plan
}

// write puts made records into a notebook, with the times that the store gives.
func write(n *trials.Notebook, m Made) *trials.Notebook {
	out := withMade(n, m)
	for i := range out.Batches {
		if out.Batches[i].CreatedAt.IsZero() {
			out.Batches[i].CreatedAt = day(10)
		}
	}
	for i := range out.Additions {
		if out.Additions[i].CreatedAt.IsZero() {
			out.Additions[i].CreatedAt = day(10)
		}
	}
	return out
}

// doseIn is the dose that the ledger finds in a batch.
func doseIn(t *testing.T, n *trials.Notebook, name string) float64 {
	t.Helper()
	b, err := n.Batch(name)
	if err != nil {
		t.Fatal(err)
	}
	l, err := ledger.Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, d := range l.Doses {
		sum += d.GPerL[0].Value
	}
	return sum
}

// The ledger of the jars finds the doses that the plan promised; beer and tea
// volumes add to within 0.2 %.
func TestRecordedPlanReachesItsDoses(t *testing.T) {
	n, b, p := recorded(t, trials.PlanSplit)
	for _, v := range p.Design.Vessels {
		near(t, v.Name, doseIn(t, n, v.Name), v.ReachedGPerL, 0.002*v.AimGPerL)
	}
	holds, ok := holdsL(n, b)
	if !ok {
		t.Fatal("the parent has no account")
	}
	near(t, "left of the parent", holds, 6, 0.05)
}

func TestRecordedBatch(t *testing.T) {
	n, b, _ := recorded(t, trials.PlanBatch)
	near(t, "dose", doseIn(t, n, b.Name), 2, 0.01)
}

// 12 L of wort are 11.95 L of beer (it contracts by 0.4 %): 11.9 L fit, 12.9 L do
// not; a name that is no name is refused.
func TestPlanThatDoesNotFit(t *testing.T) {
	n, b := batchOf(trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(9), SG: ptr(1.010)})
	if err := CheckRoom(n, b, 2, 5.95); err != nil {
		t.Errorf("11.9 L of 12 L: %v", err)
	}
	err := CheckRoom(n, b, 3, 4.3)
	if trials.CodeOf(err) != trials.Invalid ||
		!strings.Contains(err.Error(), "3 vessels of 4.3 L are 12.9 L of beer, but heather-1 holds 11.9") {
		t.Errorf("12.9 L of 12 L: %v", err)
	}
	one := trials.Design{Vessels: []trials.Vessel{{Number: 1, BeerL: 2}}}
	if _, err := RecordsOf(n, "a\nb", trials.PlanSplit, b, one, day(10)); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("a bad name: %v", err)
	}
	for _, kind := range []string{trials.PlanSplit, trials.PlanBench, trials.PlanBatch} {
		_, err := RecordsOf(n, "empty", kind, b, trials.Design{}, day(10))
		if trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), "has no vessel") {
			t.Errorf("a %s without a vessel: %v", kind, err)
		}
	}
}

// Done as planned, nothing changes but the time; corrections change only what
// they name, and a second correction keeps the first.
func TestPlanDone(t *testing.T) {
	n, _, p := recorded(t, trials.PlanSplit)
	m, err := Complete(n, p, Done{At: day(11)})
	if err != nil {
		t.Fatal(err)
	}
	n = write(n, m)
	if len(m.Dropped) != 0 || m.Plan.DoneAt == nil || !m.Batches[1].StartedAt.Equal(day(11)) ||
		!m.Extract.MadeAt.Equal(day(11)) {
		t.Errorf("done as planned: %+v", m)
	}
	near(t, "as planned", doseIn(t, n, "split-1-2"), p.Design.Vessels[1].ReachedGPerL, 0.002)

	poured := p.Design.Vessels[1].PourL / 2 // there is no more than was planned
	m, err = Complete(n, m.Plan, Done{At: day(11), PourL: map[int]float64{2: poured}, WaterL: map[int]float64{1: 0, 2: 0}})
	if err != nil {
		t.Fatal(err)
	}
	n = write(n, m)
	if len(m.Dropped) != 2 {
		t.Errorf("%d additions were dropped, want the two waters", len(m.Dropped))
	}
	near(t, "poured half as much", doseIn(t, n, "split-1-2"), poured*p.Design.CarriesGPerL/(2+poured), 0.005)

	m, err = Complete(n, m.Plan, Done{At: day(11), BeerL: map[int]float64{3: 1}, WaterL: map[int]float64{1: 0.1}})
	if err != nil {
		t.Fatal(err)
	}
	n = write(n, m)
	near(t, "the first correction stays", doseIn(t, n, "split-1-2"), poured*p.Design.CarriesGPerL/(2+poured), 0.005)
	third := p.Design.Vessels[2]
	near(t, "half the beer", doseIn(t, n, "split-1-3"), third.PourL*p.Design.CarriesGPerL/(1+third.PourL), 0.005)
	b, _ := n.Batch("split-1-1")
	if l, err := ledger.Of(n, b); err != nil || l.Last().State().VolumeL.Value < 2.09 {
		t.Errorf("water that came back: %v", err)
	}
}

func TestPlanDoneRefuses(t *testing.T) {
	n, _, p := recorded(t, trials.PlanSplit)
	for what, d := range map[string]Done{
		"a vessel that is not there": {At: day(10), PourL: map[int]float64{4: 0.1}},
		"a pass that is not there":   {At: day(10), RecoveredL: map[int]float64{3: 0.1}},
		"more than the extract gave": {At: day(10), PourL: map[int]float64{2: 90}},
		"no mass":                    {At: day(10), MassG: ptr(0.0)},
		"before the batch began":     {At: day(-3)},
	} {
		if _, err := Complete(n, p, d); trials.CodeOf(err) != trials.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
	if _, err := Plan(n, "split"); trials.CodeOf(err) != trials.NotFound {
		t.Errorf("unknown plan: %v", err)
	}
}

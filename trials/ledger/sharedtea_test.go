package ledger

import (
	"testing"
	"time"

	"hedgerow/trials"
)

// The ledgers of two beers share the tea by the same reckoning: a third of 36 g in
// 10.1 L, and after the top-up a sixth. All but 300 mL of what is in the pot, 450 mL,
// 3.6 g of water and the volume of 0.63 of 32.4 g, is held. The second gets half as many solids.
func TestLedgersShareOneTea(t *testing.T) {
	x := jugTea()
	x.Passes = x.Passes[:1]
	x.Passes[0].HeldL = ptr((450 + 3.6/0.99820123 + 0.60*0.63*32.4 - 300) / 1000)
	x.TopUps = []trials.TopUp{{At: day(10).Add(30 * time.Minute), VolumeL: 0.2}}
	n := &trials.Notebook{Extracts: []trials.Extract{x}, Now: day(60)}
	for i, id := range []string{"a", "b"} {
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: id, Name: "beer-" + id}, VolumeL: 10})
		n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: id, Name: "beer-" + id + ".a1"},
			BatchID: id,
			At:      day(10).Add(time.Duration(i) * time.Hour), ExtractID: &x.ID, PouredL: ptr(0.1)})
	}
	for i := range n.Batches {
		b := &n.Batches[i]
		b.Kind, b.StartedAt, b.OG = trials.KindBatch, day(0), ptr(1.048)
	}
	var rise [2]float64
	for i, want := range []float64{36.0 / 3 / 10.1, 36.0 / 6 / 10.1} {
		l, err := Of(n, n.Batches[i])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "as weighed", l.Doses[0].AsWeighed, want, 1e-3)
		rise[i] = l.Last().Result.State.ExtractKg - l.Steps[0].Result.State.ExtractKg
	}
	near(t, "solids of the second over the first", rise[1]/rise[0], 0.5, 1e-6)
}

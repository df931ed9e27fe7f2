package dilution

import (
	"fmt"
	"math"
	"math/rand/v2"

	"hedgerow/trials/figure"
)

// Draws says how a Monte Carlo run is made. The same seed gives the same
// answer.
type Draws struct {
	N    int    // number of draws, 100..5000000; [13] asks for 200000
	Seed uint64 // seed of the generator
}

// level is the coverage of the intervals.
const level = 0.95

// StepResult is one snapshot with its estimates.
type StepResult struct {
	Snapshot // from the best values
	// Estimates are indexed by Quantity; not OK where the figure is not known.
	Estimates [NumQuantities]figure.Estimate
	// DosesGPerL are the tracers' grams still there per litre, in the order of
	// Account.Tracers; not OK before a tracer went in.
	DosesGPerL []figure.Estimate
	// Changes are this snapshot less the one of Account.Since, by Quantity: errors
	// that both share cancel. Not OK where none was asked for or either is unknown.
	Changes [NumQuantities]figure.Estimate
}

// MonteCarlo runs the account on Draws.N sets of values drawn within the limits
// and returns, at the start and after each step, the value from the best
// values, the sample standard deviation as U, and the 2.5 and 97.5 % quantiles
// [13], linear between order statistics.
//
// QABV has a normal model error of ModelABVPct added where the strength comes from
// gravities, and a rectangular one of YieldURel of what was fermented, one error of
// each kind for a whole draw; it does not go below zero.
// Draws follow the branches of the best values: a gravity that had risen is
// ignored in every draw. A draw that cannot be (less than no water, more lost
// than there is) is brought back to what can: limits that wide say little.
//
// Errors are those of Run, and a number of draws outside 100..5000000.
func (a Account) MonteCarlo(d Draws) ([]StepResult, error) {
	if d.N < 100 || d.N > 5_000_000 {
		return nil, fmt.Errorf("%d draws are outside 100 to 5000000", d.N)
	}
	p, err := a.compile()
	if err != nil {
		return nil, err
	}
	snaps, err := p.run()
	if err != nil {
		return nil, err
	}
	sim := p.simulation(d)
	for t, tracer := range p.tracers {
		sim.keptAt[t] = snaps[tracer.AfterStep].KeptShare
	}
	results := make([]StepResult, len(snaps))
	for i := range snaps {
		sim.advance(i)
		results[i] = sim.summarise(i, snaps)
	}
	return results, nil
}

// simulation runs all draws one step at a time: the states of the draws stay in
// a list, so that one set of columns serves every step.
type simulation struct {
	*program
	rng     *rand.PCG
	common  [][]float64 // common errors by key and draw, -1..1
	model   []float64   // model error by draw, standard normal
	yield   []float64   // error of the yield by draw, -1..1
	batches []batch
	amounts [][]float64              // tracer amounts over kept share at entry, by tracer and draw
	keptAt  []float64                // kept share on the best values when each tracer went in
	columns [NumQuantities][]float64 // figures of the present step, by draw
	dose    []float64                // doses of one tracer, by draw
	scratch []float64                // for quantiles
	// kept are the columns of snapshots that later ones are compared with.
	kept map[int][NumQuantities][]float64
}

// simulation prepares the draws and takes the common errors first, so that
// adding a step to an account leaves those of the hydrometer as they were.
func (p *program) simulation(d Draws) *simulation {
	sim := &simulation{
		program: p,
		// the second word is fixed, so that the one number that is printed repeats the draws
		rng:     rand.NewPCG(d.Seed, 0x9e3779b97f4a7c15),
		batches: make([]batch, d.N),
		model:   make([]float64, d.N),
		yield:   make([]float64, d.N),
		dose:    make([]float64, d.N),
		scratch: make([]float64, d.N),
		keptAt:  make([]float64, len(p.tracers)),
		kept:    map[int][NumQuantities][]float64{},
	}
	for q := range sim.columns {
		sim.columns[q] = make([]float64, d.N)
	}
	for range p.keys {
		column := make([]float64, d.N)
		for i := range column {
			column[i] = sim.rectangular()
		}
		sim.common = append(sim.common, column)
	}
	normal := rand.New(sim.rng)
	for i := range sim.model {
		sim.model[i] = normal.NormFloat64()
	}
	// A stream of its own leaves the draws of the inputs as they were.
	yields := rand.New(rand.NewPCG(d.Seed, 0xd1b54a32d192ed03))
	for i := range sim.yield {
		sim.yield[i] = 2*yields.Float64() - 1
	}
	sim.amounts = make([][]float64, len(p.tracers))
	return sim
}

// rectangular returns a draw from -1..1.
func (sim *simulation) rectangular() float64 {
	return float64(sim.rng.Uint64()>>11)*(2.0/(1<<53)) - 1
}

// draw fills x with values of the inputs from, from+1, ... for draw d. An input
// without doubt takes no random number.
func (sim *simulation) draw(x []float64, from, d int) {
	for i := range x {
		in := &sim.inputs[from+i]
		x[i] = in.Value
		// without this a figure without doubt would shift the random numbers of all that follow
		if in.HalfWidth != 0 {
			x[i] += in.HalfWidth * sim.rectangular()
		}
		if k := sim.key[from+i]; k >= 0 {
			x[i] += in.SharedHalfWidth * sim.common[k][d]
		}
	}
}

// advance takes every draw through the start (0) or step i and fills the
// columns. Nothing is allocated per draw.
func (sim *simulation) advance(i int) {
	span := sim.spans[i]
	x := make([]float64, span.to-span.from)
	var out figures
	for d := range sim.batches {
		b := &sim.batches[d]
		sim.draw(x, span.from, d)
		if i == 0 {
			*b = batch{State: sim.start.state(x), kept: 1}
		} else {
			// Draws never fail: apply brings them back to what is possible.
			_, _ = sim.steps[i-1].apply(x, b, sim.kinds[i-1])
		}
		b.State.measure(&out)
		for q := range out {
			sim.columns[q][d] = out[q]
		}
	}
	sim.enterTracers(i)
}

// enterTracers draws the amounts of the tracers that go in with step i.
func (sim *simulation) enterTracers(i int) {
	x := make([]float64, 1)
	for t, tracer := range sim.tracers {
		if tracer.AfterStep != i {
			continue
		}
		sim.amounts[t] = make([]float64, len(sim.batches))
		for d := range sim.batches {
			sim.draw(x, sim.program.amounts+t, d)
			// over the share kept so far: what was lost before this went in took nothing of it
			sim.amounts[t][d] = max(x[0], 0) / sim.batches[d].kept
		}
	}
}

// summarise turns the columns of step i into estimates. Doses are taken first,
// for the search of quantiles changes the column of volumes.
func (sim *simulation) summarise(i int, snaps []Snapshot) StepResult {
	snap := snaps[i]
	r := StepResult{Snapshot: snap, DosesGPerL: make([]figure.Estimate, len(sim.tracers))}
	var best figures
	snap.State.measure(&best)
	for t := range sim.tracers {
		r.DosesGPerL[t] = sim.doseOf(t, i, snap)
	}
	// before the model blurs the strength: its errors do not cancel as those of the inputs do
	r.Changes = sim.changes(i, snaps)
	sim.keep(i)
	sim.blur(sim.columns[QABV], sim.doubtOf(&snap.State))
	for d, x := range sim.columns[QABV] {
		sim.columns[QABV][d] = max(x, 0) // no strength is below zero
	}
	for q := range NumQuantities {
		if snap.State.known(q) {
			r.Estimates[q] = estimate(best[q], sim.columns[q], sim.scratch)
		}
	}
	// A reading drawn above the original gravity counts against the others, so
	// that they are not biased, but no strength is below zero.
	abv := &r.Estimates[QABVInputs]
	abv.Low = max(abv.Low, 0)
	return r
}

// blur adds what the model leaves in doubt of a strength, one error of each kind
// for a whole draw.
func (sim *simulation) blur(abv []float64, doubt StrengthDoubt) {
	ofYield := doubt.YieldRel * math.Sqrt(3) * doubt.FermentedPct
	if doubt.ModelPct == 0 && ofYield == 0 {
		return
	}
	for d := range abv {
		abv[d] += doubt.ModelPct*sim.model[d] + ofYield*sim.yield[d]
	}
}

// doseOf estimates tracer t after step i: in each draw the amount, times what
// has been kept of it since it went in, over the volume.
func (sim *simulation) doseOf(t, i int, snap Snapshot) figure.Estimate {
	if sim.amounts[t] == nil {
		return figure.Estimate{}
	}
	for d := range sim.batches {
		sim.dose[d] = sim.amounts[t][d] * sim.batches[d].kept / sim.columns[QVolumeL][d]
	}
	best := sim.best[sim.program.amounts+t] * snap.KeptShare / sim.keptAt[t] / snap.State.VolumeL()
	return estimate(best, sim.dose, sim.scratch)
}

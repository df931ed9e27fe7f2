package dilution

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// contribution is what one source of error adds to a standard uncertainty. The
// first of a budget tells the user what to measure better.
type contribution struct {
	Name string  // of the input, the key of a common error, or the model
	Step int     // step of the input, 0 the start; -1 for a common or model error
	U    float64 // sensitivity times standard uncertainty, with its sign
}

// budget is the first-order uncertainty of one figure, u^2 = sum of U^2 over
// Parts. Sources that do not touch the figure are left out.
type budget struct {
	Value float64
	U     float64        // root of the sum of squares of Parts
	Parts []contribution // largest first; nil when nothing is in doubt
	OK    bool           // false when the figure is not known
}

// StepBudget holds the budgets after a step.
type StepBudget struct {
	Quantities [NumQuantities]budget
	DosesGPerL []budget // in the order of Account.Tracers
}

// FirstOrder returns the standard uncertainty of every figure at the start and
// after each step by first-order propagation,
//
//	u^2 = sum over sources of (c u_source)^2,  u_source = limit / root of 3
//
// c by central difference with step u/100 [13]. A common error is one source:
// its effects through all its inputs add before squaring, which is what makes
// two readings of one hydrometer correlate. QABV has what StrengthDoubt adds.
func (a Account) FirstOrder() ([]StepBudget, error) {
	p, err := a.compile()
	if err != nil {
		return nil, err
	}
	snaps, err := p.run()
	if err != nil {
		return nil, err
	}
	return p.budgets(snaps), nil
}

// budgets adds up the effects of all sources after each step.
func (p *program) budgets(snaps []Snapshot) []StepBudget {
	budgets := p.blankBudgets(snaps)
	for _, s := range p.sources() {
		// a hundredth is small enough to be straight and large enough that rounding does not show
		up, down := p.trace(s.shifted(p, +0.01)), p.trace(s.shifted(p, -0.01))
		for i := range budgets {
			budgets[i].add(s, up[i], down[i])
		}
	}
	for i := range budgets {
		budgets[i].close(p.doubtOf(&snaps[i].State))
	}
	return budgets
}

// source is one independent error: an input's own, or a common one that moves
// several inputs.
type source struct {
	contribution     // without U
	input        int // index of the input; -1 for a common error
	key          int // index of the key; -1 for an input's own error
}

// sources lists the errors that are not zero, an input without a name as its
// place in its step.
func (p *program) sources() []source {
	var out []source
	step := 0
	for i, in := range p.inputs {
		for step+1 < len(p.spans) && i >= p.spans[step].to {
			step++
		}
		if in.HalfWidth == 0 {
			continue
		}
		name := in.Name
		if name == "" {
			name = fmt.Sprintf("value %d", i-p.spans[step].from+1)
		}
		at := step
		if i >= p.amounts {
			at = p.tracers[i-p.amounts].AfterStep
		}
		out = append(out, source{contribution{Name: name, Step: at}, i, -1})
	}
	for k, name := range p.keys {
		// an error that several readings share belongs to no single step
		out = append(out, source{contribution{Name: name, Step: -1}, -1, k})
	}
	return out
}

// shifted returns the best values with the source moved by share of its
// standard uncertainty.
func (s source) shifted(p *program, share float64) []float64 {
	x := slices.Clone(p.best)
	for i, in := range p.inputs {
		if i == s.input {
			x[i] += share * in.HalfWidth / math.Sqrt(3)
		}
		if s.key >= 0 && p.key[i] == s.key {
			x[i] += share * in.SharedHalfWidth / math.Sqrt(3)
		}
	}
	return x
}

// traced is what one run gives after a step.
type traced struct {
	figures
	doses []float64 // zero before the tracer went in
}

// trace runs the account on the values x along the branches of the best ones,
// and gives the figures at the start and after each step.
func (p *program) trace(x []float64) []traced {
	out := make([]traced, 0, len(p.spans))
	kept := make([]float64, len(p.tracers)) // kept share when each tracer went in
	var b batch
	for i, span := range p.spans {
		if i == 0 {
			b = batch{State: p.start.state(x[span.from:span.to]), kept: 1}
		} else {
			// shifted values never fail: apply brings them back to what is possible
			_, _ = p.steps[i-1].apply(x[span.from:span.to], &b, p.kinds[i-1])
		}
		t := traced{doses: make([]float64, len(p.tracers))}
		b.State.measure(&t.figures)
		for j, tracer := range p.tracers {
			if tracer.AfterStep == i {
				kept[j] = b.kept
			}
			if tracer.AfterStep <= i {
				t.doses[j] = x[p.amounts+j] * b.kept / kept[j] / t.figures[QVolumeL]
			}
		}
		out = append(out, t)
	}
	return out
}

// blankBudgets returns budgets with their values only.
func (p *program) blankBudgets(snaps []Snapshot) []StepBudget {
	out := make([]StepBudget, len(snaps))
	for i, t := range p.trace(p.best) {
		for q := range NumQuantities {
			out[i].Quantities[q] = budget{Value: t.figures[q], OK: snaps[i].State.known(q)}
		}
		out[i].DosesGPerL = make([]budget, len(p.tracers))
		for j, tracer := range p.tracers {
			out[i].DosesGPerL[j] = budget{Value: t.doses[j], OK: tracer.AfterStep <= i}
		}
	}
	return out
}

// add enters the effect of one source.
func (sb *StepBudget) add(s source, up, down traced) {
	for q := range sb.Quantities {
		sb.Quantities[q].add(s, up.figures[q]-down.figures[q])
	}
	for j := range sb.DosesGPerL {
		sb.DosesGPerL[j].add(s, up.doses[j]-down.doses[j])
	}
}

// add enters a difference over two hundredths of a standard uncertainty. One
// that is only rounding is no contribution.
// an effect of rounding alone would list every input as a cause of every figure
func (b *budget) add(s source, difference float64) {
	if !b.OK || math.Abs(difference) <= 1e-13*math.Abs(b.Value) {
		return
	}
	part := s.contribution
	part.U = difference / 0.02
	b.Parts = append(b.Parts, part)
}

// close adds what the model leaves in doubt to the strength, then sums and sorts
// every budget.
func (sb *StepBudget) close(d StrengthDoubt) {
	for q := range sb.Quantities {
		// the strength waits for the part of the model
		if Quantity(q) != QABV {
			sb.Quantities[q].close()
		}
	}
	abv := &sb.Quantities[QABV]
	abv.blame(modelError, d.ModelPct)
	abv.blame(YieldError, d.YieldRel*d.FermentedPct)
	abv.close()
	d.InputsPct = sb.Quantities[QABVInputs].U
	abv.U = d.U()
	for j := range sb.DosesGPerL {
		sb.DosesGPerL[j].close()
	}
}

// blame adds a part that comes from the model, unless it is none.
func (b *budget) blame(name string, u float64) {
	if u != 0 {
		b.Parts = append(b.Parts, contribution{Name: name, Step: -1, U: u})
	}
}

// close sums the parts and puts the largest first; equal ones keep the order of
// the inputs.
func (b *budget) close() {
	for _, part := range b.Parts {
		b.U = rootSumSquare(b.U, part.U)
	}
	slices.SortStableFunc(b.Parts, func(x, y contribution) int {
		return cmp.Compare(math.Abs(y.U), math.Abs(x.U))
	})
}

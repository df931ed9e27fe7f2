package dilution

import (
	"math"

	"hedgerow/trials/figure"
)

// Propagate returns the batch at the start and after each step like MonteCarlo,
// with intervals of the coverage Level by first-order propagation in place of
// draws: a hundred times faster, for accounts by the hundred. U is that of
// FirstOrder; the interval is symmetric about the value, as wide as that of the
// largest rectangular error beside a normal one of the others (Budget.Half).
//
// Where the limits are so wide that a figure bends within them, the interval is
// off by what it bends; MonteCarlo is for the account that is shown.
//
// Errors are those of Run.
func (a Account) Propagate() ([]StepResult, error) {
	p, err := a.compile()
	if err != nil {
		return nil, err
	}
	snaps, err := p.run()
	if err != nil {
		return nil, err
	}
	budgets := p.budgets(snaps)
	results := make([]StepResult, len(snaps))
	for i, b := range budgets {
		r := StepResult{Snapshot: snaps[i], DosesGPerL: make([]figure.Estimate, len(b.DosesGPerL))}
		for q := range b.Quantities {
			r.Estimates[q] = b.Quantities[q].estimate()
		}
		if from, ok := p.sinceOf(i); ok {
			changes := budgets[i].since(&budgets[from], p.changeDoubt(&snaps[from], &snaps[i]))
			for q := range changes {
				r.Changes[q] = changes[q].estimate()
			}
		}
		for t := range b.DosesGPerL {
			r.DosesGPerL[t] = b.DosesGPerL[t].estimate()
		}
		// an interval symmetric about a weak beer reaches below no alcohol at all
		for _, q := range []Quantity{QABV, QABVInputs} {
			r.Estimates[q].Low = max(r.Estimates[q].Low, 0)
		}
		results[i] = r
	}
	return results, nil
}

// BestValues returns the batch at the start and after each step without any
// interval, for where only the figures themselves are looked at.
//
// Errors are those of Run.
func (a Account) BestValues() ([]StepResult, error) {
	p, err := a.compile()
	if err != nil {
		return nil, err
	}
	snaps, err := p.run()
	if err != nil {
		return nil, err
	}
	results := make([]StepResult, len(snaps))
	for i, t := range p.trace(p.best) {
		r := StepResult{Snapshot: snaps[i], DosesGPerL: make([]figure.Estimate, len(p.tracers))}
		for q := range NumQuantities {
			if snaps[i].State.known(q) {
				r.Estimates[q] = figure.Estimate{Value: t.figures[q], OK: true}
			}
		}
		for j, tracer := range p.tracers {
			if tracer.AfterStep <= i {
				r.DosesGPerL[j] = figure.Estimate{Value: t.doses[j], OK: true}
			}
		}
		results[i] = r
	}
	return results, nil
}

// estimate is the budget as a figure with its interval.
func (b *budget) estimate() figure.Estimate {
	if !b.OK {
		return figure.Estimate{}
	}
	half := b.half()
	return figure.Estimate{Value: b.Value, U: b.U, Low: b.Value - half, High: b.Value + half, Level: level,
		HasBounds: half > 0, OK: true}
}

// half returns half the width of the interval of coverage Level: the x with
// F(x) = (1 + Level)/2, where F is the distribution of a rectangular error of
// half-width a, the largest part, and a normal one of standard deviation s, the
// root of the sum of squares of the others,
//
//	F(x) = [(x+a) P((x+a)/s) - (x-a) P((x-a)/s) + s p((x+a)/s) - s p((x-a)/s)] / 2a
//
// P and p being the normal distribution and its density. A rectangle alone gives
// Level a, many parts of one size 1.96 U. The model error is normal.
func (b *budget) half() float64 {
	a, rest := 0.0, 0.0
	for _, part := range b.Parts {
		// the shape of the largest part decides how far the interval goes; the others blur towards a
		// normal one
		u := math.Abs(part.U)
		if part.Name == modelError || u*math.Sqrt(3) <= a {
			rest = math.Hypot(rest, u)
			continue
		}
		rest = math.Hypot(rest, a/math.Sqrt(3))
		a = u * math.Sqrt(3)
	}
	switch {
	case rest == 0:
		return level * a
	case a == 0:
		return normalHalf * rest
	}
	// beyond the rectangle and six standard deviations nothing is left to find
	low, high := 0.0, a+6*rest
	for range 60 {
		middle := (low + high) / 2
		if besideNormal(middle, a, rest) < (1+level)/2 {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// normalHalf is the 97.5 % point of the normal distribution.
const normalHalf = 1.959963984540054

// besideNormal is F of Budget.Half.
func besideNormal(x, a, s float64) float64 {
	return (integral((x+a)/s) - integral((x-a)/s)) * s / (2 * a)
}

// integral is z P(z) + p(z), whose derivative is the normal distribution P(z).
func integral(z float64) float64 {
	return z*math.Erfc(-z/math.Sqrt2)/2 + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)
}

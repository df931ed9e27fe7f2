package extraction

import (
	"fmt"

	"hedgerow/trials/figure"
)

// Entry is one method to be compared: a steep with where it goes.
type Entry struct {
	// Name is what the row is called.
	Name string
	// Steep is the method.
	Steep Steep
	// Mix is where it goes.
	Mix Mix
}

// Comparison is several methods for one material, side by side.
type Comparison struct {
	// Class is the solute class compared.
	Class Class
	// Rows are in the order given.
	Rows []comparisonRow
	// Pairs are every two rows, first before second.
	Pairs []pair
	// N is the number of draws.
	N int
	// Seed is the seed they came from.
	Seed uint64
	// Warnings say which rows are places only.
	Warnings []string
}

// comparisonRow is one method of a comparison.
type comparisonRow struct {
	// Name is that of the entry.
	Name string
	// Dose is the effective dose of the class, g per litre.
	Dose Band
	// AddedL is the liquid that it adds, L.
	AddedL float64
	// MixL is the beer after mixing, L.
	MixL float64
	// Minutes is the time of all passes.
	Minutes float64
	// Handlings counts the work, see Steep.Handlings.
	Handlings int
	// RankingOnly says that the number is not to be shown, only its place.
	RankingOnly bool
	// Reasons say why; empty when the number may be shown.
	Reasons []string
	// Warnings are those of the steep.
	Warnings []string
}

// call is what the draws allow to say about two methods.
type call string

// The calls. Between the tie probabilities nothing can be told.
const (
	stronger   call = "clear: first is stronger"
	weaker     call = "clear: second is stronger"
	cannotTell call = "cannot tell"
)

// Probabilities between which nothing can be told, a rule of the house.
const (
	tieLow  = 0.25
	tieHigh = 0.75
)

// pair compares row First with row Second of a comparison.
type pair struct {
	// First and Second are indices of rows.
	First, Second int
	// P is the probability that First gives the higher effective dose.
	P float64
	// Ratio is First over Second with its 80 % interval; Level is 0 when Second
	// may give nothing, and there is no ratio.
	Ratio figure.Estimate
	// Call is what P allows to say.
	Call call
}

// IsClear reports whether the pair can be told apart.
func (p pair) IsClear() bool { return p.Call != cannotTell }

// Compare returns the methods side by side for one class. The figures that the
// methods share are drawn once for all of them, agitation and measuring errors
// once for each. Two methods must be for one material: between materials the
// effective dose says nothing. It errs for fewer than one entry, and names the
// entry whose steep or mix is refused.
func Compare(class Class, entries []Entry, draws Draws) (Comparison, error) {
	n, err := draws.count()
	if err != nil {
		return Comparison{}, err
	}
	if len(entries) == 0 {
		return Comparison{}, refuse("give at least one method", "nothing to compare")
	}
	if class < 0 || class >= classCount {
		return Comparison{}, refuse("choose one of the solute classes", "class %d is not in the table", int(class))
	}
	candidates := make([]candidate, len(entries))
	points := make([]float64, len(entries))
	out := Comparison{Class: class, N: n, Seed: draws.Seed}
	for i := range entries {
		row, point, err := entries[i].prepare(class, &candidates[i])
		if err != nil {
			return Comparison{}, inEntry(entries[i].Name, err)
		}
		points[i] = point
		out.Rows = append(out.Rows, row)
	}
	samples := sampleAll(class, candidates, n, draws.Seed)
	out.Pairs = pairs(points, samples)
	for i := range out.Rows {
		out.Rows[i].Dose = newBand(points[i], samples[i])
	}
	out.rank(entries)
	return out, nil
}

// inEntry says which of the methods an error belongs to.
func inEntry(name string, err error) error {
	refused, ok := err.(*inputError)
	if !ok || name == "" {
		return err
	}
	return &inputError{Message: fmt.Sprintf("method %q: %s", name, refused.Message), Hint: refused.Hint}
}

// prepare computes the point of an entry and makes it ready to be drawn.
func (e *Entry) prepare(class Class, c *candidate) (comparisonRow, float64, error) {
	r, err := e.Steep.Run()
	if err != nil {
		return comparisonRow{}, 0, err
	}
	d, err := r.Dose(e.Mix)
	if err != nil {
		return comparisonRow{}, 0, err
	}
	*c, err = newCandidate(&e.Steep, e.Mix)
	row := comparisonRow{Name: e.Name, AddedL: d.AddedL, MixL: d.MixL, Minutes: r.Minutes,
		Handlings: e.Steep.handlings(), Reasons: r.rankingReasons(class), Warnings: r.Warnings}
	return row, d.EffectiveGPerL[class], err
}

// sampleAll draws all candidates together; samples[i][j] is draw j of entry i.
func sampleAll(class Class, candidates []candidate, n int, seed uint64) [][]float64 {
	samples := make([][]float64, len(candidates))
	for i := range samples {
		samples[i] = make([]float64, n)
	}
	rng, d, classes := newRand(seed), centralDraw(), everyClass[class:class+1]
	// drawn in one loop for all methods: a rate that all share must move all of them in the same draw
	var s shared
	var o own
	forms := formsOf(candidates)
	for j := range n {
		s.draw(rng, forms)
		for i := range candidates {
			o.draw(rng, &candidates[i])
			candidates[i].figures(&s, &o, classes, &d)
			_, g := candidates[i].dose(&d, classes)
			samples[i][j] = g[class]
		}
	}
	return samples
}

// pairs compares every two samples draw by draw.
func pairs(points []float64, samples [][]float64) []pair {
	var list []pair
	for i := range samples {
		for j := i + 1; j < len(samples); j++ {
			list = append(list, newPair(i, j, points, samples))
		}
	}
	return list
}

// newPair counts how often one sample is above another; equal draws count half.
// Draw k of one sample is compared with draw k of the other, for they share their
// rate, ceiling and held liquid.
func newPair(i, j int, points []float64, samples [][]float64) pair {
	above, positive := 0.0, true
	ratios := make([]float64, len(samples[i]))
	for k, a := range samples[i] {
		b := samples[j][k]
		switch {
		case a > b:
			above++
		case a == b:
			above += 0.5
		}
		// one draw of nothing makes a ratio infinite: then there is no interval, not one that leaves the
		// draw out
		positive = positive && b > 0
		ratios[k] = a / b
	}
	p := pair{First: i, Second: j, P: above / float64(len(ratios))}
	// draw by draw, so that what both methods share cancels; a ratio of two bands would count it twice
	if positive && points[j] > 0 {
		p.Ratio = newBand(points[i]/points[j], ratios).At80
	}
	switch {
	case p.P > tieHigh:
		p.Call = stronger
	case p.P < tieLow:
		p.Call = weaker
	default:
		p.Call = cannotTell
	}
	return p
}

// handlings returns a count of the work in a steep, a rule of thumb: heating
// each hot liquid, straining, squeezing on top of it, and filling a bag.
func (s *Steep) handlings() int {
	n := 1 // weighing in
	for i, p := range s.stages() {
		start, _, _ := s.startC(&s.stages()[i])
		// cooler liquid needs no kettle of its own
		if !s.Method.IsDirect() && start > stillHotC {
			n++
		}
		if !s.Method.IsDirect() && p.Separation != LeftIn {
			n++
		}
		if p.Separation == Squeezed || p.Separation == ScrewPressed {
			n++
		}
		if p.InBag {
			n++
		}
	}
	return n
}

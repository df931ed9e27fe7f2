package ways

import (
	"errors"
	"fmt"

	"hedgerow/extraction"
	"hedgerow/trials/figure"
)

// Entry is one method to be compared: a steep with where it goes.
type Entry struct {
	// Name is what the row is called.
	Name string
	// Steep is the method.
	Steep extraction.Steep
	// Mix is where it goes.
	Mix extraction.Mix
}

// Comparison is several methods for one material, side by side.
type Comparison struct {
	// Class is the solute class compared.
	Class extraction.Class
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
	Dose extraction.Band
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
func Compare(class extraction.Class, entries []Entry, draws extraction.Draws) (Comparison, error) {
	if len(entries) == 0 {
		return Comparison{}, extraction.Refuse("give at least one method", "nothing to compare")
	}
	candidates := make([]extraction.Candidate, len(entries))
	results := make([]extraction.Result, len(entries))
	doses := make([]extraction.Dose, len(entries))
	out := Comparison{Class: class, Seed: draws.Seed}
	for i := range entries {
		var err error
		if results[i], doses[i], candidates[i], err = entries[i].prepare(); err != nil {
			return Comparison{}, inEntry(entries[i].Name, err)
		}
	}
	samples, err := extraction.Together(class, candidates, draws, false)
	if err != nil {
		return Comparison{}, err
	}
	out.N = len(samples[0])
	points := make([]float64, len(entries))
	for i, d := range doses {
		points[i] = d.EffectiveGPerL[class]
	}
	// before the bands, which change the order of the draws
	out.Pairs = pairs(points, samples)
	for i, e := range entries {
		dose := extraction.NewBand(points[i], samples[i])
		out.Rows = append(
			out.Rows,
			comparisonRow{Name: e.Name, Dose: dose, AddedL: doses[i].AddedL, MixL: doses[i].MixL,
				Minutes: results[i].Minutes, Handlings: handlings(&e.Steep), Warnings: results[i].Warnings,
				Reasons: results[i].RankingReasons(class, dose)},
		)
	}
	out.rank(candidates)
	return out, nil
}

// inEntry says which of the methods an error belongs to.
func inEntry(name string, err error) error {
	var refused interface{ ForUser() (message, hint string) }
	if name == "" || !errors.As(err, &refused) {
		return err
	}
	message, hint := refused.ForUser()
	return extraction.Refuse(hint, "method %q: %s", name, message)
}

// prepare computes the point of an entry and makes it ready to be drawn.
func (e *Entry) prepare() (r extraction.Result, d extraction.Dose, c extraction.Candidate, err error) {
	if r, err = e.Steep.Run(); err != nil {
		return r, d, c, err
	}
	if d, err = r.Dose(e.Mix); err != nil {
		return r, d, c, err
	}
	c, err = extraction.NewCandidate(&e.Steep, e.Mix)
	return r, d, c, err
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
		p.Ratio = extraction.NewBand(points[i]/points[j], ratios).At80
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
func handlings(s *extraction.Steep) int {
	n := 1 // weighing in
	for i, p := range s.Stages() {
		start, _, _ := s.StartC(&s.Stages()[i])
		// cooler liquid needs no kettle of its own
		if !s.Method.IsDirect() && start > extraction.StillHotC {
			n++
		}
		if !s.Method.IsDirect() && p.Separation != extraction.LeftIn {
			n++
		}
		if p.Separation == extraction.Squeezed || p.Separation == extraction.ScrewPressed {
			n++
		}
		if p.InBag {
			n++
		}
	}
	return n
}

// rank fills in which rows are only good for a ranking. Fresh against dried is a
// matter between rows: neither is doubtful on its own.
func (c *Comparison) rank(candidates []extraction.Candidate) {
	fresh, dried := 0, 0
	for i := range candidates {
		if candidates[i].IsFresh() {
			fresh++
		} else {
			dried++
		}
	}
	mixed := c.Class == extraction.Aroma && fresh > 0 && dried > 0
	for i := range c.Rows {
		row := &c.Rows[i]
		if mixed {
			row.Reasons = append(row.Reasons, "fresh against dried in the aroma class: drying loses volatiles")
		}
		row.RankingOnly = len(row.Reasons) > 0
		if row.RankingOnly {
			c.Warnings = append(c.Warnings, fmt.Sprintf("%s: place only, no number (%s)", row.Name, row.Reasons[0]))
		}
	}
}

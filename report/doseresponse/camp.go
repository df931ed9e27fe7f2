package doseresponse

import (
	"cmp"
	"math"
	"slices"

	"hedgerow/trials/figure"
)

// Limits of two camps, all judgement tried in simulation: how likely the right
// doses of the sides are campApart or more apart, and how much larger the share
// of "just right" is when each side gets its own dose.
const (
	campApart   = 1.6
	likelyGap   = 0.8
	likelyGain  = 0.08
	foundGap    = 0.9
	foundGain   = 0.15
	campStride  = 4 // every so many of the kept draws are enough for the shares
	fewestSides = 3 // tasters below which a panel has no sides
)

// A campSplit is the cut through the panel that gains most when each side gets
// its own dose. Without a panel of three it is empty.
type campSplit struct {
	Gap    float64 // chance that the right doses of the sides are x1.6 or more apart
	One    float64 // expected share of "just right" with the best dose for all
	Two    float64 // the same when each side gets its own dose
	Likely bool    // to be said, and to be served by jars and glasses
	Found  bool    // to be decided on
	Lone   bool    // one of the sides is a single taster of a panel of four or more
	Camps  []camp  // the two sides, the lower dose first; nil without a panel of three
}

// A camp is one side of a panel.
type camp struct {
	Tasters []string      // in order of name
	Dose    figure.Stated // its right dose, g/L, level 0.9
	PRight  float64       // share of "just right" of this side at its own dose

	panel []int     // its tasters in the problem
	right []float64 // mean of their relative right ln doses, one a kept draw that counts
}

// twoCamps returns the best cut of the panel into two camps: the tasters in order
// of their right dose are parted at every place that leaves two or more on
// either side (one or more of three). Which cut is best is decided by the share of
// "just right" with a dose for each side. Draws that say that the votes ignore
// the dose are left out: there is no right dose in them. Where no such cut is likely,
// one taster who stands clear of all others is named, but nothing is decided by one.
func (p *Posterior) twoCamps() campSplit { return p.campsOnce() }

// weighCamps works out twoCamps.
func (p *Posterior) weighCamps() campSplit {
	n := len(p.prob.Panel)
	if n < fewestSides || !p.scored() {
		return campSplit{}
	}
	use := p.ordinary(1)
	if len(use) == 0 {
		return campSplit{}
	}
	byDose := p.byRightDose(use)
	xs, curves := p.shareCurves()
	one, _ := bestShare(xs, curves, byDose)
	best := func(cuts ...int) campSplit {
		best := campSplit{Two: -1}
		for _, cut := range cuts {
			s := p.cutAt(byDose, cut, use, xs, curves)
			if s.Two > best.Two || (s.Two == best.Two && s.Gap > best.Gap) {
				best = s
			}
		}
		best.One = one / float64(n)
		return best
	}
	if n == fewestSides {
		// of three a side of two or more on either hand is not to be had
		return best(1, 2).judged()
	}
	var pairs []int
	for cut := 2; cut <= n-2; cut++ {
		pairs = append(pairs, cut)
	}
	s := best(pairs...).judged()
	if s.Likely {
		return s
	}
	lone := best(1, n-1)
	// one taster may stand apart by chance: as sure as for a decision, and yet none
	if lone.Gap >= foundGap && lone.Two-lone.One >= likelyGain {
		lone.Likely, lone.Lone = true, true
		return lone
	}
	return s
}

// judged returns a cut with whether there are camps. It takes both: camps far apart are
// no matter while one dose does for all, and a gain alone may be chance.
func (s campSplit) judged() campSplit {
	gain := s.Two - s.One
	s.Likely = s.Gap >= likelyGap && gain >= likelyGain
	s.Found = s.Gap >= foundGap && gain >= foundGain
	return s
}

// ordinary returns every stride-th of the kept draws in which the votes follow
// the dose.
func (p *Posterior) ordinary(stride int) []int {
	var use []int
	for i := 0; i < len(p.kept.Point); i += stride {
		if !p.points[p.kept.Point[i]].Node.Ignores {
			use = append(use, i)
		}
	}
	return use
}

// byRightDose returns the tasters of the panel in order of their mean right ln dose.
func (p *Posterior) byRightDose(use []int) []int {
	means := make([]float64, len(p.prob.Tasters))
	list := slices.Clone(p.prob.Panel)
	for _, j := range list {
		for _, i := range use {
			means[j] += p.prob.RightOf(p.kept.At(i), j)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(means[a], means[b]) })
	return list
}

// curveStep is the distance of the doses at which the shares of camps are looked
// at, ln: the windows are wide against it.
const curveStep = 0.06

// shareCurves returns relative ln doses over all that a taster may want and, for
// each of them and each taster, the expected share of "just right" of a fresh
// brew.
func (p *Posterior) shareCurves() (xs []float64, curves [][]float64) {
	use := p.ordinary(campStride)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, i := range use {
		for _, j := range p.prob.Panel {
			t := p.prob.RightOf(p.kept.At(i), j)
			lo, hi = min(lo, t), max(hi, t)
		}
	}
	n := p.kept.Tasters
	look := p.newScan()
	// only between the outermost: every window rises before a taster's right dose and falls after it
	for x := lo; x < hi+curveStep; x += curveStep {
		look.at(x)
		shares := make([]float64, n)
		for _, i := range use {
			at := p.kept.Point[i] * n
			for j := range shares {
				shares[j] += look.windows[at+j].RightAt(look.tastes[i*n+j]*look.grown[at+j]) / float64(len(use))
			}
		}
		xs, curves = append(xs, x), append(curves, shares)
	}
	return xs, curves
}

// bestShare returns the largest sum of the shares of some tasters, and the
// relative ln dose that has it.
func bestShare(xs []float64, curves [][]float64, panel []int) (top, at float64) {
	top = -1
	for k, shares := range curves {
		var sum float64
		for _, j := range panel {
			sum += shares[j]
		}
		if sum > top {
			top, at = sum, xs[k]
		}
	}
	return top, at
}

// cutAt weighs one cut: the first tasters in order of dose against the others.
func (p *Posterior) cutAt(byDose []int, cut int, use []int, xs []float64, curves [][]float64) campSplit {
	low, high := p.campOf(byDose[:cut], use, xs, curves), p.campOf(byDose[cut:], use, xs, curves)
	s := campSplit{Camps: []camp{low, high}}
	for k := range low.right {
		if high.right[k]-low.right[k] >= math.Log(campApart) {
			s.Gap += 1 / float64(len(low.right))
		}
	}
	n := float64(len(byDose))
	s.Two = (low.PRight*float64(cut) + high.PRight*(n-float64(cut))) / n
	return s
}

// campOf returns one side of a cut, its interval as that of the whole panel.
func (p *Posterior) campOf(panel, use []int, xs []float64, curves [][]float64) camp {
	top, best := bestShare(xs, curves, panel)
	c := camp{panel: panel, PRight: top / float64(len(panel))}
	for _, j := range panel {
		c.Tasters = append(c.Tasters, p.prob.Tasters[j])
	}
	slices.Sort(c.Tasters)
	for _, i := range use {
		var mean float64
		for _, j := range panel {
			mean += p.prob.RightOf(p.kept.At(i), j) / float64(len(panel))
		}
		c.right = append(c.right, mean)
	}
	sorted := slices.Sorted(slices.Values(c.right))
	q := func(share float64) float64 { return sorted[int(share*float64(len(sorted)-1)+0.5)] }
	mid := q(0.5)
	c.Dose = figure.StatedBetween(p.dose(best), p.dose(best-widened(mid-q(lowShare))),
		p.dose(best+widened(q(highShare)-mid)), level)
	return c
}

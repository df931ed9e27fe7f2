package doseresponse

import (
	"cmp"
	"math"
	"slices"
)

// commonNoise is the SD of one intensity, points, where no fit is at hand:
// the middle of the grid of sy.
const commonNoise = 1.4

// Limits of the test for intensities that do not rise with the dose, in SDs:
// a slope this far below 0, or a top dose this far below a weaker one
// ([1] section 2.1).
const (
	foldSlope = -1.645
	foldTop   = 3.0
)

// spreadFactor is the ratio of doses below which a slope cannot be told
// ([1] section 2.1).
const spreadFactor = 1.3

// dropFolded takes the intensities out of the problem when they fall where
// they should rise, as a harsh overdose makes them do: the straight line of
// the model would then push the dose the wrong way. The votes stay.
func (p *problem) dropFolded() {
	if len(p.votes) > 0 && p.intensitiesFold() {
		p.marks = nil
		p.folded = true
	}
}

// intensitiesFold reports whether the intensities fall with the dose, or
// collapse at the top dose.
func (p *problem) intensitiesFold() bool {
	doses := p.marksByDose()
	var n, sx, sxx, sxy float64
	for _, d := range doses {
		n += d.n
		sx += d.n * d.x
		sxx += d.n * d.x * d.x
		sxy += d.x * d.y
	}
	spread := sxx - sx*sx/n
	// one dose has no slope; the sums leave rounding, not 0, and no marks at all leave NaN
	if !(spread > 1e-9) {
		return false
	}
	return sxy/math.Sqrt(spread) < foldSlope*commonNoise || topFalls(doses)
}

// topFalls reports whether the top dose scores far below a clearly weaker one.
// The doses are in ascending order.
func topFalls(doses []doseMarks) bool {
	top := doses[len(doses)-1]
	for _, d := range doses {
		if top.x-d.x < math.Log(spreadFactor) {
			break
		}
		// only the top is tested: a dip further down is noise of a middle beer, not a harsh overdose
		fall := d.y/d.n - top.y/top.n
		if fall > foldTop*commonNoise*math.Sqrt(1/d.n+1/top.n) {
			return true
		}
	}
	return false
}

// doseMarks are the centred intensities of all trials of one dose.
type doseMarks struct {
	x float64 // relative ln dose
	markSum
}

// marksByDose pools the centred intensities by dose, in ascending order. Beers
// of one dose are one dose: were the test to take one of them for the top, the
// order of the records would choose it.
func (p *problem) marksByDose() []doseMarks {
	var doses []doseMarks
	for k, s := range p.centredMarks() {
		if s.n > 0 {
			doses = append(doses, doseMarks{p.trials[k].x, s})
		}
	}
	// stable, so that float sums over equal doses run in the order of the study, which is the same each time
	slices.SortStableFunc(doses, func(a, b doseMarks) int { return cmp.Compare(a.x, b.x) })
	pooled := doses[:0]
	for _, d := range doses {
		if last := len(pooled) - 1; last >= 0 && pooled[last].x == d.x {
			pooled[last].n += d.n
			pooled[last].y += d.y
			continue
		}
		pooled = append(pooled, d)
	}
	return pooled
}

// A markSum is number and sum of the intensities of a trial, each less the
// mean of its taster.
type markSum struct{ n, y float64 }

// centredMarks sums the intensities by trial.
func (p *problem) centredMarks() []markSum {
	means := make([]markSum, len(p.tasters))
	for _, m := range p.marks {
		means[m.taster].n++
		means[m.taster].y += m.y
	}
	sums := make([]markSum, len(p.trials))
	for _, m := range p.marks {
		sums[m.trial].n++
		// a generous taster who missed the strong beer would else look like intensities that fall
		sums[m.trial].y += m.y - means[m.taster].y/means[m.taster].n
	}
	return sums
}

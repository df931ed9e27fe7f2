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
func (p *problem) dropFolded(s Study) {
	if len(p.votes) > 0 && p.intensitiesFold(s) {
		p.marks = nil
		p.folded = true
	}
}

// intensitiesFold reports whether the intensities fall with the dose, or
// collapse at the top dose, among beers that may be compared. The slope is that
// within their lots, all taken together.
func (p *problem) intensitiesFold(s Study) bool {
	var spread, cross float64
	for _, doses := range p.marksByDose(s) {
		if topFalls(doses) {
			return true
		}
		var n, sx, sy, sxx, sxy float64
		for _, d := range doses {
			n += d.n
			sx += d.n * d.x
			sy += d.y
			sxx += d.n * d.x * d.x
			sxy += d.x * d.y
		}
		spread += sxx - sx*sx/n
		cross += sxy - sx*sy/n
	}
	// one dose has no slope; the sums leave rounding, not 0
	return spread > 1e-9 && cross/math.Sqrt(spread) < foldSlope*commonNoise
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

// comparableDays is how far apart in age beers may have been tasted whose
// intensities are compared: an old beer that tastes of less may have faded.
const comparableDays = 21.0

// A peer is what beers have in common whose intensities may be compared: the
// method, dosed glasses or beer, and the time that the plant was in it.
type peer struct {
	method  string
	glass   bool
	contact float64
}

// marksByDose pools the centred intensities by dose, in ascending order, in a list
// for each set of beers that may be compared: of one method and contact time, tasted
// within 21 days of age. Beers of one dose are one dose: were the test to take one
// of them for the top, the order of the records would choose it.
func (p *problem) marksByDose(s Study) [][]doseMarks {
	sums := p.centredMarks()
	var order []int
	for k := range p.trials {
		if sums[k].n > 0 {
			order = append(order, k)
		}
	}
	// stable, so that float sums run in the order of the study, which is the same each time
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(p.ageOf(s.Trials[p.trials[a].index]), p.ageOf(s.Trials[p.trials[b].index]))
	})
	var sets [][]doseMarks
	young, at := map[peer]float64{}, map[peer]int{}
	for _, k := range order {
		t := s.Trials[p.trials[k].index]
		who := peer{t.Method, t.Kind == glass, p.contact0}
		if t.timed() {
			who.contact = *t.ContactDays
		}
		age := p.ageOf(t)
		if from, ok := young[who]; !ok || age-from > comparableDays {
			young[who], at[who] = age, len(sets)
			sets = append(sets, nil)
		}
		sets[at[who]] = append(sets[at[who]], doseMarks{p.trials[k].x, sums[k]})
	}
	for i := range sets {
		sets[i] = pooled(sets[i])
	}
	return sets
}

// pooled sorts intensities by dose and adds those of one dose.
func pooled(doses []doseMarks) []doseMarks {
	slices.SortStableFunc(doses, func(a, b doseMarks) int { return cmp.Compare(a.x, b.x) })
	sum := doses[:0]
	for _, d := range doses {
		if last := len(sum) - 1; last >= 0 && sum[last].x == d.x {
			sum[last].n += d.n
			sum[last].y += d.y
			continue
		}
		sum = append(sum, d)
	}
	return sum
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

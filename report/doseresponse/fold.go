package doseresponse

import "math"

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
	sums := p.centredMarks()
	var n, sx, sxx, sxy float64
	top := -1
	for k, s := range sums {
		if s.n == 0 {
			continue
		}
		x := p.trials[k].x
		n += s.n
		sx += s.n * x
		sxx += s.n * x * x
		sxy += x * s.y
		if top < 0 || x > p.trials[top].x {
			top = k
		}
	}
	spread := sxx - sx*sx/n
	if !(spread > 1e-9) {
		return false
	}
	return sxy/math.Sqrt(spread) < foldSlope*commonNoise || p.topFalls(sums, top)
}

// topFalls reports whether the top dose scores far below a clearly weaker one.
func (p *problem) topFalls(sums []markSum, top int) bool {
	for k, s := range sums {
		if s.n == 0 || p.trials[top].x-p.trials[k].x < math.Log(spreadFactor) {
			continue
		}
		fall := s.y/s.n - sums[top].y/sums[top].n
		if fall > foldTop*commonNoise*math.Sqrt(1/s.n+1/sums[top].n) {
			return true
		}
	}
	return false
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
		sums[m.trial].y += m.y - means[m.taster].y/means[m.taster].n
	}
	return sums
}

package doseresponse

import (
	"maps"
	"slices"
)

// maxShared is how many potency numbers one trial can depend on: its brew,
// its dose error within the brew, its own dose error, its method, its glass, its
// lot, its age, the time the plant was in it.
const maxShared = 8

// A problem is a study as flat numbers. Every ln dose is relative to the
// prior mean of the right dose.
//
// The latent vector of dimension 2*tasters + shared holds, for each taster,
// the offset of the ideal ln dose and the scale offset, and then the shared
// numbers: first the common ones, the potencies of methods and glasses, the
// intensity at the right dose (alpha) and the right ln dose (theta), then those
// of the brews, brew by brew. Tasters and common numbers are the core of the
// arrow, which only grows with the panel.
type problem struct {
	origin  float64   // ln dose, g/L, that is 0 here
	tasters []string  // the panel, in order of name
	sharp   []float64 // steepness factor of each taster's votes, 1 is common
	fresh   []bool    // taster whose offset has the SD tau of the grid
	trust   []float64 // weight of each taster's answers, 1 but for those who may score at random
	panel   []int     // the tasters whose right doses count: all but those who score at random

	trials []trialTerm
	votes  []voteTerm
	marks  []markTerm
	folded bool // intensities were there and are left out

	mean, sd     []float64 // prior of the latent vector; the node's tau replaces a fresh offset's sd
	shared       int       // how many shared numbers there are
	common       int       // how many of them, the first, belong to no brew
	brewBlocks   []block   // the numbers of each brew among the rest
	alpha, theta int       // indices among the shared numbers

	methods   []string // the reference method first
	potency   []int    // index among the shared numbers, -1 for the reference
	reference string   // the method that theta is the right ln dose of
	glass     int      // index of the step from glass to beer of the reference, -1 without glasses

	times
}

// A trialTerm is a dosed trial with scores: its ln dose and the shared
// numbers that shift it.
type trialTerm struct {
	x     float64            // ln of the dose, relative to the origin
	lat   [maxShared]int     // indices of the numbers that shift it, n of them
	by    [maxShared]float64 // what each is multiplied by
	n     int
	wide  int // how many of these, the first, belong to no brew
	block int // of its brew in the problem's blocks, when there are others
	index int // of the trial in the study
}

// A voteTerm is one vote.
type voteTerm struct {
	taster, trial int // indices in the problem
	vote          int // -1, 0 or 1
}

// A markTerm is one intensity.
type markTerm struct {
	taster, trial int     // indices in the problem
	y             float64 // 0-10
}

// newProblem lays out a valid study. reference is the method whose right
// dose is asked for, or nil for the one brewed most.
func newProblem(s Study, reference *string) (*problem, error) {
	prior, ok := claimPrior(s)
	if !ok {
		return nil, ErrNotEnough
	}
	p := &problem{origin: prior.mean}
	p.listTasters(s)
	p.listMethods(s, reference)
	p.times = newTimes(s)
	newLayout(p, s).run(prior)
	p.dropFolded(s)
	return p, nil
}

// informs reports whether the trial says anything of the right dose: a dose
// above 0 with a vote or an intensity. At dose 0 the model gives every vote a
// probability that is the same whatever the right dose.
func (t Trial) informs() bool { return t.DoseGPerL > 0 && t.scored() }

// scored reports whether the trial has a vote or an intensity. A liking alone
// says nothing of the dose ([1] section 0).
func (t Trial) scored() bool {
	for _, sc := range t.Scores {
		if sc.Vote != nil || sc.Intensity != nil {
			return true
		}
	}
	return false
}

// unnamedPanel is how many tasters of whom nothing is known stand for the
// people who will drink when nobody has scored yet.
const unnamedPanel = 4

// listTasters names the panel: who voted or scored an intensity of a dosed
// trial, in order of name.
func (p *problem) listTasters(s Study) {
	for _, t := range s.Trials {
		if !t.informs() {
			continue
		}
		for _, sc := range t.Scores {
			if (sc.Vote != nil || sc.Intensity != nil) && !slices.Contains(p.tasters, sc.Taster) {
				p.tasters = append(p.tasters, sc.Taster)
			}
		}
	}
	slices.Sort(p.tasters)
	// unnamed ones have offsets too, so that advice before any score is as unsure as a panel is varied
	if len(p.tasters) == 0 {
		p.tasters = make([]string, unnamedPanel)
	}
	for _, name := range p.tasters {
		r, known := s.Remembered[name]
		sharp := 1.0
		if known && r.Sharpness > 0 {
			sharp = r.Sharpness
		}
		p.sharp = append(p.sharp, sharp)
		p.fresh = append(p.fresh, !known)
		p.trust = append(p.trust, 1)
		p.panel = append(p.panel, len(p.panel))
	}
}

// listMethods names the methods of the scored trials by name, the reference
// first: the given one, or the one with most brewed trials (then most glasses;
// then the first by name).
func (p *problem) listMethods(s Study, reference *string) {
	count := map[string]int{}
	for _, t := range s.Trials {
		if !t.informs() {
			continue
		}
		count[t.Method]++
		if t.Kind != glass {
			// one brew outweighs all glasses together: the dose asked for is that of a beer
			count[t.Method] += len(s.Trials)
		}
	}
	p.methods = slices.Sorted(maps.Keys(count))
	switch {
	case reference != nil:
		p.reference = *reference
	case len(p.methods) > 0:
		p.reference = p.methods[0]
		for _, m := range p.methods {
			if count[m] > count[p.reference] {
				p.reference = m
			}
		}
	}
	rest := slices.DeleteFunc(p.methods, func(m string) bool { return m == p.reference })
	p.methods = append([]string{p.reference}, rest...)
}

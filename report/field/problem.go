package field

import (
	"maps"
	"slices"

	"hedgerow/report/evidence"
)

// maxShared is how many potency numbers one trial can depend on: its brew,
// its dose error within the brew, its own dose error, its method, its glass, its
// lot, its age, the time the plant was in it.
const maxShared = 8

// A Problem is a study as flat numbers. Every ln dose is relative to the
// prior mean of the right dose.
//
// The latent vector of dimension 2*tasters + shared holds, for each taster,
// the offset of the ideal ln dose and the scale offset, and then the shared
// numbers: first the common ones, the potencies of methods and glasses, the
// intensity at the right dose (alpha) and the right ln dose (theta), then those
// of the brews, brew by brew. Tasters and common numbers are the core of the
// arrow, which only grows with the panel.
type Problem struct {
	Origin  float64   // ln dose, g/L, that is 0 here
	Tasters []string  // the panel, in order of name
	Sharp   []float64 // steepness factor of each taster's votes, 1 is common
	fresh   []bool    // taster whose offset has the SD tau of the grid
	Trust   []float64 // weight of each taster's answers, 1 but for those who may score at random
	Panel   []int     // the tasters whose right doses count: all but those who score at random

	Beers  []TrialTerm // the dosed beers with scores: one's own trials first, see OwnTrials
	Votes  []VoteTerm  // every vote on them
	Marks  []MarkTerm  // every intensity of them
	Folded bool        // intensities were there and are left out

	ownCount int // trials that are one's own

	Series    []seriesTerm // of those who dosed to taste
	Notes     []noteTerm   // what they noted
	NoteTrust []float64    // weight of each taster's notes

	Mean, Sd     []float64 // prior of the latent vector; the node's tau replaces a fresh offset's sd
	Shared       int       // how many shared numbers there are
	common       int       // how many of them, the first, belong to no brew
	brewBlocks   []block   // the numbers of each brew among the rest
	Alpha, Theta int       // indices among the shared numbers

	Methods   []string // the reference method first
	Potency   []int    // index among the shared numbers, -1 for the reference
	Reference string   // the method that theta is the right ln dose of
	Glass     int      // index of the step from glass to beer of the reference, -1 without glasses
	Used      int      // the same of the extract that is used, -1 when none was dosed to taste
	Habit     int      // of the habit of those who dosed to taste, -1 when nobody did

	times
}

// A TrialTerm is a dosed trial with scores: its ln dose and the shared
// numbers that shift it.
type TrialTerm struct {
	X     float64            // ln of the dose, relative to the origin
	Lat   [maxShared]int     // indices of the numbers that shift it, n of them
	By    [maxShared]float64 // what each is multiplied by
	Count int                // how many numbers shift it
	wide  int                // how many of these, the first, belong to no brew
	block int                // of its brew in the problem's blocks, when there are others
	Index int                // of the trial in the study
}

// A VoteTerm is one vote.
type VoteTerm struct {
	Taster, Trial int // indices in the problem
	Vote          int // -1, 0 or 1
}

// A MarkTerm is one intensity.
type MarkTerm struct {
	Taster, Trial int     // indices in the problem
	Y             float64 // 0-10
}

// NewProblem lays out a valid study with a prior of the right ln dose, such as ClaimPrior.
// reference is the method whose right dose is asked for, or nil for the one brewed most.
// Trials of other brewers, if any, stand behind the own ones.
func NewProblem(s evidence.Study, prior LnPrior, reference *string) *Problem {
	p := &Problem{Origin: prior.Mean}
	p.listTasters(s)
	p.listMethods(s, reference)
	p.times = newTimes(s)
	newLayout(p, s).run(prior)
	p.dropFolded(s)
	return p
}

// UnnamedPanel is how many tasters of whom nothing is known stand for the
// people who will drink when nobody has scored yet.
const UnnamedPanel = 4

// listTasters names the panel: who voted or scored an intensity of a dosed
// trial, or dosed to taste, in order of name.
func (p *Problem) listTasters(s evidence.Study) {
	for _, t := range s.Trials {
		if !t.Informs() {
			continue
		}
		for _, sc := range t.Scores {
			if (sc.Vote != nil || sc.Intensity != nil) && !slices.Contains(p.Tasters, sc.Taster) {
				p.Tasters = append(p.Tasters, sc.Taster)
			}
		}
	}
	for _, l := range s.DosedToTaste {
		if !slices.Contains(p.Tasters, l.Taster) {
			p.Tasters = append(p.Tasters, l.Taster)
		}
	}
	slices.Sort(p.Tasters)
	// unnamed ones have offsets too, so that advice before any score is as unsure as a panel is varied
	if len(p.Tasters) == 0 {
		p.Tasters = make([]string, UnnamedPanel)
	}
	for _, name := range p.Tasters {
		r, known := s.Remembered[name]
		sharp := 1.0
		if known && r.Sharpness > 0 {
			sharp = r.Sharpness
		}
		p.Sharp = append(p.Sharp, sharp)
		p.fresh = append(p.fresh, !known)
		p.Trust = append(p.Trust, 1)
		p.NoteTrust = append(p.NoteTrust, 1)
		p.Panel = append(p.Panel, len(p.Panel))
	}
}

// listMethods names the methods of the scored trials and series by name, the reference
// first: the given one, or the one with most brewed trials (then most glasses;
// then the first by name).
func (p *Problem) listMethods(s evidence.Study, reference *string) {
	count := map[string]int{}
	for _, t := range s.Trials {
		if !t.Informs() {
			continue
		}
		count[t.Method]++
		if t.Kind != evidence.Glass {
			// one brew outweighs all glasses together: the dose asked for is that of a beer
			count[t.Method] += len(s.Trials)
		}
	}
	for _, l := range s.DosedToTaste {
		// unnamed it is the reference, whichever that is
		if l.Method != "" {
			count[l.Method]++
		}
	}
	p.Methods = slices.Sorted(maps.Keys(count))
	switch {
	case reference != nil:
		p.Reference = *reference
	case len(p.Methods) > 0:
		p.Reference = p.Methods[0]
		for _, m := range p.Methods {
			if count[m] > count[p.Reference] {
				p.Reference = m
			}
		}
	}
	rest := slices.DeleteFunc(p.Methods, func(m string) bool { return m == p.Reference })
	p.Methods = append([]string{p.Reference}, rest...)
}

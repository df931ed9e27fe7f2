package doseresponse

import "hedgerow/report/evidence"

// facts are what an answer says in words beside its numbers.
type facts struct {
	Material   string            // as in the study
	Attribute  string            // what was scored
	Reference  string            // the method of the doses
	Tasters    int               // who voted or scored, 0 without scores
	Scored     bool              // some dosed beer has a vote or an intensity
	Side       int               // -1 when every vote is too little, 1 when every one is too much
	LowTried   float64           // lowest and highest dose scored, g/L; 0 without scores
	HighTried  float64           //
	Claims     int               // how many
	ClaimFold  float64           // highest over lowest dose of all claims; 0 without claims
	Again      [2]int            // of the dose to repeat: votes of just right, and all
	Liked      float64           // mean liking of the beers near the right dose
	LikedRight [2]int            // of such a beer: votes of just right, and all
	OneDose    float64           // with two camps: share of just right with one dose for all ..
	TwoDoses   float64           // .. and with a dose for each
	CampsFound bool              // the camps are sure enough to brew both
	AgeMatters bool              // the taste fades, or an age was asked for
	Differs    []Differing       // beside the dose, ways alone left out
	AvoidNames []string          // tastes too strong at the right dose
	Unkept     []string          // limits that no dose keeps, a sentence each
	PullDose   float64           // dose of the brew that was tasted on the way, g/L
	Falling    *evidence.Falling // nil when the taste does not fall with the dose
	Disliked   bool              // a beer that was right was not liked
}

// Falling returns how the taste falls as the dose rises; nil when it does not. Such a
// taste has no right dose: the dose of least harm is none.
func (p *Posterior) Falling() *evidence.Falling { return p.study.Falling() }

// weighFacts collects the facts of a study.
func (p *Posterior) weighFacts() facts {
	r := p.ruleOnce()
	f := facts{
		Material: p.study.Material, Attribute: p.study.Attribute, Reference: p.prob.Reference,
		Scored: r.grounds.scored, Side: p.side(), Claims: len(p.study.ClaimsGPerL),
		Again: [2]int{r.again.right, r.again.votes}, Disliked: r.grounds.disliked(),
		Differs:    append([]Differing{}, p.confounders()...),
		AvoidNames: append([]string{}, p.tooStrong()...),
		Unkept:     p.unkept(),
	}
	if r.grounds.falls {
		f.Falling = p.Falling()
	}
	if f.Scored {
		f.Tasters = len(p.prob.Tasters)
		f.LowTried, f.HighTried = p.triedRange()
	}
	if f.Claims > 0 {
		lo, hi := claimRange(p.study.ClaimsGPerL)
		f.ClaimFold = hi / lo
	}
	if l := p.likedNear(); l.Known {
		f.Liked, f.LikedRight = l.Mean, [2]int{l.Right, l.Votes}
	}
	if s := p.servedCamps(); s.Likely {
		f.OneDose, f.TwoDoses, f.CampsFound = s.One, s.Two, s.Found
	}
	if fading, ok := p.fade(); ok {
		f.AgeMatters = p.ageMatters(fading)
	}
	if q, ok := p.pulled(); ok {
		f.PullDose = q.Dose
	}
	return f
}

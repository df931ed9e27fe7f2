package doseresponse

import (
	"fmt"
	"math"
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// A Warning is a sentence that a reader must know before trusting an answer, in
// lower case without a full stop. In JSON it is its text.
type Warning struct {
	Code string // what it warns of; it does not change with the wording
	Text string // with names and figures
}

// MarshalText returns the text.
func (w Warning) MarshalText() ([]byte, error) { return []byte(w.Text), nil }

// Contradicted is the code of the warning that the votes on two beers run against
// their doses. It belongs beside the decision.
const Contradicted = "contradicted"

// The other codes, the gravest first.
const (
	noScoresCode        = "no_scores"         // the claims are all there is
	noOwnScoresCode     = "no_own_scores"     // others' trials are all there is beside them
	fromOthersCode      = "from_others"       // what others' trials say, and the answer without them
	sharedCode          = "others_shared"     // one's own people scored at another brewer's
	othersDifferCode    = "others_differ"     // the own panel found another dose than they did
	otherLeftOutCode    = "other_left_out"    // trials of another brewer that do not count
	benchFirstCode      = "bench_first"       // they lie too far apart for a batch
	ignoresDoseCode     = "votes_ignore_dose" // the votes hardly follow the dose
	fallsCode           = "falls"             // the taste gets weaker as the dose rises
	outOfReachCode      = "out_of_reach"      // near its right dose it was not liked, by several ways
	notTheDoseCode      = "not_the_dose"      // right, but not liked
	notNearRightCode    = "not_near_right"    // not liked, but far from its right dose
	campsCode           = "camps"             // the panel wants two beers
	disagreementCode    = "disagreement"      // no dose pleases the panel
	oneSideCode         = "one_side"          // every vote is too little, or too much
	outsideClaimsCode   = "outside_claims"    // the right dose is not where the claims are
	pullCode            = "pull"              // when to take the plant out
	ageCode             = "age"               // the taste fades
	conflictCode        = "conflict"          // at the right dose another taste is past its limit
	limitedCode         = "limited"           // a taste to avoid limits the dose
	confoundedCode      = "confounded"        // not only the dose differs
	oneTasterCode       = "one_taster"        // the answer is that of one person
	oneDoseCode         = "one_dose"          // the doses are too alike
	noVotesCode         = "no_votes"          // intensities alone
	foldedCode          = "folded"            // the intensities are left out
	saturatedCode       = "saturated"         // intensities at the ends of the scale
	oddTastersCode      = "odd_tasters"       // scores that are the same for all doses
	randomTasterCode    = "random_taster"     // votes of a taster that hardly follow the dose
	controlAsStrongCode = "control"           // an undosed beer tastes dosed
	glassesOnlyCode     = "glasses_only"      // no brewed beer was scored
	methodsApartCode    = "methods_apart"     // methods never brewed side by side
	vagueDosesCode      = "vague_doses"       // doses that are hardly known
	noClaimsCode        = "no_claims"         // the prior is a guess
)

// warnings returns what a reader must know before trusting the answer, the
// gravest first; it is never nil. They cover the failure modes of [1] section
// 2.1. Every check returns "" when it has nothing to say.
func (p *Posterior) warnings() []Warning {
	// null in JSON would make every reader test for it
	out := []Warning{}
	for _, w := range []struct {
		code  string
		check func() string
	}{
		{noScoresCode, p.warnNoScores},
		{noOwnScoresCode, p.warnNoOwnScores},
		{fromOthersCode, p.warnFromOthers},
		{sharedCode, p.warnShared},
		{othersDifferCode, p.warnOthersDiffer},
		{otherLeftOutCode, p.warnLeftOut},
		{benchFirstCode, p.warnBenchFirst},
		{ignoresDoseCode, p.warnIgnoresDose},
		{fallsCode, p.warnFalls},
		{outOfReachCode, p.warnNobodyLikes},
		{notTheDoseCode, p.warnNotTheDose},
		{notNearRightCode, p.warnNotNearRight},
		{Contradicted, p.warnContradicted},
		{campsCode, p.warnCamps},
		{disagreementCode, p.warnDisagree},
		{oneSideCode, p.warnOneSide},
		{outsideClaimsCode, p.warnOutsideClaims},
		{pullCode, p.warnPull},
		{ageCode, p.warnAge},
		{conflictCode, p.warnConflict},
		{limitedCode, p.warnLimited},
		{confoundedCode, p.warnConfounded},
		{oneTasterCode, p.warnOneTaster},
		{oneDoseCode, p.warnSlope},
		{noVotesCode, p.warnNoVotes},
		{foldedCode, p.warnFolded},
		{saturatedCode, p.warnSaturated},
		{oddTastersCode, p.warnOddTasters},
		{randomTasterCode, p.warnRandomTasters},
		{controlAsStrongCode, p.warnControl},
		{glassesOnlyCode, p.warnGlasses},
		{methodsApartCode, p.warnMethods},
		{vagueDosesCode, p.warnDoses},
		{noClaimsCode, p.warnNoClaims},
	} {
		if text := w.check(); text != "" {
			out = append(out, Warning{w.code, text})
		}
	}
	return out
}

// codesOf returns the codes of warnings, each once.
func codesOf(list []Warning) []string {
	codes := []string{}
	for _, w := range list {
		if !slices.Contains(codes, w.Code) {
			codes = append(codes, w.Code)
		}
	}
	return codes
}

// grams returns a dose with two digits.
func grams(d float64) string { return fmt.Sprintf("%s g/L", number(d)) }

// number returns x with two significant digits, without an exponent and
// without cutting digits before the point.
func number(x float64) string {
	if x == 0 {
		return "0"
	}
	digits := 1 - int(math.Floor(math.Log10(math.Abs(x))))
	return fmt.Sprintf("%.*f", max(0, digits), x)
}

// percent returns a share in per cent.
func percent(share float64) string {
	// 0 % would read as impossible
	switch {
	case share > 0 && share < 0.01:
		return "less than 1 %"
	case share > 0.99:
		return "more than 99 %"
	}
	if share > 0.99 && share < 1 {
		return "more than 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// warnNoScores tells when the claims are all there is. A control alone says
// nothing of the dose.
func (p *Posterior) warnNoScores() string {
	if p.scored() || p.hears() {
		return ""
	}
	return "no dosed beer has been scored: the answer rests on the claims alone"
}

// warnNoClaims tells when the prior is centred on the doses tried.
func (p *Posterior) warnNoClaims() string {
	if len(p.study.ClaimsGPerL) > 0 {
		return ""
	}
	return "no claims: where to look beyond the doses tried is a guess"
}

// warnOneTaster tells that one taster's offset cannot be told from theta: the
// right dose is then that person's.
func (p *Posterior) warnOneTaster() string {
	if !p.scored() || len(p.prob.Tasters) > 1 {
		return ""
	}
	return fmt.Sprintf("one taster: the right dose is that of %s alone, others may differ", p.prob.Tasters[0])
}

// warnSlope tells when doses are too alike to show how votes change with dose:
// kappa and beta are then the prior's. Within x1.3 counts as alike
// ([1] section 2.1).
func (p *Posterior) warnSlope() string {
	// a series goes over both ends of "just right" by itself
	if len(p.prob.OwnTrials()) == 0 || len(p.prob.Notes) > 0 {
		return ""
	}
	lo, hi := p.triedRange()
	if hi/lo >= field.SpreadFactor {
		return ""
	}
	if len(p.prob.OwnTrials()) == 1 {
		return "one dosed beer: how fast the votes change with the dose is assumed, not measured"
	}
	return fmt.Sprintf("all doses lie within x%g of each other: "+
		"how fast the votes change with the dose is assumed, not measured",
		field.SpreadFactor)
}

// triedRange returns the lowest and highest dose, g/L, above 0 with votes or
// intensities; without any, low is infinite and high 0.
func (p *Posterior) triedRange() (lo, hi float64) {
	lo, hi = math.Inf(1), 0
	for _, t := range p.prob.OwnTrials() {
		d := p.study.Trials[t.Index].DoseGPerL
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

// warnOneSide tells what all votes on one side do and do not say. The near end
// of the interval rests on the votes, and is given as a factor of the farthest
// dose when it is more than a tenth beyond it; the far end rests on the claims.
func (p *Posterior) warnOneSide() string {
	lo, hi := p.triedRange()
	end := "the far end of the interval comes from the claims and is a guess"
	if len(p.study.ClaimsGPerL) == 0 {
		end = "the far end of the interval is a guess"
	}
	switch p.side() {
	case -1:
		// within a tenth the sentence would claim a bound that no tongue could check
		if f := p.dose(p.psiQ.low) / hi; f > 1.1 {
			return fmt.Sprintf("every vote says too little: at least %s times %s is needed; %s", number(f), grams(hi), end)
		}
		return "every vote says too little: only the direction is sure; " + end
	case 1:
		if f := lo / p.dose(p.psiQ.high); f > 1.1 {
			return fmt.Sprintf("every vote says too much: at most %s is wanted; %s", grams(lo/f), end)
		}
		return "every vote says too much: only the direction is sure; " + end
	}
	return ""
}

// warnContradicted names the two beers whose votes run against their doses the
// most.
func (p *Posterior) warnContradicted() string {
	stronger, weaker, ok := p.study.Contradiction()
	if !ok {
		return ""
	}
	a, b := p.study.Trials[stronger], p.study.Trials[weaker]
	text := fmt.Sprintf("%s at %s was judged weaker than %s at %s",
		evidence.TrialName(b, weaker), grams(b.DoseGPerL), evidence.TrialName(a, stronger), grams(a.DoseGPerL))
	if evidence.Alike(a.DoseGPerL, b.DoseGPerL) {
		text += ": something other than the dose differs"
	}
	return text + "; pour both again, blind, before brewing"
}

// disagreeBelow is the share of "just right" at the best dose below which no
// dose pleases the panel ([1] section 2.1 has 29 % for such a panel).
const disagreeBelow = 0.35

// warnDisagree tells when one beer got votes on both sides and no dose pleases
// many, though no two camps can be told: a dose in the middle pleases nobody
// then.
func (p *Posterior) warnDisagree() string {
	if !p.splitVotes() || p.twoCamps().Likely {
		return ""
	}
	right := p.rightShare(p.best)
	if right >= disagreeBelow {
		return ""
	}
	return fmt.Sprintf("the panel disagrees: even the best dose is just right for only %s", percent(right))
}

// splitVotes reports whether a quarter or more of the votes on one beer lie
// on either side.
func (p *Posterior) splitVotes() bool {
	for _, t := range p.study.Trials {
		if little, right, much := t.Votes(); t.DoseGPerL > 0 && little > 0 && much > 0 &&
			4*min(little, much) >= little+right+much {
			return true
		}
	}
	return false
}

// outsideSure is how likely the right dose must be outside all claims before
// that is said.
const outsideSure = 0.8

// warnOutsideClaims tells when the panel's right dose lies above, or below, the
// range of all claims with probability outsideSure.
func (p *Posterior) warnOutsideClaims() string {
	if len(p.study.ClaimsGPerL) == 0 || !p.scored() {
		return ""
	}
	lo, hi := claimRange(p.study.ClaimsGPerL)
	var below, above float64
	for i, x := range p.draws.Psi {
		if d := p.dose(x); d < lo {
			below += p.draws.Weight[i]
		} else if d > hi {
			above += p.draws.Weight[i]
		}
	}
	switch {
	case above > outsideSure:
		return fmt.Sprintf("the right dose seems to lie above every claim (highest %s)", grams(hi))
	case below > outsideSure:
		return fmt.Sprintf("the right dose seems to lie below every claim (lowest %s)", grams(lo))
	}
	return ""
}

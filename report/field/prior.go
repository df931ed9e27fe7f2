package field

import (
	"math"
	"slices"

	"hedgerow/report/evidence"
)

// Standard deviations of the latent numbers before any score, and means that
// are not 0. All are judgement of [1] section 2; logs are natural.
const (
	BatchSDLn   = 0.18 // potency of a brew
	methodSDLn  = 0.5  // potency ratio of two methods when nothing is published
	GlassSDLn   = 0.40 // step from a dosed glass to a brewed beer
	ScaleMean   = 5.5  // intensity at the right dose, 0-10
	scaleSD     = 1.5  // its SD, points
	TasterScale = 1.0  // SD between tasters of the intensity at one dose, points
	claimSDLn   = 0.3  // what even an exact claim leaves open
	noClaimSDLn = 1.5  // right dose about the doses tried, without claims
)

// A LnPrior is a normal distribution of a ln dose.
type LnPrior struct{ Mean, Sd float64 }

// ClaimPrior returns the middle and the spread of the claims, the normal
// distribution that stands for all of them where one number is asked for; see
// claimParts. ok is false when there are neither claims nor scores.
func ClaimPrior(s evidence.Study) (p LnPrior, ok bool) {
	if len(s.ClaimsGPerL) > 0 {
		return claimRangePrior(s.ClaimsGPerL), true
	}
	lo, hi := scoredRange(s)
	if hi == 0 {
		return LnPrior{}, false
	}
	return LnPrior{(math.Log(lo) + math.Log(hi)) / 2, noClaimSDLn}, true
}

// claimRangePrior returns the prior of the right ln dose from claims that agree,
//
//	mean = average of m_j,  var = spread of m_j + average of w_j^2/12 + 0.3^2
//
// with m_j the ln of the geometric middle of claim j and w_j = ln(high/low):
// the claims are an equal mixture of even ranges on the log axis, blurred.
func claimRangePrior(claims [][2]float64) LnPrior {
	n := float64(len(claims))
	var sum, squares, widths float64
	for _, c := range claims {
		lo, hi := math.Log(c[0]), math.Log(c[1])
		mid := (lo + hi) / 2
		sum += mid
		squares += mid * mid
		widths += (hi - lo) * (hi - lo) / 12
	}
	mean := sum / n
	between := max(0, squares/n-mean*mean)
	return LnPrior{mean, math.Sqrt(between + widths/n + claimSDLn*claimSDLn)}
}

// A PriorPart is one of the normal distributions that the prior of the right ln
// dose is a mixture of.
type PriorPart struct {
	LnPrior
	Weight float64 // the weights of all parts sum to 1
}

// Claims may be wrong: a part of the prior is so wide that votes which all lie on
// one side at the end of the claims can move the dose beyond them (judgement, tried
// in simulation).
const (
	wrongShare  = 0.15 // weight of the wide copy of a cluster of claims
	wrongFactor = 2.2  // its SD against that of the cluster
	wrongSDLn   = 1.2  // its SD at least
)

// ClaimParts returns the prior of the right ln dose: a pair of normal
// distributions, one narrow and one wide, for each cluster of claims, weighed by
// the share of the claims in it. One distribution over claims that lie far apart
// would have its peak where nobody advised anything. Without claims it is
// N(ln of the dose that was scored, 1.5^2), of several the geometric middle of the
// lowest and the highest: which was brewed first, as [1] has it, a list of trials
// does not say.
func ClaimParts(s evidence.Study) []PriorPart {
	if len(s.ClaimsGPerL) == 0 {
		p, _ := ClaimPrior(s)
		return []PriorPart{{p, 1}}
	}
	return withWide(clusterParts(s.ClaimsGPerL))
}

// clusterParts returns a normal distribution for each cluster of claims.
func clusterParts(claims [][2]float64) []PriorPart {
	var parts []PriorPart
	for _, c := range ClaimClusters(claims) {
		parts = append(parts, PriorPart{claimRangePrior(c), float64(len(c)) / float64(len(claims))})
	}
	return parts
}

// withWide returns each part with its wide copy.
func withWide(parts []PriorPart) []PriorPart {
	var all []PriorPart
	for _, p := range parts {
		wide := LnPrior{p.Mean, max(wrongFactor*p.Sd, wrongSDLn)}
		all = append(all, PriorPart{p.LnPrior, (1 - wrongShare) * p.Weight}, PriorPart{wide, wrongShare * p.Weight})
	}
	return all
}

// HeardParts returns the prior of the right ln dose when other brewers' trials say
// that it is N(M, V): each cluster of claims N(mu, S^2) of weight p, without claims
// the one distribution about, becomes
//
//	1/S'^2 = 1/S^2 + 1/V,  mu' = S'^2 (mu/S^2 + M/V),  p' ~ p N(M; mu, S^2 + V)
//
// with a wide copy as claims alone have, so that own votes that contradict undo it.
func HeardParts(s evidence.Study, about, heard LnPrior) []PriorPart {
	parts := []PriorPart{{about, 1}}
	if len(s.ClaimsGPerL) > 0 {
		parts = clusterParts(s.ClaimsGPerL)
	}
	likely := make([]float64, len(parts))
	for i, p := range parts {
		v := p.Sd*p.Sd + heard.Sd*heard.Sd
		d := heard.Mean - p.Mean
		likely[i] = math.Log(p.Weight) - 0.5*d*d/v - 0.5*math.Log(v)
		both := 1 / (1/(p.Sd*p.Sd) + 1/(heard.Sd*heard.Sd))
		mean := both * (p.Mean/(p.Sd*p.Sd) + heard.Mean/(heard.Sd*heard.Sd))
		parts[i].LnPrior = LnPrior{mean, math.Sqrt(both)}
	}
	Normalise(likely)
	for i := range parts {
		parts[i].Weight = likely[i]
	}
	return withWide(parts)
}

// clusterGap is how many times the highest dose before it the low end of a claim
// must be for it to start a cluster of its own (judgement).
const clusterGap = 3.0

// ClaimClusters parts the claims where nobody advised anything between them: in
// order of their low ends, a claim starts a cluster when its low is more than
// clusterGap times the highest high before it.
func ClaimClusters(claims [][2]float64) [][][2]float64 {
	sorted := slices.Clone(claims)
	slices.SortFunc(sorted, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	var clusters [][][2]float64
	highest := 0.0
	for _, c := range sorted {
		if len(clusters) == 0 || c[0] > clusterGap*highest {
			clusters = append(clusters, nil)
		}
		last := &clusters[len(clusters)-1]
		*last = append(*last, c)
		highest = max(highest, c[1])
	}
	return clusters
}

// scoredRange returns the lowest and the highest dose above 0, g/L, with a score
// of any kind, or without scores at which a glass dosed to taste was right; hi is 0
// when there is none.
func scoredRange(s evidence.Study) (lo, hi float64) {
	lo = math.Inf(1)
	for _, t := range s.Trials {
		if t.DoseGPerL > 0 && (t.Scored() || t.Liked()) {
			lo, hi = min(lo, t.DoseGPerL), max(hi, t.DoseGPerL)
		}
	}
	if hi > 0 {
		return lo, hi
	}
	for _, l := range s.DosedToTaste {
		d := l.RightGPerL
		if d == nil {
			d = l.TooMuchGPerL
		}
		lo, hi = min(lo, *d), max(hi, *d)
	}
	return lo, hi
}

package doseresponse

import "math"

// Standard deviations of the latent numbers before any score, and means that
// are not 0. All are judgement of [1] section 2; logs are natural.
const (
	batchSDLn   = 0.18 // potency of a brew
	methodSDLn  = 0.5  // potency ratio of two methods when nothing is published
	glassSDLn   = 0.40 // step from a dosed glass to a brewed beer
	scaleMean   = 5.5  // intensity at the right dose, 0-10
	scaleSD     = 1.5  // its SD, points
	tasterScale = 1.0  // SD between tasters of the intensity at one dose, points
	claimSDLn   = 0.3  // what even an exact claim leaves open
	noClaimSDLn = 1.5  // right dose about the doses tried, without claims
)

// A lnPrior is a normal distribution of a ln dose.
type lnPrior struct{ mean, sd float64 }

// claimPrior returns the prior of the right ln dose from the claims,
//
//	mean = average of m_j,  var = spread of m_j + average of w_j^2/12 + 0.3^2
//
// with m_j the ln of the geometric middle of claim j and w_j = ln(high/low):
// the claims are an equal mixture of even ranges on the log axis, blurred.
// Without claims it is N(ln of the dose that was scored, 1.5^2), of several the
// geometric middle of the lowest and the highest: which was brewed first, as [1]
// has it, a list of trials does not say. ok is false when there is neither.
func claimPrior(s Study) (p lnPrior, ok bool) {
	if len(s.ClaimsGPerL) == 0 {
		lo, hi := scoredRange(s.Trials)
		if hi == 0 {
			return lnPrior{}, false
		}
		return lnPrior{(math.Log(lo) + math.Log(hi)) / 2, noClaimSDLn}, true
	}
	n := float64(len(s.ClaimsGPerL))
	var sum, squares, widths float64
	for _, c := range s.ClaimsGPerL {
		lo, hi := math.Log(c[0]), math.Log(c[1])
		mid := (lo + hi) / 2
		sum += mid
		squares += mid * mid
		widths += (hi - lo) * (hi - lo) / 12
	}
	mean := sum / n
	// equal claims can leave a variance just below 0 by rounding
	between := max(0, squares/n-mean*mean)
	return lnPrior{mean, math.Sqrt(between + widths/n + claimSDLn*claimSDLn)}, true
}

// scoredRange returns the lowest and the highest dose above 0, g/L, with a score
// of any kind; hi is 0 when there is none.
func scoredRange(trials []Trial) (lo, hi float64) {
	lo = math.Inf(1)
	for _, t := range trials {
		if t.DoseGPerL > 0 && (t.scored() || t.liked()) {
			lo, hi = min(lo, t.DoseGPerL), max(hi, t.DoseGPerL)
		}
	}
	return lo, hi
}

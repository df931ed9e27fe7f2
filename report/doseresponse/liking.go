package doseresponse

import (
	"math"
	"slices"
)

// Priors of the liking model, points on the 1-9 scale: the SDs of the random
// parts are those of [1] section 2.2; the level and the cost of a beer that
// is not "just right" are judgement.
const (
	likingMean    = 6.0 // a beer that is just right, before any score
	likingMeanSD  = 1.5
	likingCost    = 2.0 // loss from "just right" to "too little" or "too much"
	likingCostSD  = 1.0
	likingTaster  = 0.8 // between tasters
	likingBrew    = 0.6 // between brews
	likingMethod  = 0.7 // between methods
	likingPair    = 0.5 // taster with method
	likingNoise   = 0.7 // one score
	defaultLiking = 6.0 // wish when none is stated: the first point above the middle
)

// A likingFit is the Gaussian posterior of the liking model of [1] section 2.2
// with a cost for a dose that is off added,
//
//	liking_ikm = level + taster_i + brew_k + method_m + pair_im - cost off_ik + noise
//
// with off_ik = 1 for a vote of too little or too much, 0 for just right, and
// without a vote the expected share of the votes that are not just right. The
// coefficients have independent normal priors, so precision and mean follow
// from the normal equations, X'X/0.7^2 + diag(1/sd^2), in closed form.
type likingFit struct {
	rows    []likingRow
	counts  []int     // likings by method
	tasters []string  // names in the order of the coefficients
	methods []string  // likewise
	brews   []string  // likewise
	mean    []float64 // posterior mean of the coefficients
	factor  []float64 // lower factor of their posterior precision
}

// Order of the coefficients: level, cost, tasters, methods, pairs, brews.
const (
	likingLevel = iota
	likingLoss
	likingFirst
)

// fitLiking returns the liking model of the study's dosed trials; ok is false
// when none of them has a liking. Undosed beers are another beer, not a dose of
// this one, and stay out.
func (p *Posterior) fitLiking() (fit likingFit, ok bool) {
	rows := p.likingRows(&fit)
	if len(rows) == 0 {
		return fit, false
	}
	fit.rows = rows
	nt, nm := len(fit.tasters), len(fit.methods)
	dim := likingFirst + nt + nm + nt*nm + len(fit.brews)
	fit.counts = make([]int, nm)
	fit.mean = make([]float64, dim)
	fit.factor = make([]float64, dim*dim)
	b := fit.mean
	for i := range dim {
		mean, sd := fit.prior(i)
		fit.factor[i*dim+i] = 1 / (sd * sd)
		b[i] = mean / (sd * sd)
	}
	for _, r := range rows {
		fit.counts[r.method]++
		fit.addRow(r)
	}
	if !cholesky(fit.factor, dim) {
		return fit, false
	}
	solveLower(fit.factor, dim, b)
	solveUpper(fit.factor, dim, b)
	return fit, true
}

// prior returns mean and SD of coefficient i.
func (f *likingFit) prior(i int) (mean, sd float64) {
	nt, nm := len(f.tasters), len(f.methods)
	switch {
	case i == likingLevel:
		return likingMean, likingMeanSD
	case i == likingLoss:
		return -likingCost, likingCostSD
	case i < likingFirst+nt:
		return 0, likingTaster
	case i < likingFirst+nt+nm:
		return 0, likingMethod
	case i < likingFirst+nt+nm+nt*nm:
		return 0, likingPair
	}
	return 0, likingBrew
}

// A likingRow is one liking with the indices of what it depends on.
type likingRow struct {
	trial                int // index of the trial in the study
	taster, method, brew int
	off                  float64 // share of "not just right", 0 to 1
	liking               float64 // 1-9
}

// likingRows lists the likings of dosed trials and the names they bring.
func (p *Posterior) likingRows(f *likingFit) []likingRow {
	var rows []likingRow
	for i, t := range p.study.Trials {
		if t.DoseGPerL == 0 {
			continue
		}
		expected := -1.0
		brew := -1
		if t.liked() {
			brew = place(&f.brews, brewOf(i, t))
		}
		for _, sc := range t.Scores {
			if sc.Liking == nil {
				continue
			}
			r := likingRow{
				trial:  i,
				taster: place(&f.tasters, sc.Taster),
				method: place(&f.methods, t.Method),
				brew:   brew,
				liking: *sc.Liking,
			}
			switch {
			case sc.Vote != nil && *sc.Vote != 0:
				r.off = 1
			case sc.Vote == nil:
				// once a trial and only if needed: it runs over hundreds of draws
				if expected < 0 {
					expected = 1 - p.newScan().at(math.Log(t.DoseGPerL)-p.prob.origin).mean(scanStride)
				}
				r.off = expected
			}
			rows = append(rows, r)
		}
	}
	return rows
}

// place returns the index of a name in a list, adding it when it is new.
func place(list *[]string, name string) int {
	for i, have := range *list {
		if have == name {
			return i
		}
	}
	*list = append(*list, name)
	return len(*list) - 1
}

// addRow adds one score to precision and right-hand side: x x'/0.7^2 and
// x y/0.7^2, x having ones at the coefficients of the row and off at the cost.
func (f *likingFit) addRow(r likingRow) {
	nt, nm := len(f.tasters), len(f.methods)
	at := [...]int{
		likingLevel,
		likingLoss,
		likingFirst + r.taster,
		likingFirst + nt + r.method,
		likingFirst + nt + nm + r.taster*nm + r.method,
		likingFirst + nt + nm + nt*nm + r.brew,
	}
	x := [...]float64{1, r.off, 1, 1, 1, 1}
	dim := len(f.mean)
	w := 1 / (likingNoise * likingNoise)
	for i, k := range at {
		f.mean[k] += w * x[i] * r.liking
		for j, l := range at[:i+1] {
			f.factor[k*dim+l] += w * x[i] * x[j]
		}
	}
}

// combine returns mean and SD of the sum of the coefficients weighted by c,
// c'mean and |L^-1 c| with L the factor of the precision. It overwrites c.
func (f *likingFit) combine(c []float64) (mean, sd float64) {
	for i, x := range c {
		mean += x * f.mean[i]
	}
	solveLower(f.factor, len(c), c)
	var v float64
	for _, x := range c {
		v += x * x
	}
	return mean, math.Sqrt(v)
}

// panel returns the weights of the panel's mean liking of an average brew by
// method m when a share off of the votes is not just right. m may be -1 for a
// method that nobody has scored.
func (f *likingFit) panel(m int, off float64) []float64 {
	nt, nm := len(f.tasters), len(f.methods)
	c := make([]float64, len(f.mean))
	c[likingLevel], c[likingLoss] = 1, off
	for i := range nt {
		c[likingFirst+i] = 1 / float64(nt)
		if m >= 0 {
			c[likingFirst+nt+nm+i*nm+m] = 1 / float64(nt)
		}
	}
	if m >= 0 {
		c[likingFirst+nt+m] = 1
	}
	return c
}

// anyDoseLiked returns the probability that the panel's mean liking of an
// average brew reaches the wish (6 when none is stated) at the dose that is
// best for it, by the method that promises most; ok is false when no dosed
// trial has a liking. "Best for it" gives the material the benefit of the
// doubt: the share of "just right" is the one attainable if the right dose
// were known. It is at least the probability that a beer which was tasted
// reached the wish (see tastedLiked): a dose that has been liked is a dose that
// can be liked, whatever a straight cost of being off makes of it.
func (p *Posterior) anyDoseLiked() (prob float64, ok bool) {
	a := p.likedOnce()
	return a.prob, a.ok
}

// A likedAnswer is what anyDoseLiked returns.
type likedAnswer struct {
	prob float64
	ok   bool
}

// weighLiking works out anyDoseLiked.
func (p *Posterior) weighLiking() likedAnswer {
	fit, ok := p.fitLiking()
	if !ok {
		return likedAnswer{}
	}
	var prob float64
	for m := range fit.methods {
		mean, sd := fit.combine(fit.panel(m, 1-p.top))
		prob = max(prob, normal((mean-p.wish())/sd))
	}
	// a beer that was liked settles the question, whatever the fitted cost of other doses says
	prob = max(prob, fit.tastedLiked(p.wish()))
	offOnly := !slices.ContainsFunc(fit.rows, func(r likingRow) bool { return r.off < 1 })
	// one dose that nobody found right tells of that dose, not of the material: no verdict is the honest one
	if prob < dropBelowProb && offOnly && p.likedDoses() < 2 {
		return likedAnswer{}
	}
	return likedAnswer{prob, true}
}

// enoughLikings is how many likings a beer needs before its own mean counts: one
// taster is not a panel.
const enoughLikings = 2

// tastedLiked returns the largest probability, over the beers tasted, that the
// mean liking of that very beer among those who tasted it reaches the wish. With
// n likings of mean y, prior N(6, 1.5^2) and noise 0.7 of one score,
//
//	mean = (6/1.5^2 + n y/0.7^2) v,  v = 1/(1/1.5^2 + n/0.7^2)
//
// It asks nothing of the other beers, so that a beer far off the right dose does
// not pull down one that was liked.
func (f *likingFit) tastedLiked(wish float64) float64 {
	const prior, noise = 1 / (likingMeanSD * likingMeanSD), 1 / (likingNoise * likingNoise)
	var prob float64
	for first := 0; first < len(f.rows); {
		end, sum := first, 0.0
		for ; end < len(f.rows) && f.rows[end].trial == f.rows[first].trial; end++ {
			sum += f.rows[end].liking
		}
		if n := float64(end - first); n >= enoughLikings {
			v := 1 / (prior + n*noise)
			mean := v * (likingMean*prior + sum*noise)
			prob = max(prob, normal((mean-wish)/math.Sqrt(v)))
		}
		first = end
	}
	return prob
}

// wish returns the liking that the panel wants to reach.
func (p *Posterior) wish() float64 {
	if p.study.Wish != nil {
		return p.study.Wish.Liking
	}
	return defaultLiking
}

// normal returns the standard normal distribution function, which is above 0
// even where it underflows: a small chance is not none.
func normal(z float64) float64 {
	return max(math.SmallestNonzeroFloat64, 0.5*math.Erfc(-z/math.Sqrt2))
}

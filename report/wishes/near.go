package wishes

import (
	"math"
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// Priors of the liking by distance, points on the 1-9 scale; judgement. The others
// are those of the SDs between tasters, methods and brews.
const (
	distanceCost   = 1.5 // loss from the right dose to a distance of 1 in ln dose
	distanceCostSD = 0.7
	distanceNoise  = 0.85 // one score, with what pairs of taster and method add
	farthest       = 3.0  // a beer is not liked less beyond this square of the distance
	likedDraws     = 120
	wishedReach    = 1.6 // a beer this near the right dose tells of the dose's beer
	nearEnough     = 0.5 // chance of that from which on it is near
)

// The best of three methods that nobody has tasted yet: mean and variance of the
// largest of three normal numbers, in SDs (Teichroew 1956, Ann. Math. Stat. 27,
// 410-426, from memory: 0.846 and 0.559).
const (
	bestOfThree         = 0.85
	bestOfThreeVariance = 0.56
)

// A Fitted is a study with what its fit came to.
type Fitted struct {
	Study    evidence.Study
	Problem  *field.Problem
	Kept     *field.Sample
	Ordinary []int          // of the kept draws: those in which the votes follow the dose
	Sides    func() [][]int // of the panel: all of it, or its two camps
}

// A Liking is what the likings say when a beer far from the right dose is not
// held against the plant:
//
//	liking = level + q h(z) + taster + method + brew + noise,  h(z) = min(z^2, 3)
//
// with z the distance of the beer from the taster's right dose. The model comes
// after that of the dose: under each of some draws it is Gaussian and solved in
// closed form, and liking never moves the dose.
type Liking struct {
	Known       bool    // some dosed beer has a liking
	Here        float64 // chance that the panel's mean at the best dose by a method at hand reaches the wish
	Other       float64 // the same for the best of three other methods
	Near        float64 // of the brewed beers with a liking: the largest chance to be near the right dose
	NearBrews   int     // brews with a beer near the right dose
	NearMethods int     // methods with a beer near the right dose
	RightShare  float64 // of the beers near the right dose: the largest share of "just right"
	Right       int     // votes of "just right" on that beer
	Votes       int     // all votes on it
	Mean        float64 // mean liking of the beers near the right dose
}

// NearEnough reports whether a beer with a liking is likely near the right dose.
func (l Liking) NearEnough() bool { return l.Near > nearEnough }

// A likedRow is one liking with the indices of what it depends on.
type likedRow struct {
	taster, method int     // in the lists of the model
	y              float64 // 1-9
	who            int     // in the panel, -1 for one who did not vote
}

// A likedBeer is the likings of one trial. Those of one brew follow each other.
type likedBeer struct {
	trial int // in the study
	term  int // in the problem, -1 without vote or intensity
	brew  string
	rows  []likedRow
}

// A likedModel is the liking model of a study.
type likedModel struct {
	Fitted
	sides            [][]int
	beers            []likedBeer
	tasters, methods []string
	a, b             []float64 // precision and right-hand side, then factor and mean
	cross            []float64 // sums over a brew
}

// Liking returns what the likings say of the plant near its right dose.
func (f Fitted) Liking() Liking {
	m := f.newLikedModel()
	out := Liking{Known: len(m.beers) > 0}
	use := f.Ordinary
	if !out.Known || len(use) == 0 {
		return out
	}
	m.sides = f.Sides()
	m.nearness(&out, use)
	here := make([]float64, len(m.methods))
	// evenly spaced: kept draws are sorted, so the first of them would all be of one kind
	for k := range min(likedDraws, len(use)) {
		v := f.Kept.At(use[k*len(use)/min(likedDraws, len(use))])
		if !m.solve(v) {
			continue
		}
		h := m.bestDistance(v)
		for i := range here {
			here[i] += m.reaches(h, i)
		}
		out.Other += m.reaches(h, -1)
	}
	n := float64(min(likedDraws, len(use)))
	// a beer that was liked can be liked, whatever the fit makes of the other beers
	out.Here = max(slices.Max(here)/n, tastedLiked(f.Study, WishedLiking(f.Study)))
	out.Other /= n
	return out
}

// newLikedModel lists the beers with likings, brew by brew. Undosed beers are
// another beer, not a dose of this one, and stay out.
func (f Fitted) newLikedModel() *likedModel {
	m := &likedModel{Fitted: f}
	term := map[int]int{}
	for k, t := range f.Problem.OwnTrials() {
		term[t.Index] = k
	}
	for i, t := range f.Study.Trials {
		if t.DoseGPerL == 0 || !t.Liked() {
			continue
		}
		b := likedBeer{trial: i, term: -1, brew: field.BrewOf(i, t)}
		if k, ok := term[i]; ok {
			b.term = k
		}
		for _, sc := range t.Scores {
			if sc.Liking != nil {
				who := slices.Index(f.Problem.Tasters, sc.Taster)
				b.rows = append(b.rows, likedRow{place(&m.tasters, sc.Taster), place(&m.methods, t.Method), *sc.Liking, who})
			}
		}
		m.beers = append(m.beers, b)
	}
	first := map[string]int{}
	for i, b := range m.beers {
		if _, ok := first[b.brew]; !ok {
			first[b.brew] = i
		}
	}
	// brews together, so that solve can take each out in one step
	slices.SortStableFunc(m.beers, func(a, b likedBeer) int { return first[a.brew] - first[b.brew] })
	dim := 2 + len(m.tasters) + len(m.methods)
	m.a, m.b, m.cross = make([]float64, dim*dim), make([]float64, dim), make([]float64, dim)
	return m
}

// doseUnder returns the effective ln dose of a beer under a latent vector; that
// of a beer without votes is its own dose.
func (m *likedModel) doseUnder(b *likedBeer, v []float64) float64 {
	if b.term < 0 {
		return math.Log(m.Study.Trials[b.trial].DoseGPerL) - m.Problem.Origin
	}
	return m.Problem.Beers[b.term].DoseUnder(v[2*len(m.Problem.Tasters):])
}

// distance returns how far from the right dose of its taster a row lies, ln.
func (m *likedModel) distance(r *likedRow, e float64, v []float64) float64 {
	// nothing is known of this taster's own right dose: that of the panel stands for it
	z := e - v[2*len(m.Problem.Tasters)+m.Problem.Theta]
	if r.who >= 0 {
		z -= v[2*r.who]
	}
	return z
}

// solve sets the posterior of the coefficients (level, cost, tasters, methods)
// under a latent vector; it reports false when that fails. The brews are taken
// out: with n likings of one brew, s the sum of their rows over the variance of
// the noise, and k = 1/(1/sd^2 + n/noise^2), precision and right-hand side lose
// k s s' and k s sum y/noise^2.
func (m *likedModel) solve(v []float64) bool {
	dim := len(m.b)
	clear(m.a)
	clear(m.b)
	for i := range dim {
		mean, sd := m.prior(i)
		m.a[i*dim+i], m.b[i] = 1/(sd*sd), mean/(sd*sd)
	}
	for first := 0; first < len(m.beers); {
		last := first + 1
		for last < len(m.beers) && m.beers[last].brew == m.beers[first].brew {
			last++
		}
		m.addBrew(m.beers[first:last], v)
		first = last
	}
	if !field.Cholesky(m.a, dim) {
		return false
	}
	field.SolveLower(m.a, dim, m.b)
	field.SolveUpper(m.a, dim, m.b)
	return true
}

// prior returns mean and SD of coefficient i.
func (m *likedModel) prior(i int) (mean, sd float64) {
	switch {
	case i == likingLevel:
		return likingMean, likingMeanSD
	case i == likingLoss:
		return -distanceCost, distanceCostSD
	case i < likingFirst+len(m.tasters):
		return 0, likingTaster
	}
	return 0, likingMethod
}

// addBrew adds the likings of one brew to the normal equations.
func (m *likedModel) addBrew(beers []likedBeer, v []float64) {
	const w = 1 / (distanceNoise * distanceNoise)
	dim := len(m.b)
	clear(m.cross)
	var n, y float64
	for k := range beers {
		e := m.doseUnder(&beers[k], v)
		for i := range beers[k].rows {
			r := &beers[k].rows[i]
			z := m.distance(r, e, v)
			at := [...]int{likingLevel, likingLoss, likingFirst + r.taster, likingFirst + len(m.tasters) + r.method}
			// held at a limit: far off a beer is simply disliked, while the square would go on rising
			x := [...]float64{1, min(z*z, farthest), 1, 1}
			for p, row := range at {
				m.b[row] += w * x[p] * r.y
				m.cross[row] += w * x[p]
				for q, col := range at[:p+1] {
					m.a[row*dim+col] += w * x[p] * x[q]
				}
			}
			n, y = n+1, y+w*r.y
		}
	}
	k := 1 / (1/(likingBrew*likingBrew) + n*w)
	for i, s := range m.cross {
		m.b[i] -= k * s * y
		field.Subtract(m.a[i*dim:i*dim+i+1], k*s, m.cross)
	}
}

// bestDistance returns the mean of h over the panel at its best dose: what the
// right doses of the tasters differ by, inside their camps when there are, and a
// brew from what was meant.
func (m *likedModel) bestDistance(v []float64) float64 {
	var sum, n float64
	for _, side := range m.sides {
		var mean float64
		for _, j := range side {
			mean += m.Problem.RightOf(v, j) / float64(len(side))
		}
		for _, j := range side {
			d := m.Problem.RightOf(v, j) - mean
			sum += min(d*d, farthest)
			n++
		}
	}
	return sum/n + field.BatchSDLn*field.BatchSDLn
}

// reaches returns the chance that the panel's mean liking at distance h reaches
// the wish, by one of the methods or, for -1, by the best of three others.
func (m *likedModel) reaches(h float64, method int) float64 {
	dim, tasters := len(m.b), float64(len(m.tasters))
	c := m.cross
	clear(c)
	c[likingLevel], c[likingLoss] = 1, h
	for i := range m.tasters {
		c[likingFirst+i] = 1 / tasters
	}
	if method >= 0 {
		c[likingFirst+len(m.tasters)+method] = 1
	}
	mean := field.Dot(c, m.b)
	field.SolveLower(m.a, dim, c)
	v := field.Dot(c, c)
	// of several untried methods one would keep the best, which lies above their mean and scatters less
	if method < 0 {
		fresh := likingMethod*likingMethod + likingPair*likingPair/tasters
		mean += bestOfThree * math.Sqrt(fresh)
		v += bestOfThreeVariance * fresh
	}
	return normal((mean - WishedLiking(m.Study)) / math.Sqrt(v))
}

// nearness fills in what is known of the beers near the right dose: brewed ones
// with a liking.
func (m *likedModel) nearness(out *Liking, use []int) {
	brews, methods := map[string]bool{}, map[string]bool{}
	var sum, n float64
	for k := range m.beers {
		b := &m.beers[k]
		t := m.Study.Trials[b.trial]
		// a dosed glass is no beer: its liking does not condemn one
		if t.Kind == evidence.Glass {
			continue
		}
		near := m.chanceNear(b, use)
		out.Near = max(out.Near, near)
		if near <= nearEnough {
			continue
		}
		brews[b.brew], methods[t.Method] = true, true
		for _, r := range b.rows {
			sum, n = sum+r.y, n+1
		}
		little, right, much := t.Votes()
		if votes := little + right + much; votes > 0 && float64(right)/float64(votes) > out.RightShare {
			out.RightShare, out.Right, out.Votes = float64(right)/float64(votes), right, votes
		}
	}
	out.NearBrews, out.NearMethods = len(brews), len(methods)
	if n > 0 {
		out.Mean = sum / n
	}
}

// chanceNear returns the chance that a beer lies within a factor wishedReach of
// the right dose, averaged over those who scored it.
func (m *likedModel) chanceNear(b *likedBeer, use []int) float64 {
	near := 0
	for _, i := range use {
		v := m.Kept.At(i)
		e := m.doseUnder(b, v)
		for k := range b.rows {
			if math.Abs(m.distance(&b.rows[k], e, v)) < math.Log(wishedReach) {
				near++
			}
		}
	}
	return float64(near) / float64(len(use)*len(b.rows))
}

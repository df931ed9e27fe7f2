package doseresponse

import (
	"math"
	"math/rand/v2"
	"slices"

	"hedgerow/report/evidence"
)

// A world is the spread of virtual brewers that a policy is tried on. Their
// votes and intensities come from other families than the fitted model: the
// windows are probit, Gumbel or Student t and lopsided, intensities follow a
// power law or a saturating curve with noise that grows, and are rounded.
type world struct {
	tasters   int
	span      float64 // high over low of the claim
	missed    float64 // share of cases whose right dose lies outside the claim
	batchSD   float64 // ln potency of a brew
	noise     float64 // factor on the noise of votes and intensities
	offset    float64 // SD of the tasters' right ln doses
	glassSD   float64 // ln step from glass to beer
	campShare float64 // share of cases with two camps of tasters

	// What happens at the edges; nothing of it in the reference world.
	far      float64 // the right dose is 4 to 10 times off the middle of the claims: -1 below, 1 above
	apart    bool    // two camps whose right doses are 2.5 to 5 times apart, two and two or three and one
	fades    bool    // the taste halves in 4 to 12 weeks; brews are tasted at 3 to 16 weeks, drunk at 6
	careless float64 // chance of a taster to score at random
	liked    float64 // points added to the liking of everything
	drifts   bool    // the scale of the intensities and the strength of the dose shift from evening to evening
}

// referenceWorld is the world that the figures are quoted for: four tasters,
// claims 8-fold apart.
func referenceWorld() world {
	return world{tasters: 4, span: 8, missed: 0.15, batchSD: 0.15, noise: 1, offset: 0.3, glassSD: 0.3, campShare: 0.2}
}

// A friend is a virtual taster: right ln dose, edges and noise of the window,
// and how intensity is perceived.
type friend struct {
	right           float64
	person          float64 // part of right - theta that goes with the person
	lowEdge, upEdge float64
	sd              float64
	lapse           float64
	gain            float64
	bias            float64
	careless        bool    // scores at random
	taste           float64 // points of liking above the panel's
}

// A brewer is one case: a truth, and friends who score.
type brewer struct {
	world
	rng     *rand.Rand
	edges   *rand.Rand // of what happens at the edges and of liking, so that the rest stays as it was
	theta   float64    // ln of the house's right dose
	friends []friend
	family  int // of the vote noise: 0 probit, 1 Gumbel, 2 Student t of 3
	hill    bool
	level   float64 // intensity at theta
	power   float64
	markSD  float64
	glass   float64
	best    float64 // ln dose with the largest share of just right
	top     float64 // that share

	fade       float64 // loss of ln dose a day
	age        float64 // of the beer at hand, days
	level9     float64 // liking at the right dose
	brewLiking float64 // of the brew at hand, points
	markShift  float64 // of the evening, points
	attainable float64 // panel mean of the liking at the best dose
}

// newBrewer draws a case. The claim is [1, span].
func (w world) newBrewer(seed uint64) *brewer {
	rng := rand.New(rand.NewPCG(seed, 99))
	b := &brewer{world: w, rng: rng, family: rng.IntN(3), hill: rng.IntN(2) == 0}
	b.edges = rand.New(rand.NewPCG(seed, 98))
	width := math.Log(w.span)
	b.theta = width * rng.Float64()
	if rng.Float64() < w.missed {
		beyond := 0.6 * rng.Float64()
		if b.theta = -beyond; rng.IntN(2) == 0 {
			b.theta = width + beyond
		}
	}
	b.level = 4 + 3*rng.Float64()
	b.power = 0.45 * math.Exp(0.3*rng.NormFloat64())
	b.markSD = w.noise * 1.2 * math.Exp(0.25*rng.NormFloat64())
	b.glass = w.glassSD * rng.NormFloat64()
	b.addEdges(width)
	b.addFriends()
	b.addTastes()
	b.findBest()
	b.attainable = b.likingAt(b.best)
	return b
}

// drinkAge is the age in days at which the beer is drunk where it fades.
const drinkAge = 42.0

// uniform returns a number between lo and hi.
func (b *brewer) uniform(lo, hi float64) float64 { return lo + (hi-lo)*b.edges.Float64() }

// addEdges draws what the reference world does not have; width is the ln of that
// of the claims.
func (b *brewer) addEdges(width float64) {
	if far := b.uniform(math.Log(4), math.Log(10)); b.far != 0 {
		b.theta = width/2 + b.far*far
	}
	if weeks := b.uniform(4, 12); b.fades {
		b.fade = math.Ln2 / (7 * weeks)
	}
	b.level9 = 7.05 + 0.45*b.edges.NormFloat64() + b.liked
	b.age = drinkAge
}

// addTastes parts the friends into camps, and gives them what does not bear on
// the dose.
func (b *brewer) addTastes() {
	gap := b.uniform(math.Log(2.5), math.Log(5))
	upper := 1 + b.edges.IntN(2) // three and one, or two and two
	for i := range b.friends {
		f := &b.friends[i]
		if within := 0.12 * b.edges.NormFloat64(); b.apart {
			f.right = b.theta + within - gap/2
			if i < upper {
				f.right += gap
			}
		}
		f.careless = b.edges.Float64() < b.world.careless
		f.taste = 0.6 * b.edges.NormFloat64()
	}
}

// dislike returns the points of liking that a distance z from the right dose
// costs: little nearby, all that it can cost at four times too much.
func dislike(z float64) float64 { return 4 * (1 - math.Exp(-z*z/1.2)) }

// likingAt returns the panel mean of the liking at ln dose x.
func (b *brewer) likingAt(x float64) float64 {
	mean := b.level9
	for _, f := range b.friends {
		mean -= dislike(x-f.right) / float64(len(b.friends))
	}
	return mean
}

func (b *brewer) addFriends() {
	rng := b.rng
	sd := b.noise * 0.45 * math.Exp(0.25*rng.NormFloat64())
	edge := 0.45 * math.Exp(0.25*rng.NormFloat64())
	skew := math.Exp(0.3 * rng.NormFloat64())
	camps := rng.Float64() < b.campShare
	for range b.tasters {
		person := b.offset * math.Sqrt(0.5) * rng.NormFloat64()
		f := friend{
			right:   b.theta + person + b.offset*math.Sqrt(0.5)*rng.NormFloat64(),
			person:  person,
			lowEdge: edge * skew,
			upEdge:  edge / skew,
			sd:      sd * math.Exp(0.2*rng.NormFloat64()),
			lapse:   0.04 * rng.Float64(),
			gain:    math.Exp(0.15 * rng.NormFloat64()),
			bias:    0.7 * rng.NormFloat64(),
		}
		if camps {
			f.person = 0.35 * float64(2*rng.IntN(2)-1)
			f.right = b.theta + f.person + 0.15*rng.NormFloat64()
		}
		b.friends = append(b.friends, f)
	}
}

// below returns the probability that the vote noise of the family, of SD
// about 1, is below x.
func below(family int, x float64) float64 {
	switch family {
	case 1: // Gumbel, centred at its mean
		return math.Exp(-math.Exp(-(x*math.Pi/math.Sqrt(6) + 0.5772156649)))
	case 2: // Student t of 3 degrees of freedom, scaled to the middle of a normal
		t := x * 1.25
		u := t / math.Sqrt(3)
		return 0.5 + (math.Atan(u)+u/(1+u*u))/math.Pi
	}
	return 0.5 * math.Erfc(-x/math.Sqrt2)
}

// chances returns the probabilities of too little and too much at effective
// ln dose e, lapses left out.
func (b *brewer) chances(f friend, e float64) (little, much float64) {
	z := e - f.right
	return below(b.family, (-f.lowEdge-z)/f.sd), 1 - below(b.family, (f.upEdge-z)/f.sd)
}

// share returns the panel's share of just right at ln dose x, averaged over
// the potency of a brew.
func (b *brewer) share(x float64) float64 {
	// Gauss-Hermite nodes and weights of a standard normal, 5 points
	// (Abramowitz and Stegun, table 25.10, scaled).
	nodes := [...]float64{-2.856970, -1.355626, 0, 1.355626, 2.856970}
	weights := [...]float64{0.011257, 0.222076, 0.533333, 0.222076, 0.011257}
	var s float64
	who := b.followers()
	for k, n := range nodes {
		for _, f := range who {
			little, much := b.chances(f, x+b.batchSD*n)
			s += weights[k] * max(0, 1-little-much)
		}
	}
	return s / float64(len(who))
}

// followers are the friends whose votes follow the dose: whoever scores at random calls
// any beer right as often as another. Where all do so all count.
func (b *brewer) followers() []friend {
	list := slices.DeleteFunc(slices.Clone(b.friends), func(f friend) bool { return f.careless })
	if len(list) == 0 {
		return b.friends
	}
	return list
}

func (b *brewer) findBest() {
	at := b.theta - 1.5
	for x := at; x < b.theta+1.5; x += 0.1 {
		if s := b.share(x); s > b.top {
			b.top, at = s, x
		}
	}
	b.best = goldenMax(b.share, at-0.1, at+0.1)
	b.top = b.share(b.best)
}

// intensity returns what is perceived at effective ln dose e before the
// taster's own scale and noise.
func (b *brewer) intensity(e float64) float64 {
	d := e - b.theta
	if b.hill {
		// level at d = 0, upper end 10, the same slope there as the power law
		k := (10 - b.level) / b.level
		n := b.power * 10 / (10 - b.level)
		return 10 / (1 + k*math.Exp(-n*d))
	}
	return b.level * math.Exp(b.power*d)
}

// pour has every friend score a beer of calculated dose d, whose effective ln
// dose is shifted, times times.
func (b *brewer) pour(id string, d, shift float64, kind evidence.Kind, group string, times int) evidence.Trial {
	t := evidence.Trial{ID: id, DoseGPerL: d, Kind: kind, Group: group}
	if d == 0 {
		shift = math.Inf(-1)
	}
	e := math.Log(max(d, 1e-9)) + shift - b.fade*(b.age-drinkAge)
	if b.fades && kind != evidence.Glass {
		t.DaysOld = &[]float64{b.age}[0]
	}
	for i, f := range b.friends {
		for range times {
			little, much := b.chances(f, e)
			vote := 0
			switch u := b.rng.Float64(); {
			case b.rng.Float64() < f.lapse:
				vote = b.rng.IntN(3) - 1
			case u < little:
				vote = -1
			case u > 1-much:
				vote = 1
			}
			m := f.gain*b.intensity(e) + f.bias
			y := m + b.markSD*(0.5+0.1*max(0, m))*b.rng.NormFloat64()
			y += b.markShift
			like := b.level9 + f.taste + b.brewLiking - dislike(e-f.right) + 0.8*b.edges.NormFloat64()
			if f.careless {
				vote, y, like = b.edges.IntN(3)-1, 5+2*b.edges.NormFloat64(), 5+1.5*b.edges.NormFloat64()
			}
			y = math.Round(max(0, min(10, y)))
			like = math.Round(max(1, min(9, like)))
			t.Scores = append(t.Scores, evidence.Score{Taster: string(rune('A' + i)), Vote: &vote, Intensity: &y, Liking: &like})
		}
	}
	return t
}

// past returns what some earlier studies of other materials, three single
// brews each, teach about the same friends.
func (b *brewer) past(studies int) map[string]evidence.TasterPrior {
	records := map[string][]evidence.TasterPrior{}
	for range studies {
		other := *b
		other.theta = math.Log(b.span) * b.rng.Float64()
		other.friends = append([]friend(nil), b.friends...)
		for i := range other.friends {
			f := &other.friends[i]
			f.right = other.theta + f.person + b.offset*math.Sqrt(0.5)*b.rng.NormFloat64()
		}
		s := &evidence.Study{ID: "past", ClaimsGPerL: [][2]float64{{1, b.span}}}
		for k := range 3 {
			addSingle(1)(&other, s, k)
		}
		for who, m := range fit(s).Memory() {
			records[who] = append(records[who], m)
		}
	}
	known := map[string]evidence.TasterPrior{}
	for who, r := range records {
		if m, ok := Remember(r); ok {
			known[who] = m
		}
	}
	return known
}

// brew returns the shift of a new brew, which is tasted on an evening of its own.
func (b *brewer) brew() float64 {
	b.brewLiking = 0.4 * b.edges.NormFloat64()
	shift := b.batchSD * b.rng.NormFloat64()
	if days := b.uniform(21, 112); b.fades {
		b.age = days
	}
	if mark, dose := b.edges.NormFloat64(), 0.1*b.edges.NormFloat64(); b.drifts {
		b.markShift = mark
		shift += dose
	}
	return shift
}

// newStudy returns the study of a case before anything was brewed.
func (w world) newStudy() *evidence.Study {
	s := &evidence.Study{ID: "sim", ClaimsGPerL: [][2]float64{{1, w.span}}, Attribute: "aroma"}
	if w.fades {
		drunk := drinkAge
		s.DrinkAtDays = &drunk
	}
	return s
}

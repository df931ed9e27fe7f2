package doseresponse

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// The limits here are those that the package documents as judgement.
// Each is tried just inside and just outside, so that an altered one
// is noticed. Quantities that only a fit yields are put in place of the fitted.

// spoken returns a trial with the given votes of tasters A, B, ...
func spoken(id string, dose float64, votes ...int) Trial { return unmarked(trial(id, dose, votes...)) }

// repeated returns n times a vote, followed by others.
func repeated(n, vote int, others ...int) []int {
	list := make([]int, n, n+len(others))
	for i := range list {
		list[i] = vote
	}
	return append(list, others...)
}

func TestVerdictThresholds(t *testing.T) {
	steady := eightfold(spoken("1", 2, -1, -1, 0), spoken("2", 6, 1, 1, 0))
	disliked := eightfold(liked(spoken("1", 2, -1, -1), 2, 2), liked(spoken("2", 4, 1, 1), 2, 1))
	chance := func(prob float64) func(*Posterior) {
		return func(p *Posterior) { p.likedOnce = func() likedAnswer { return likedAnswer{prob, true} } }
	}
	next := func(dose, regret float64) func(*Posterior) {
		return func(p *Posterior) { p.next.DoseGPerL, p.next.ExpectedRegret = dose, regret }
	}
	// of 20 tasters 15 call the weaker beer too much: mean votes 0.75 apart
	clash := func(n int) Study {
		return eightfold(spoken("1", 2, repeated(n, 1, repeated(20-n, 0)...)...), spoken("2", 6, repeated(20, 0)...))
	}
	// one dose to the tongue: most votes on opposite sides means 0.5 either way
	level := func(much, little int) Study {
		return eightfold(spoken("1", 3, repeated(much, 1, repeated(10-much, 0)...)...),
			spoken("2", 3.1, repeated(little, -1, repeated(10-little, 0)...)...))
	}
	// the comment of faultGap (judgement): 1.5 below the wish of 6
	right := func(likings ...float64) Study {
		return eightfold(liked(spoken("1", 2.8, repeated(len(likings), 0)...), likings...))
	}
	for _, tt := range []struct {
		name  string
		study Study
		set   func(*Posterior)
		want  Verdict
	}{
		{"chance 0.099 of liking", disliked, chance(0.099), Drop},
		{"chance 0.101 of liking", disliked, func(p *Posterior) { chance(0.101)(p); next(3, 0.2)(p) }, Try},
		{"two votes of just right at 4.5", right(4.5, 4.5), chance(0.05), Drop},
		{"two votes of just right at 4.6", right(4.6, 4.6), func(p *Posterior) { chance(0.05)(p); next(5, 0.2)(p) }, Try},
		{"one vote of just right at 2", right(2), func(p *Posterior) { chance(0.05)(p); next(5, 0.2)(p) }, Try},
		{"regret 2.9 %", steady, next(3, 0.029), Settled},
		{"regret 3.1 %", steady, next(3, 0.031), Try},
		{"next 9 % from a brew", steady, next(2*1.09, 0.2), Repeat},
		{"next 11 % from a brew", steady, next(2*1.11, 0.2), Try},
		{"mean votes 0.75 apart", clash(15), next(9, 0.2), Repeat},
		{"mean votes 0.7 apart", clash(14), next(9, 0.2), Try},
		{"one dose, means of 0.5 and -0.5", level(5, 5), next(9, 0.2), Repeat},
		{"one dose, means of 0.4 and -0.5", level(4, 5), next(9, 0.2), Try},
		{"one dose, means of 0.5 and -0.4", level(5, 4), next(9, 0.2), Try},
	} {
		p := mustFit(t, tt.study, Options{Approximate: true})
		tt.set(p)
		if got := p.verdict(); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// outside sets draws of which a share lies beyond all claims.
func outside(psi, share float64) func(*Posterior) {
	return func(p *Posterior) {
		p.draws = &sample{psi: []float64{psi, 0}, weight: []float64{share, 1 - share}, tasters: p.draws.tasters}
	}
}

func TestWarningThresholds(t *testing.T) {
	two := func(a, b Trial) Study { return eightfold(a, b) }
	steady := two(spoken("1", 2, -1, -1, 0), spoken("2", 6, 1, 1, 0))
	low := eightfold(spoken("1", 2, -1, -1, -1))
	high := eightfold(spoken("1", 4, 1, 1, 1))
	near := func(f float64) func(*Posterior) { // the near end of the interval, times the farthest dose
		return func(p *Posterior) { p.psiQ.low = math.Log(2*f) - p.prob.origin }
	}
	far := func(f float64) func(*Posterior) {
		return func(p *Posterior) { p.psiQ.high = math.Log(4/f) - p.prob.origin }
	}
	days := func(a, b float64) Study {
		s := two(spoken("1", 2, -1, 0), spoken("2", 6, 0, 1))
		s.Trials[0].DaysOld, s.Trials[1].DaysOld = &a, &b
		return s
	}
	vague := func(sd float64) Study { return eightfold(with(spoken("1", 2, 0), func(t *Trial) { t.DoseSDLn = sd })) }
	control := func(dosed float64) Study {
		return two(marked(trial("0", 0, -1, -1), 5, 5), marked(trial("1", 3, 0, 0), dosed, dosed))
	}
	missed := func(votes ...int) Study { return two(spoken("0", 0, votes...), spoken("1", 3, 0, 0, 0)) }
	ends := func(y ...float64) Study { return eightfold(marked(trial("1", 3, repeated(len(y), 0)...), y...)) }
	flat := func(top float64) Study {
		return eightfold(spoken("1", 2, 0, -1), spoken("2", 3, 0, 0), spoken("3", top, 0, 1))
	}
	odds := func(odds float64) func(*Posterior) {
		return func(p *Posterior) { p.steepOnce = func() []steepness { return make([]steepness, 9) }; setOdds(p, odds) }
	}
	swapped := eightfold(spoken("1", 2, 0, 0, 0), spoken("2", 3, 1, 0, 0), spoken("3", 6, 0, 1, 1))
	share := func(target float64) func(*Posterior) {
		return func(p *Posterior) { p.best = doseOfShare(p, target) }
	}
	held := avoiding()
	hold := func(step float64) func(*Posterior) {
		return func(p *Posterior) { p.best = p.limitOf(p.study.Avoid[0]) + step }
	}
	none := func(*Posterior) {}
	for _, tt := range []struct {
		name  string
		study Study
		set   func(*Posterior)
		say   string // part of the warning
		want  bool
	}{
		{"doses x1.29 apart", two(spoken("1", 2, -1, 0), spoken("2", 2*1.29, 0, 1)), none, "within x1.3", true},
		{"doses x1.31 apart", two(spoken("1", 2, -1, 0), spoken("2", 2*1.31, 0, 1)), none, "within x1.3", false},
		{"a quarter on either side", eightfold(spoken("1", 2, -1, 1, 0, 0)), share(0.34), "the panel disagrees", true},
		{"a fifth on one side", eightfold(spoken("1", 2, -1, 1, 1, 0, 0)), share(0.34), "the panel disagrees", false},
		{"just right for 34 %", eightfold(spoken("1", 2, -1, 1, 0, 0)), share(0.345), "the panel disagrees", true},
		{"just right for 36 %", eightfold(spoken("1", 2, -1, 1, 0, 0)), share(0.355), "the panel disagrees", false},
		{"x1.11 above the dose", low, near(1.11), "at least 1.1 times", true},
		{"x1.09 above the dose", low, near(1.09), "only the direction", true},
		{"x1.11 below the dose", high, far(1.11), "at most 3.6 g/L", true},
		{"x1.09 below the dose", high, far(1.09), "only the direction", true},
		{"above the claims at 0.81", steady, outside(2, 0.81), "above every claim", true},
		{"above the claims at 0.79", steady, outside(2, 0.79), "above every claim", false},
		{"below the claims at 0.81", steady, outside(-2, 0.81), "below every claim", true},
		{"below the claims at 0.79", steady, outside(-2, 0.79), "below every claim", false},
		{"one taster", eightfold(spoken("1", 2, 0)), none, "one taster", true},
		{"two tasters", eightfold(spoken("1", 2, 0, 0)), none, "one taster", false},
		{"one of three at the end", ends(0, 5, 5), none, "stand at an end", true},
		{"one of four at the end", ends(0, 5, 5, 5), none, "stand at an end", false},
		{"two, both at the end", ends(0, 0), none, "stand at an end", false},
		{"dosed 0.69 above the control", control(5.69), none, "may not taste the dose", true},
		{"dosed 0.71 above the control", control(5.71), none, "may not taste the dose", false},
		{"half miss nothing", missed(0, -1), none, "may need no dose", true},
		{"a third miss nothing", missed(0, -1, -1), none, "may need no dose", false},
		{"a dose with an SD of 0.30", vague(0.30), none, "dose itself is vague", true},
		{"a dose with an SD of 0.29", vague(0.29), none, "dose itself is vague", false},
		{"3 times and 14 days", days(7, 21), none, "age is mixed up", true},
		{"2.9 times and 19 days", days(10, 29), none, "age is mixed up", false},
		{"4 times and 13 days", days(4.3, 17.2), none, "age is mixed up", false},
		{"one vote over a doubling", flat(4), none, "the same score for all doses from A", true},
		{"one vote over x1.99", flat(3.98), none, "the same score for all doses from A", false},
		{"odds of 10.1 for a dull taster", swapped, odds(10.1), "hardly follow the dose from A", true},
		{"odds of 9.9 for a dull taster", swapped, odds(9.9), "hardly follow the dose from A", false},
		{"limit below the best", held, hold(0.001), "the dose is held back", true},
		{"limit above the best", held, hold(-0.001), "the dose is held back", false},
	} {
		p := mustFit(t, tt.study, Options{})
		tt.set(p)
		said := strings.Join(texts(p.warnings()), "\n")
		if got := strings.Contains(said, tt.say); got != tt.want {
			t.Errorf("%s: %q is %v, want %v, in\n%s", tt.name, tt.say, got, tt.want, said)
		}
	}
}

// setOdds makes every taster so much better explained by dull votes.
func setOdds(p *Posterior, odds float64) {
	list := p.steepOnce()
	for i := range list {
		list[i][0] = math.Log(odds)
	}
	p.steepOnce = func() []steepness { return list }
}

// doseOfShare returns a relative ln dose above the best one with a share of
// "just right", by bisection.
func doseOfShare(p *Posterior, share float64) float64 {
	lo, hi := p.best, p.best+5
	for range 60 {
		if mid := (lo + hi) / 2; p.rightShare(mid) > share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// avoiding returns a study with a taste to avoid that rises with the dose.
func avoiding() Study {
	s := eightfold(spoken("1", 2, -1, 0), spoken("2", 6, 1, 0))
	s.Avoid = []Avoid{{Attribute: "astringency", AtMost: 3}}
	for _, who := range []string{"A", "B"} {
		s.Avoid[0].Scores = append(s.Avoid[0].Scores, AvoidScore{"1", who, 1}, AvoidScore{"2", who, 6})
	}
	return s
}

// The limits of fold.go: a top dose 3*1.4*sqrt(1/2+1/2) = 4.2 points below a
// weaker one of two scores each, and a slope that takes away 1.645*1.4 = 2.30
// points an SD of the sum, which for two scores at either dose is the fall
// itself (hand calculation).
func TestFoldThresholds(t *testing.T) {
	folds := func(y ...float64) bool {
		var list []Trial
		for k, v := range y {
			list = append(list, marked(trial(string(rune('1'+k)), []float64{1, 3, 6}[k], 0, 0), v, v))
		}
		return mustFit(t, eightfold(list...), Options{Approximate: true}).prob.folded
	}
	for _, tt := range []struct {
		y    []float64
		want bool
	}{
		{[]float64{1, 8, 3.75}, true}, {[]float64{1, 8, 3.85}, false},
		{[]float64{6, 3.69}, true}, {[]float64{6, 3.71}, false},
	} {
		if got := folds(tt.y...); got != tt.want {
			t.Errorf("intensities %v fold: %v, want %v", tt.y, got, tt.want)
		}
	}
}

// A glass of the next bench series tastes as a glass of the last one at that
// dose: under every draw both have the same effective dose.
func TestNextGlassTastesAsTheLast(t *testing.T) {
	g := with(trial("G", 3, -1, 0), func(t *Trial) { t.Kind = glass })
	p := mustFit(t, eightfold(g, trial("B", 4, 0, 1)), Options{})
	rng := rand.New(rand.NewPCG(1, 1))
	es := make([]float64, 1)
	for i := range p.kept.point {
		p.anew(es, benchSeries, []float64{3}, i, rng)
		if want := p.prob.doseOf(&p.prob.trials[0], p.kept.at(i)[2*p.kept.tasters:]); math.Abs(es[0]-want) > 1e-12 {
			t.Fatalf("draw %d: effective ln dose %g, the last glass had %g", i, es[0], want)
		}
	}
}

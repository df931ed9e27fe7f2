package doseresponse

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// The limits here are those that the package documents as judgement.
// Each is tried just inside and just outside, so that an altered one
// is noticed. Quantities that only a fit yields are put in place of the fitted.

// spoken returns a trial with the given votes of tasters A, B, ...
func spoken(id string, dose float64, votes ...int) evidence.Trial {
	return unmarked(trial(id, dose, votes...))
}

// repeated returns n times a vote, followed by others.
func repeated(n, vote int, others ...int) []int {
	list := make([]int, n, n+len(others))
	for i := range list {
		list[i] = vote
	}
	return append(list, others...)
}

// Each limit of the verdicts, just inside and just outside, and who goes first where
// several hold.
func TestVerdictThresholds(t *testing.T) {
	// a panel that goes on: nothing but the next dose is asked for
	going := grounds{scored: true, right: 0.6, votes: 12, beers: 3, here: 0.5, other: 0.5, regret: 0.1}
	set := func(change func(*grounds)) grounds { g := going; change(&g); return g }
	disliked := func(change func(*grounds)) grounds {
		return set(func(g *grounds) {
			g.near, g.rightShare, g.here, g.other, g.nearTimes = true, 1, 0.05, 0.05, 2
			change(g)
		})
	}
	unsure := func(change func(*grounds)) grounds {
		return set(func(g *grounds) { g.ignored, g.right, g.votes, g.beers = 0.16, 0.39, 8, 3; change(g) })
	}
	for _, tt := range []struct {
		name string
		g    grounds
		want Verdict
	}{
		{"going on", going, Try},
		{"no scores, right for 29 %", grounds{right: 0.29}, Bench},
		{"no scores, right for 31 %", grounds{right: 0.31}, Try},
		{"no scores, little regret", grounds{right: 0.31, regret: 0.01, again: true}, Try},
		{"scores, right for 29 %", set(func(g *grounds) { g.right = 0.29 }), Try},
		{"falls, which the dose explains", set(func(g *grounds) { g.falls, g.ignored = true, 0.9 }), Change},
		{"votes ignore the dose with 0.51", set(func(g *grounds) { g.ignored = 0.51 }), Retaste},
		{"votes ignore the dose with 0.49", set(func(g *grounds) { g.ignored = 0.49 }), Try},
		{"0.16, few pleased", unsure(func(*grounds) {}), Retaste},
		{"0.14, few pleased", unsure(func(g *grounds) { g.ignored = 0.14 }), Try},
		{"0.16, right for 41 %", unsure(func(g *grounds) { g.right = 0.41 }), Try},
		{"0.16 on 7 votes", unsure(func(g *grounds) { g.votes = 7 }), Try},
		{"0.16 on 2 beers", unsure(func(g *grounds) { g.beers = 2 }), Try},
		{"0.16 and camps", unsure(func(g *grounds) { g.camps = true }), TwoOf},
		{"0.51 and camps", set(func(g *grounds) { g.ignored, g.camps = 0.51, true }), Retaste},
		{"camps", set(func(g *grounds) { g.camps = true }), TwoOf},
		{"camps before liking", disliked(func(g *grounds) { g.camps = true }), TwoOf},
		{"disliked by two ways", disliked(func(*grounds) {}), Drop},
		{"disliked by one way", disliked(func(g *grounds) { g.nearTimes = 1 }), Change},
		{"votes follow no dose with 0.030", disliked(func(g *grounds) { g.ignored = 0.030 }), Drop},
		{"votes follow no dose with 0.031", disliked(func(g *grounds) { g.ignored = 0.031 }), Change},
		{"another way likely with 0.099", disliked(func(g *grounds) { g.other = 0.099 }), Drop},
		{"another way likely with 0.101", disliked(func(g *grounds) { g.other = 0.101 }), Change},
		{"this way likely with 0.099", disliked(func(g *grounds) { g.here = 0.099 }), Drop},
		{"this way likely with 0.101", disliked(func(g *grounds) { g.here = 0.101 }), Try},
		{"half right", disliked(func(g *grounds) { g.rightShare = 0.5 }), Drop},
		{"less than half right", disliked(func(g *grounds) { g.rightShare = 0.49 }), Try},
		{"nothing near", disliked(func(g *grounds) { g.near = false }), Try},
		{"all on one side", disliked(func(g *grounds) { g.oneSide = true }), Try},
		{"both with 0.24", set(func(g *grounds) { g.limited, g.both = true, 0.24 }), Change},
		{"both with 0.26", set(func(g *grounds) { g.limited, g.both = true, 0.26 }), Try},
		{"no limit", set(func(g *grounds) { g.both = 0.24 }), Try},
		{"regret 2.9 %", set(func(g *grounds) { g.regret = 0.029 }), Settled},
		{"regret 3.1 %", set(func(g *grounds) { g.regret = 0.031 }), Try},
		{"little regret of votes that may ignore the dose", set(func(g *grounds) { g.regret, g.ignored = 0.02, 0.16 }), Try},
		{"little regret, hardly a doubt", set(func(g *grounds) { g.regret, g.ignored = 0.02, 0.14 }), Settled},
		{"little regret, no beer yet", set(func(g *grounds) { g.regret, g.unbrewed = 0.02, true }), Try},
		{"settled before again", set(func(g *grounds) { g.regret, g.again = 0.029, true }), Settled},
		{"again", set(func(g *grounds) { g.again = true }), Repeat},
	} {
		if got := tt.g.verdict(); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// A brewed dose past the limit of another taste is not brewed again, however right it
// was.
func TestAgainStaysWithinLimits(t *testing.T) {
	s := avoiding()
	s.Trials = append(s.Trials, spoken("3", 3.5, 0, 0))
	p := mustFit(t, s, Options{})
	limit, ok := p.avoidLimit()
	if !ok {
		t.Fatal("no limit")
	}
	if !p.worthAgain(brewedAgain{p.dose(min(limit, p.best)) * 0.999, 2, 2}) {
		t.Error("a dose within the limit is not brewed again")
	}
	p.best = limit
	if p.worthAgain(brewedAgain{p.dose(limit) * 1.01, 2, 2}) {
		t.Error("a dose past the limit is brewed again")
	}
}

// A brewed dose is brewed again within x1.12 of the best, at least half right; with
// other methods beside it up to x1.4 if three quarters found it right.
func TestAgainThresholds(t *testing.T) {
	for _, tt := range []struct {
		name         string
		factor       float64 // of the best dose
		right, votes int
		methods      int
		want         bool
	}{
		{"x1.11, half right", 1.11, 2, 4, 1, true},
		{"x1.13, all right", 1.13, 4, 4, 1, false},
		{"1/1.11, half right", 1 / 1.11, 2, 4, 1, true},
		{"x1.05, less than half", 1.05, 1, 3, 1, false},
		{"x1.2, three quarters, other methods", 1.2, 3, 4, 2, true},
		{"x1.2, less, other methods", 1.2, 7, 10, 2, false},
		{"x1.41, all, other methods", 1.41, 4, 4, 2, false},
		{"x1.2, all, other methods, beers on both sides", 1.2, 4, 4, 3, false},
	} {
		beers := []evidence.Trial{spoken("1", 2, -1, 0, 0), spoken("2", 6, 1, 1, 0)}
		if tt.methods == 2 {
			beers = beers[:1]
		}
		p := mustFit(t, eightfold(beers...), Options{Approximate: true})
		p.prob.Methods = make([]string, tt.methods)
		if got := p.worthAgain(brewedAgain{p.dose(p.best) * tt.factor, tt.right, tt.votes}); got != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}

// outside sets draws of which a share lies beyond all claims.
func outside(psi, share float64) func(*Posterior) {
	return func(p *Posterior) {
		p.draws = &field.Sample{Psi: []float64{psi, 0}, Weight: []float64{share, 1 - share}, Tasters: p.draws.Tasters}
	}
}

func TestWarningThresholds(t *testing.T) {
	two := func(a, b evidence.Trial) evidence.Study { return eightfold(a, b) }
	steady := two(spoken("1", 2, -1, -1, 0), spoken("2", 6, 1, 1, 0))
	low := eightfold(spoken("1", 2, -1, -1, -1))
	high := eightfold(spoken("1", 4, 1, 1, 1))
	near := func(f float64) func(*Posterior) { // the near end of the interval, times the farthest dose
		return func(p *Posterior) { p.psiQ.low = math.Log(2*f) - p.prob.Origin }
	}
	far := func(f float64) func(*Posterior) {
		return func(p *Posterior) { p.psiQ.high = math.Log(4/f) - p.prob.Origin }
	}
	vague := func(sd float64) evidence.Study {
		return eightfold(with(spoken("1", 2, 0), func(t *evidence.Trial) { t.DoseSDLn = sd }))
	}
	control := func(dosed float64) evidence.Study {
		return two(marked(trial("0", 0, -1, -1), 5, 5), marked(trial("1", 3, 0, 0), dosed, dosed))
	}
	missed := func(votes ...int) evidence.Study { return two(spoken("0", 0, votes...), spoken("1", 3, 0, 0, 0)) }
	ends := func(y ...float64) evidence.Study {
		return eightfold(marked(trial("1", 3, repeated(len(y), 0)...), y...))
	}
	flat := func(top float64) evidence.Study {
		return eightfold(spoken("1", 2, 0, -1), spoken("2", 3, 0, 0), spoken("3", top, 0, 1))
	}
	stray := func(chance float64) func(*Posterior) {
		return func(p *Posterior) { p.strays = []float64{chance, 0, 0} }
	}
	swapped := eightfold(spoken("1", 2, 0, 0, 0), spoken("2", 3, 1, 0, 0), spoken("3", 6, 0, 1, 1))
	share := func(target float64) func(*Posterior) {
		return func(p *Posterior) { p.best = doseOfShare(p, target) }
	}
	held := avoiding()
	hold := func(step float64) func(*Posterior) {
		return func(p *Posterior) { limit, _ := p.avoidLimit(); p.best = limit + step }
	}
	none := func(*Posterior) {}
	for _, tt := range []struct {
		name  string
		study evidence.Study
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
		{"one vote over a doubling", flat(4), none, "the same score for all doses from A", true},
		{"one vote over x1.99", flat(3.98), none, "the same score for all doses from A", false},
		{"a taster at random with 0.51", swapped, stray(0.51), "hardly follow the dose from A", true},
		{"a taster at random with 0.49", swapped, stray(0.49), "hardly follow the dose from A", false},
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
func avoiding() evidence.Study {
	s := eightfold(spoken("1", 2, -1, 0), spoken("2", 6, 1, 0))
	s.Avoid = []evidence.Avoid{{Attribute: "astringency", AtMost: 3}}
	for _, who := range []string{"A", "B"} {
		s.Avoid[0].Scores = append(s.Avoid[0].Scores, evidence.AvoidScore{Trial: "1", Taster: who, Intensity: 1},
			evidence.AvoidScore{Trial: "2", Taster: who, Intensity: 6})
	}
	return s
}

// The limits of fold.go: a top dose 3*1.4*sqrt(1/2+1/2) = 4.2 points below a
// weaker one of two scores each, and a slope that takes away 1.645*1.4 = 2.30
// points an SD of the sum, which for two scores at either dose is the fall
// itself (hand calculation).
func TestFoldThresholds(t *testing.T) {
	folds := func(y ...float64) bool {
		var list []evidence.Trial
		for k, v := range y {
			list = append(list, marked(trial(string(rune('1'+k)), []float64{1, 3, 6}[k], 0, 0), v, v))
		}
		return mustFit(t, eightfold(list...), Options{Approximate: true}).prob.Folded
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
	g := with(trial("G", 3, -1, 0), func(t *evidence.Trial) { t.Kind = evidence.Glass })
	p := mustFit(t, eightfold(g, trial("B", 4, 0, 1)), Options{})
	rng := rand.New(rand.NewPCG(1, 1))
	es := make([]float64, 1)
	for i := range p.kept.Point {
		p.anew(es, benchSeries, []float64{3}, i, rng)
		if want := p.prob.Beers[0].DoseUnder(p.kept.At(i)[2*p.kept.Tasters:]); math.Abs(es[0]-want) > 1e-12 {
			t.Fatalf("draw %d: effective ln dose %g, the last glass had %g", i, es[0], want)
		}
	}
}

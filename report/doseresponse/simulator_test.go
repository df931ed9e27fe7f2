package doseresponse

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strconv"
	"sync"
	"testing"
	"text/tabwriter"
)

// A policy brews: given the study so far it adds the next brew, number k from
// 0, and at the end names the dose of the beer after it.
type policy struct {
	name  string
	brew  func(b *brewer, s *Study, k int)
	final func(b *brewer, s *Study) (dose float64, e Estimate)
}

// A tally counts how a policy did after one number of brews.
type tally struct {
	n, near, close20, cover, stated float64
	regret, sure, width             float64
}

func (t *tally) add(o tally) {
	t.n += o.n
	t.near += o.near
	t.close20 += o.close20
	t.cover += o.cover
	t.regret += o.regret
	t.sure += o.sure
	t.stated += o.stated
	t.width += o.width
}

// judge scores the beer that follows.
func (b *brewer) judge(p *Posterior, dose float64, e Estimate) tally {
	x := math.Log(dose)
	ratio := b.share(x) / b.top
	t := tally{n: 1, regret: 1 - ratio}
	if ratio >= nearBest {
		t.near = 1
	}
	if math.Abs(x-b.best) <= math.Log(1.2) {
		t.close20 = 1
	}
	if e.Low != nil && *e.Low <= math.Exp(b.best) && math.Exp(b.best) <= *e.High {
		t.cover = 1
	}
	if e.Low != nil {
		t.width = math.Log(*e.High / *e.Low) / 2
	}
	if p != nil {
		t.sure, t.stated = p.next.PNearBest, p.next.ExpectedRegret
	}
	return t
}

// fitFast returns the posterior for a decision.
func fitFast(s *Study) *Posterior {
	p, err := Fit(*s, Options{Approximate: true})
	if err != nil {
		panic(err)
	}
	return p
}

func addSingle(times int) func(b *brewer, s *Study, k int) {
	return func(b *brewer, s *Study, k int) {
		d := fitFast(s).NextDose().DoseGPerL
		s.Trials = append(s.Trials, b.pour(fmt.Sprint("B", k), d, b.brew(), Batch, "", times))
	}
}

func addJars(b *brewer, s *Study, k int) {
	shift := b.brew()
	group := fmt.Sprint("B", k)
	for j, d := range fitFast(s).Spread(4) {
		s.Trials = append(s.Trials, b.pour(fmt.Sprint(group, "-", j), d, shift, Jar, group, 1))
	}
}

func addBench(b *brewer, s *Study) {
	for j, d := range fitFast(s).Glasses() {
		s.Trials = append(s.Trials, b.pour(fmt.Sprint("G", j), d, b.glass, Glass, "", 1))
	}
}

// bracket is the rule of thumb: double or halve on the majority until both
// sides are known, then the geometric middle.
func bracket(s *Study) float64 {
	lo, hi := 0.0, 0.0
	last := math.Sqrt(s.ClaimsGPerL[0][0] * s.ClaimsGPerL[0][1])
	for _, t := range s.Trials {
		m, _ := t.meanVote()
		last = t.DoseGPerL
		switch {
		case m < -0.25:
			lo = max(lo, last)
		case m > 0.25:
			if hi == 0 || last < hi {
				hi = last
			}
		default:
			return last
		}
	}
	switch {
	case lo > 0 && hi > 0:
		return math.Sqrt(lo * hi)
	case lo > 0:
		return 2 * lo
	case hi > 0:
		return hi / 2
	}
	return last
}

func policies() []policy {
	model := func(b *brewer, s *Study) (float64, Estimate) { return 0, Estimate{} }
	return []policy{
		{"middle of the claims", func(*brewer, *Study, int) {}, func(b *brewer, s *Study) (float64, Estimate) {
			return math.Sqrt(b.span), Estimate{}
		}},
		{"bracketing", func(b *brewer, s *Study, k int) {
			s.Trials = append(s.Trials, b.pour(fmt.Sprint("B", k), bracket(s), b.brew(), Batch, "", 1))
		}, func(b *brewer, s *Study) (float64, Estimate) { return bracket(s), Estimate{} }},
		{"single brews", addSingle(1), model},
		{"single, tasted twice", addSingle(2), model},
		{"four jars", addJars, model},
		{"bench, then four jars", func(b *brewer, s *Study, k int) {
			if k == 0 {
				addBench(b, s)
			}
			addJars(b, s, k)
		}, model},
	}
}

// play runs one case of a policy and judges it after each brew.
func play(w world, pol policy, seed uint64, brews int) []tally {
	b := w.newBrewer(seed)
	s := &Study{ID: "sim", ClaimsGPerL: [][2]float64{{1, w.span}}}
	out := make([]tally, brews)
	for k := range brews {
		pol.brew(b, s, k)
		dose, e := pol.final(b, s)
		var p *Posterior
		if dose == 0 {
			var err error
			if p, err = Fit(*s, Options{}); err != nil {
				panic(err)
			}
			dose, e = p.NextDose().DoseGPerL, p.RightDose()
		}
		out[k] = b.judge(p, dose, e)
	}
	return out
}

// playAll plays cases of a policy on two goroutines.
func playAll(w world, pol policy, cases, brews int) []tally {
	out := make([]tally, brews)
	var mu sync.Mutex
	var wg sync.WaitGroup
	const workers = 2
	for g := range workers {
		wg.Go(func() {
			for c := g; c < cases; c += workers {
				for k, t := range play(w, pol, uint64(c+1), brews) {
					mu.Lock()
					out[k].add(t)
					mu.Unlock()
				}
			}
		})
	}
	wg.Wait()
	return out
}

var simCases = flag.Int("cases", 0, "cases a policy in the long simulation")

// TestSimulatorLong prints the table of policies; it is skipped unless
// -cases or HEDGEROW_SIM gives the number of cases.
func TestSimulatorLong(t *testing.T) {
	cases := *simCases
	if n, err := strconv.Atoi(os.Getenv("HEDGEROW_SIM")); err == nil {
		cases = n
	}
	if cases == 0 {
		t.Skip("set HEDGEROW_SIM=1000 for the long simulation")
	}
	tw := tabwriter.NewWriter(os.Stdout, 0, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "policy\tbrews\tnear best %\twithin 20 %\tcovered %\tregret %\tstated near\tstated regret\thalf-width\t")
	for _, pol := range policies() {
		for k, r := range playAll(referenceWorld(), pol, cases, 3) {
			fmt.Fprintf(tw, "%s\t%d\t%.1f\t%.1f\t%.1f\t%.1f\t%.1f\t%.1f\t%.2f\t\n", pol.name, k+1, 100*r.near/r.n, 100*r.close20/r.n,
				100*r.cover/r.n, 100*r.regret/r.n, 100*r.sure/r.n, 100*r.stated/r.n, r.width/r.n)
		}
	}
	tw.Flush()
}

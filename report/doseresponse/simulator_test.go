package doseresponse

import (
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"sync"
	"testing"
	"text/tabwriter"

	"hedgerow/report/evidence"
	"hedgerow/trials/figure"
)

// A policy brews: given the study so far it adds the next brew, number k from
// 0, and at the end names the dose of the beer after it.
type policy struct {
	name  string
	brew  func(b *brewer, s *evidence.Study, k int)
	final func(b *brewer, s *evidence.Study) (dose float64) // nil: what the posterior says
}

// A tally counts how a policy did after one number of brews.
type tally struct {
	Count, near, close20, cover, stated float64
	regret, sure, width                 float64
}

func (t *tally) add(o tally) {
	t.Count += o.Count
	t.near += o.near
	t.close20 += o.close20
	t.cover += o.cover
	t.regret += o.regret
	t.sure += o.sure
	t.stated += o.stated
	t.width += o.width
}

// judge scores the beer that follows, and the right dose that was inferred with it.
func (b *brewer) judge(p *Posterior, dose float64, e figure.Stated) tally {
	x := math.Log(dose)
	ratio := b.share(x) / b.top
	t := tally{Count: 1, regret: 1 - ratio}
	if ratio >= nearBest {
		t.near = 1
	}
	right := x
	if p != nil {
		// what is brewed may be a dose that is brewed again; the right dose is what was inferred
		right = math.Log(e.Value)
	}
	if math.Abs(right-b.best) <= math.Log(1.2) {
		t.close20 = 1
	}
	if e.Low != nil && *e.Low <= math.Exp(b.best) && math.Exp(b.best) <= *e.High {
		t.cover = 1
	}
	if e.Low != nil {
		t.width = math.Log(*e.High / *e.Low) / 2
	}
	if p != nil {
		t.sure, t.stated = p.NextDose().PNearBest, p.NextDose().ExpectedRegret
	}
	return t
}

// fit returns what the program makes of a study.
func fit(s *evidence.Study) *Posterior {
	p, err := Fit(*s, Options{})
	if err != nil {
		panic(err)
	}
	return p
}

func addSingle(times int) func(b *brewer, s *evidence.Study, k int) {
	return func(b *brewer, s *evidence.Study, k int) {
		d := fit(s).NextDose().DoseGPerL
		s.Trials = append(s.Trials, b.pour(fmt.Sprint("B", k), d, b.brew(), evidence.Batch, "", times))
	}
}

func addJars(b *brewer, s *evidence.Study, k int) {
	shift := b.brew()
	group := fmt.Sprint("B", k)
	for j, d := range fit(s).Spread(4) {
		s.Trials = append(s.Trials, b.pour(fmt.Sprint(group, "-", j), d, shift, evidence.Jar, group, 1))
	}
}

func addBench(b *brewer, s *evidence.Study) {
	for j, d := range fit(s).Glasses() {
		s.Trials = append(s.Trials, b.pour(fmt.Sprint("G", j), d, b.glass, evidence.Glass, "", 1))
	}
}

// bracket is the rule of thumb: double or halve on the majority until both
// sides are known, then the geometric middle.
func bracket(s *evidence.Study) float64 {
	lo, hi := 0.0, 0.0
	last := math.Sqrt(s.ClaimsGPerL[0][0] * s.ClaimsGPerL[0][1])
	for _, t := range s.Trials {
		m, _ := t.MeanVote()
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

// The policies that are compared.
func middle() policy {
	return policy{"middle of the claims", func(*brewer, *evidence.Study, int) {},
		func(b *brewer, s *evidence.Study) float64 { return math.Sqrt(b.span) }}
}

func bracketing() policy {
	return policy{"bracketing", func(b *brewer, s *evidence.Study, k int) {
		s.Trials = append(s.Trials, b.pour(fmt.Sprint("B", k), bracket(s), b.brew(), evidence.Batch, "", 1))
	}, func(b *brewer, s *evidence.Study) float64 { return bracket(s) }}
}

func singles() policy { return policy{"single brews", addSingle(1), nil} }

func twice() policy { return policy{"single brews, tasted twice", addSingle(2), nil} }

func remembered() policy {
	return policy{"single brews, tasters of 3 studies", func(b *brewer, s *evidence.Study, k int) {
		if k == 0 {
			s.Remembered = b.past(3)
		}
		addSingle(1)(b, s, k)
	}, nil}
}

func jars() policy { return policy{"four jars", addJars, nil} }

func benchJars() policy {
	return policy{"bench, then four jars", func(b *brewer, s *evidence.Study, k int) {
		if k == 0 {
			addBench(b, s)
		}
		addJars(b, s, k)
	}, nil}
}

// play runs one case of a policy and judges it after each brew.
func play(w world, pol policy, seed uint64, brews int) []tally {
	b := w.newBrewer(seed)
	s := w.newStudy()
	out := make([]tally, brews)
	for k := range brews {
		pol.brew(b, s, k)
		if pol.final != nil {
			out[k] = b.judge(nil, pol.final(b, s), figure.Stated{})
			continue
		}
		p := fit(s)
		out[k] = b.judge(p, p.NextDose().DoseGPerL, p.RightDose())
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

// An earlier simulation of our own, not an outside check, after two scored brews: share of cases
// whose next beer reaches 90 % of the best attainable, and share within 20 %
// of the right dose. The virtual friends there are not those of this file, so
// the figures agree only roughly.
func targets() map[string][2]float64 {
	return map[string][2]float64{
		singles().name:   {0.74, 0.56},
		jars().name:      {0.87, 0.69},
		benchJars().name: {0.89, 0.72},
	}
}

// checkTargets compares a tally with its target, less sds standard errors,
// and the coverage with 87 to 96 % in the same way.
func checkTargets(t *testing.T, name string, r tally, sds float64) {
	t.Helper()
	aim, ok := targets()[name]
	if !ok {
		return
	}
	se := func(share float64) float64 { return sds * math.Sqrt(share*(1-share)/r.Count) }
	for _, c := range []struct {
		what      string
		got, want float64
	}{{"near the best", r.near / r.Count, aim[0]}, {"within 20 %", r.close20 / r.Count, aim[1]},
		{"covered", r.cover / r.Count, 0.87}} {
		if c.got < c.want-se(c.want) {
			t.Errorf("%s: %.3f %s after two brews, want %.2f", name, c.got, c.what, c.want)
		}
	}
	if cover := r.cover / r.Count; cover > 0.96+se(0.96) {
		t.Errorf("%s: intervals cover %.3f, they are too wide", name, cover)
	}
}

// TestSimulatorShort plays few cases: a bound two and a half standard errors
// below the target still fails when the inference breaks (the middle of the
// claims alone reaches 0.2).
func TestSimulatorShort(t *testing.T) {
	if testing.Short() {
		t.Skip("a few seconds of simulation")
	}
	onceAProcess(t)
	for _, pol := range []policy{singles(), jars(), benchJars()} {
		rs := playAll(referenceWorld(), pol, 40, 2)
		checkTargets(t, pol.name, rs[1], 2.5)
	}
}

// played are the simulations that this process has played.
var played = map[string]bool{}

// onceAProcess skips a simulation that -count asks for again: its cases are drawn from
// fixed numbers, so another run in the same process plays the very same games.
func onceAProcess(t *testing.T) {
	t.Helper()
	if played[t.Name()] {
		t.Skip("played in this process already, with the same cases")
	}
	played[t.Name()] = true
}

// longCases returns how many cases the long simulation plays, from
// HEDGEROW_SIM.
func longCases(t *testing.T) int {
	n, err := strconv.Atoi(os.Getenv("HEDGEROW_SIM"))
	if err != nil || n < 1 {
		t.Skip("set HEDGEROW_SIM=1000 for the long simulation")
	}
	return n
}

// report prints one row of a table for each number of brews.
func report(w io.Writer, name string, rs []tally) {
	for k, r := range rs {
		fmt.Fprintf(w, "%s\t%d\t%.1f\t%.1f\t%.1f\t%.1f\t%.1f\t%.1f\t%.2f\t\n", name, k+1, 100*r.near/r.Count,
			100*r.close20/r.Count,
			100*r.cover/r.Count, 100*r.regret/r.Count, 100*r.sure/r.Count, 100*r.stated/r.Count, math.Exp(r.width/r.Count))
	}
}

// table starts a table of reports.
func table() *tabwriter.Writer {
	tw := tabwriter.NewWriter(os.Stdout, 0, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "case\tbrews\tnear best %\twithin 20 %\tcovered %\tregret %\tnear, stated\tregret, stated\tx/÷\t")
	return tw
}

// TestSimulatorPolicies prints and checks the policies in the reference world:
//
//	HEDGEROW_SIM=1000 go test -run SimulatorPolicies -v -timeout 60m ./report/doseresponse
func TestSimulatorPolicies(t *testing.T) {
	cases := longCases(t)
	tw := table()
	for _, pol := range []policy{middle(), bracketing(), singles(), twice(), remembered(), jars(), benchJars()} {
		rs := playAll(referenceWorld(), pol, cases, 3)
		report(tw, pol.name, rs)
		checkTargets(t, pol.name, rs[1], 2.5)
	}
	tw.Flush()
}

// TestSimulatorStress prints single brews and four jars in worlds that are
// not what the priors expect; coverage must stay at 80 % less its error,
// with double noise (the weak point of an earlier simulation of our own) at 75 %.
func TestSimulatorStress(t *testing.T) {
	cases := longCases(t)
	tw := table()
	for _, s := range []struct {
		name   string
		change func(*world)
		cover  float64
	}{
		{"one taster", func(w *world) { w.tasters = 1 }, 0.8},
		{"two tasters", func(w *world) { w.tasters = 2 }, 0.8},
		{"eight tasters", func(w *world) { w.tasters = 8 }, 0.8},
		{"half the noise", func(w *world) { w.noise = 0.5 }, 0.8},
		{"double noise", func(w *world) { w.noise = 2 }, 0.75},
		{"claims 4-fold", func(w *world) { w.span = 4 }, 0.8},
		{"claims 16-fold", func(w *world) { w.span = 16 }, 0.8},
		{"claims wrong", func(w *world) { w.missed = 1 }, 0.8},
		{"brews alike", func(w *world) { w.batchSD = 0.05 }, 0.8},
		{"brews unlike", func(w *world) { w.batchSD = 0.30 }, 0.8},
	} {
		w := referenceWorld()
		s.change(&w)
		for _, pol := range []policy{singles(), jars()} {
			rs := playAll(w, pol, cases, 2)
			report(tw, s.name+", "+pol.name, rs)
			r := rs[1]
			if cover, se := r.cover/r.Count, math.Sqrt(0.16/r.Count); cover < s.cover-2*se {
				t.Errorf("%s, %s: intervals cover %.3f, want %.2f", s.name, pol.name, cover, s.cover)
			}
		}
	}
	tw.Flush()
}

package doseresponse

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"sync"
	"testing"
	"text/tabwriter"

	"hedgerow/report/evidence"
)

// How virtual friends dose to taste. What they go by is half the mood of the evening
// and half the sip: no two sips are judged alike, and the first of many looks that
// passes an end comes early.
const (
	usedStepSD = 0.12 // true step from the glass to the beer with the same extract, ln
	moodShare  = 0.5  // of the variance of the noise of a sip
	noteStep   = 1.25
	mostSteps  = 40
)

// An evening is how a case doses to taste before its first brew.
type evening struct {
	name string
	used bool
	dirs []evidence.Direction
	five bool // five coded glasses in place of a dropper
}

// evenings lists what is compared.
func evenings() []evening {
	up, down := evidence.Up, evidence.Down
	return []evening{
		{"nothing", false, nil, false},
		{"five glasses", false, nil, true},
		{"one up, another extract", false, []evidence.Direction{up}, false},
		{"up and down, another extract", false, []evidence.Direction{up, down}, false},
		{"one up, the extract used", true, []evidence.Direction{up}, false},
		{"two ups, the extract used", true, []evidence.Direction{up, up}, false},
		{"up and down, the extract used", true, []evidence.Direction{up, down}, false},
	}
}

// play has every friend taste the glasses, or dose one in each direction.
func (v evening) play(b *brewer, s *evidence.Study, seed uint64) {
	if v.five {
		addBench(b, s)
	}
	// a stream of its own, so that what is brewed afterwards meets the same luck
	rng := rand.New(rand.NewPCG(seed, 97))
	shift, extract := b.glass, evidence.Other
	if used := usedStepSD * rng.NormFloat64(); v.used {
		shift, extract = used, evidence.Used
	}
	for i := range b.friends {
		for _, dir := range v.dirs {
			l := b.notes(b.friends[i], dir, shift, rng)
			l.Taster, l.Extract = string(rune('A'+i)), extract
			s.DosedToTaste = append(s.DosedToTaste, l)
		}
	}
}

// notes plays one glass: from a quarter of the lowest claim up, or from twice the
// highest down, until both ends are noted.
func (b *brewer) notes(f friend, dir evidence.Direction, shift float64, rng *rand.Rand) evidence.ToTaste {
	l := evidence.ToTaste{Direction: dir}
	d, factor := 0.25, noteStep
	// the votes that end the first and the second part of the glass
	ends := [2]int{0, 1}
	first, second := &l.RightGPerL, &l.TooMuchGPerL
	if dir == evidence.Down {
		d, factor = 2*b.span, 1/noteStep
		ends = [2]int{0, -1}
		first, second = second, first
	}
	mood := rng.NormFloat64()
	for range mostSteps {
		vote := b.sip(f, math.Log(d)+shift, mood, rng)
		at := d
		l.StoppedAtGPerL = &at
		switch {
		case vote == ends[1]:
			*second = &at
			return l
		case vote == ends[0] && *first == nil:
			*first = &at
		}
		d *= factor
	}
	return l
}

// sip returns the vote of a friend on a glass of effective ln dose e.
func (b *brewer) sip(f friend, e, mood float64, rng *rand.Rand) int {
	x := math.Sqrt(moodShare)*mood + math.Sqrt(1-moodShare)*rng.NormFloat64()
	u := 0.5 * math.Erfc(-x/math.Sqrt2)
	if rng.Float64() < f.lapse {
		return rng.IntN(3) - 1
	}
	switch little, much := b.chances(f, e); {
	case u < little:
		return -1
	case u > 1-much:
		return 1
	}
	return 0
}

// playEvening plays cases of an evening and of single brews after it on two
// goroutines, and counts before each brew and after the last.
func playEvening(v evening, cases, brews int) []tally {
	w := referenceWorld()
	out := make([]tally, brews+1)
	var mu sync.Mutex
	var wg sync.WaitGroup
	const workers = 2
	for g := range workers {
		wg.Go(func() {
			for c := g; c < cases; c += workers {
				b, s := w.newBrewer(uint64(c+1)), w.newStudy()
				v.play(b, s, uint64(c+1))
				for k := range out {
					if k > 0 {
						addSingle(1)(b, s, k-1)
					}
					p := fit(s)
					mu.Lock()
					out[k].add(b.judge(p, p.NextDose().DoseGPerL, p.RightDose()))
					mu.Unlock()
				}
			}
		})
	}
	wg.Wait()
	return out
}

// TestSimulatorTaste prints what an evening of dosing to taste does before the first
// brew and with single brews after it:
//
//	HEDGEROW_SIM=300 go test -run SimulatorTaste -v -timeout 60m ./report/doseresponse
func TestSimulatorTaste(t *testing.T) {
	cases := longCases(t)
	tw := tabwriter.NewWriter(os.Stdout, 0, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, "evening\tbrews\tnear best/within 20 %\tcovered %\tregret %\tx/÷\t")
	for _, v := range evenings() {
		for k, r := range playEvening(v, cases, 2) {
			fmt.Fprintf(tw, "%s\t%d\t%.1f/%.1f\t%.1f\t%.1f\t%.2f\t\n", v.name, k, 100*r.near/r.Count, 100*r.close20/r.Count,
				100*r.cover/r.Count, 100*r.regret/r.Count, math.Exp(r.width/r.Count))
		}
	}
	tw.Flush()
}

// TestSimulatorShortTaste holds the directions before any brew: an evening beats none,
// the extract that is used beats another, and with it a glass down adds to a glass up.
// What is given away on average is compared: of 60 cases it tells more than shares.
func TestSimulatorShortTaste(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of simulation")
	}
	onceAProcess(t)
	lost := map[string]float64{}
	for _, v := range evenings() {
		r := playEvening(v, 60, 0)[0]
		lost[v.name] = r.regret / r.Count
		if cover := r.cover / r.Count; cover < 0.75 {
			t.Errorf("%s: intervals cover %.2f", v.name, cover)
		}
	}
	for _, pair := range [][2]string{
		{"up and down, another extract", "nothing"},
		{"up and down, the extract used", "up and down, another extract"},
		{"up and down, the extract used", "one up, the extract used"},
	} {
		if better, worse := lost[pair[0]], lost[pair[1]]; better > 0.8*worse {
			t.Errorf("%s gives away %.3f, %s %.3f", pair[0], better, pair[1], worse)
		}
	}
}

package doseresponse

import (
	"math"

	"hedgerow/report/field"
	"hedgerow/trials/figure"
)

// A Taster is what the study says of one taster.
type taster struct {
	Name   string        // as logged
	Offset figure.Stated // own right dose over the panel's, a factor; level 0.9
	Scale  figure.Stated // intensity points above the panel's at one dose; level 0.9

	Votes, Intensities int // in dosed trials, as far as they are used
	// NoiseSD is the SD of the intensities about what the model expects of
	// this taster, points; nil below two intensities.
	NoiseSD *float64
	// RepeatSD is the SD of one intensity from the pairs of scores of one
	// trial, points; nil without a trial scored twice.
	RepeatSD *float64
	// Sharpness is the steepness of the votes against a common taster: 2 is
	// twice as steep. Few votes leave it near 1.
	Sharpness float64
	Constant  bool // all intensities, or all votes, are the same over different doses
	Random    bool // the votes hardly follow the dose
}

// Tasters returns a row for each taster in order of name; it is empty when
// nobody has scored.
func (p *Posterior) Tasters() []taster {
	if !p.scored() {
		return nil
	}
	out := make([]taster, len(p.prob.Tasters))
	for i, name := range p.prob.Tasters {
		t := &out[i]
		t.Name = name
		p.offsets(t, i)
		t.NoiseSD, t.RepeatSD = p.noise(i), p.repeatSD(i)
		t.Votes, t.Intensities = p.count(i)
		t.Constant = p.constant(i)
		t.Sharpness = p.sharpness(i)
		t.Random = p.random(i)
	}
	return out
}

// offsets fills in offset and scale of taster i, each against the mean of the
// panel, u_i - mean u and a_i - mean a: only the differences can be known.
func (p *Posterior) offsets(t *taster, i int) {
	n := len(p.prob.Tasters)
	against := func(part int) []float64 {
		values := make([]float64, len(p.draws.Weight))
		for k := range values {
			v := p.draws.At(k)
			var mean float64
			for j := range n {
				mean += v[2*j+part] / float64(n)
			}
			values[k] = v[2*i+part] - mean
		}
		return values
	}
	// under every draw for itself: the mean of the panel is as uncertain as the taster's own, and with it
	u, a := against(0), against(1)
	bu, ba := bandOf(p.draws, u, field.Order(u)), bandOf(p.draws, a, field.Order(a))
	t.Offset = figure.StatedBetween(math.Exp(bu.mid), math.Exp(bu.low), math.Exp(bu.high), level)
	t.Scale = figure.StatedBetween(ba.mid, ba.low, ba.high, level)
}

// count returns the votes and intensities of taster i that are used.
func (p *Posterior) count(i int) (votes, intensities int) {
	for _, v := range p.prob.Votes {
		if v.Taster == i {
			votes++
		}
	}
	for _, m := range p.prob.Marks {
		if m.Taster == i {
			intensities++
		}
	}
	return votes, intensities
}

// expected returns the intensity that the model expects for a mark under draw
// k of a sample, m = alpha + a_i + beta (e - theta).
func (p *Posterior) expected(s *field.Sample, k int, m field.MarkTerm) float64 {
	v := s.At(k)
	shared := v[2*s.Tasters:]
	e := p.prob.Beers[m.Trial].DoseUnder(shared)
	beta := p.points[s.Point[k]].Node.Beta
	return shared[p.prob.Alpha] + v[2*m.Taster+1] + beta*(e-shared[p.prob.Theta])
}

// noise returns the root mean square of the residuals y - m of taster i over
// all intensities and kept draws, or nil below two intensities. Averaged over
// draws it does not shrink with the numbers that were fitted, as the residuals
// of a single best fit do.
func (p *Posterior) noise(i int) *float64 {
	var q float64
	n := 0
	for _, m := range p.prob.Marks {
		if m.Taster != i {
			continue
		}
		n++
		for k := range p.kept.Point {
			r := m.Y - p.expected(p.kept, k, m)
			q += r * r / float64(len(p.kept.Point))
		}
	}
	// one residual is mostly what was fitted to it
	if n < 2 {
		return nil
	}
	sd := math.Sqrt(q / float64(n))
	return &sd
}

// repeatSD returns the SD of one intensity of taster i from the scores that
// one trial got more than once, or nil:
//
//	SD^2 = sum over trials of sum (y - mean)^2 / sum over trials of (n - 1)
func (p *Posterior) repeatSD(i int) *float64 {
	sum, squares := map[int]float64{}, map[int]float64{}
	count := map[int]int{}
	for _, m := range p.prob.Marks {
		if m.Taster == i {
			sum[m.Trial] += m.Y
			squares[m.Trial] += m.Y * m.Y
			count[m.Trial]++
		}
	}
	var q float64
	df := 0
	for k := range p.prob.Beers {
		if n := count[k]; n > 1 {
			q += squares[k] - sum[k]*sum[k]/float64(n)
			df += n - 1
		}
	}
	if df == 0 {
		return nil
	}
	// equal scores can leave a sum of squares just below 0 by rounding
	sd := math.Sqrt(max(0, q) / float64(df))
	return &sd
}

// constant reports whether taster i gave one intensity, or one vote, to three
// or more trials whose doses differ by a factor of two or more.
func (p *Posterior) constant(i int) bool {
	var votes, marks run
	for _, v := range p.prob.Votes {
		if v.Taster == i {
			votes.add(p.prob.Beers[v.Trial].X, float64(v.Vote))
		}
	}
	for _, m := range p.prob.Marks {
		if m.Taster == i {
			marks.add(p.prob.Beers[m.Trial].X, m.Y)
		}
	}
	return votes.flat() || marks.flat()
}

// A run collects the number of scores and the ranges of ln doses and scores.
type run struct {
	Count               int
	lowX, highX         float64
	lowScore, highScore float64
}

// add takes one score at relative ln dose x.
func (r *run) add(x, score float64) {
	if r.Count == 0 {
		*r = run{0, x, x, score, score}
	}
	r.Count++
	r.lowX, r.highX = min(r.lowX, x), max(r.highX, x)
	r.lowScore, r.highScore = min(r.lowScore, score), max(r.highScore, score)
}

// flat reports whether three or more scores are one over a doubling of dose.
func (r *run) flat() bool {
	return r.Count >= 3 && r.lowScore == r.highScore && r.highX-r.lowX >= math.Ln2
}

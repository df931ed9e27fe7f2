package doseresponse

import (
	"cmp"
	"math"
	"slices"

	"hedgerow/report/field"
	"hedgerow/trials/figure"
)

// The time to pull a plant is looked for from half the shortest to twice the longest
// time tasted, in so many steps: beyond, a power of time is no longer to be trusted.
const (
	pullBeyond = 2.0
	pullSteps  = 60
	pullBand   = 0.9 // share of the largest chance of "just right" that the limits have
)

// A steeping is the trials of one brew of one dose that were tasted with the plant
// still in it, in order of time.
type steeping struct {
	dose   float64
	brew   string
	trials []int // in the problem
	votes  int
}

// pullAt returns when to take the plant out of a beer that was tasted at two or
// more contact times of one dose, with votes not all on one side; ok is false
// without such a beer. Of several the one with the most votes is taken.
func (p *Posterior) pullAt() (q pull, ok bool) {
	if p.prob.Contact < 0 || p.study.TargetIntensity != nil {
		return pull{}, false
	}
	var best *steeping
	for _, s := range p.steepings() {
		if p.tells(&s) && (best == nil || s.votes > best.votes) {
			best = &s
		}
	}
	if best == nil {
		return pull{}, false
	}
	q = pull{Dose: best.dose, Brew: best.brew}
	for _, k := range best.trials {
		q.Times = append(q.Times, p.contactOf(k))
	}
	slices.Sort(q.Times)
	q.Days = p.pullDays(best.trials[0], q.Times)
	return q, true
}

// contactOf returns the contact days of a trial of the problem.
func (p *Posterior) contactOf(k int) float64 {
	return *p.study.Trials[p.prob.Beers[k].Index].ContactDays
}

// steepings lists the brews that were tasted by contact time, by dose and brew.
func (p *Posterior) steepings() []steeping {
	var list []steeping
	for k, term := range p.prob.OwnTrials() {
		t := p.study.Trials[term.Index]
		little, right, much := t.Votes()
		if !field.Timed(t) || little+right+much == 0 {
			continue
		}
		brew := field.BrewOf(term.Index, t)
		at := slices.IndexFunc(list, func(s steeping) bool { return s.brew == brew && s.dose == t.DoseGPerL })
		if at < 0 {
			at = len(list)
			list = append(list, steeping{dose: t.DoseGPerL, brew: brew})
		}
		list[at].trials = append(list[at].trials, k)
		list[at].votes += little + right + much
	}
	slices.SortStableFunc(list, func(a, b steeping) int {
		return cmp.Or(cmp.Compare(a.dose, b.dose), cmp.Compare(a.brew, b.brew))
	})
	return list
}

// tells reports whether a brew was tasted at two times or more, with votes that do
// not all lie on one side.
func (p *Posterior) tells(s *steeping) bool {
	times := map[float64]bool{}
	var little, right, much int
	for _, k := range s.trials {
		times[p.contactOf(k)] = true
		l, r, m := p.study.Trials[p.prob.Beers[k].Index].Votes()
		little, right, much = little+l, right+r, much+m
	}
	return len(times) > 1 && little < s.votes && much < s.votes
}

// pullDays returns the contact time at which the brew of a trial is most likely
// "just right", with the times at which it is nearly so; nothing when that lies at an
// end of what is looked at. The brew keeps the potency that it has.
func (p *Posterior) pullDays(trial int, times []float64) figure.Stated {
	from := math.Log(times[0] / pullBeyond)
	step := (math.Log(times[len(times)-1]*pullBeyond) - from) / pullSteps
	shares := make([]float64, pullSteps+1)
	for k := range shares {
		shares[k] = p.rightAtContact(trial, from+float64(k)*step)
	}
	top := 0
	for k, s := range shares {
		if s > shares[top] {
			top = k
		}
	}
	if top == 0 || top == pullSteps {
		return figure.Stated{}
	}
	low, high := top, top
	for low > 0 && shares[low-1] >= pullBand*shares[top] {
		low--
	}
	for high < pullSteps && shares[high+1] >= pullBand*shares[top] {
		high++
	}
	at := func(k int) float64 { return math.Exp(from + float64(k)*step) }
	return figure.StatedBetween(at(top), at(low), at(high), level)
}

// rightAtContact returns the expected share of "just right" of the brew of a trial
// at a ln contact time, drunk at the age asked for.
func (p *Posterior) rightAtContact(trial int, lnDays float64) float64 {
	term := p.prob.Beers[trial]
	// the trial's own age and time give way to those asked for
	for i, l := range term.Lat[:term.Count] {
		if l == p.prob.Fade || l == p.prob.Contact {
			term.By[i] = 0
		}
	}
	n := len(p.prob.Tasters)
	var sum float64
	use := p.ordinary(scanStride / 2)
	for _, i := range use {
		v := p.kept.At(i)
		e := term.DoseUnder(v[2*n:]) + (lnDays-math.Log(p.prob.Contact0))*v[2*n+p.prob.Contact]
		nd := &p.points[p.kept.Point[i]].Node
		for _, j := range p.prob.Panel {
			_, right, _ := field.NewWindow(nd, p.prob.Sharp[j]).Chances(e - p.prob.RightOf(v, j))
			sum += right
		}
	}
	return sum / float64(max(1, len(use))*len(p.prob.Panel))
}

package doseresponse

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// An Action is a trial that could be made next.
type action string

// The actions that Teach weighs.
const (
	oneBatch    action = "one batch"     // the next dose
	fourJars    action = "four jars"     // one brew, split as Spread says
	benchSeries action = "bench glasses" // five dosed glasses as Glasses says
	blindRepeat action = "blind repeat"  // the beers at hand once more, in a new order
	doseToTaste action = "dose to taste" // extract into a glass until it is right, up and down
)

// A Lesson is what a trial is expected to teach.
type lesson struct {
	Action     action
	Brews      int       // brews that it costs; glasses and repeats cost none
	DosesGPerL []float64 // of its beers
	// FactorNow and FactorAfter are the x/÷ factors of the 90 % interval of
	// the right dose, now and expected after the trial.
	FactorNow   float64
	FactorAfter float64
	Narrowing   float64 // share of the ln half-width that goes away
}

// ToTaste reports whether the trial is an evening of dosing to taste.
func (l lesson) ToTaste() bool { return l.Action == doseToTaste }

// Teach returns what each action is expected to teach, the most first. Extract says
// whether there can be an extract to dose to taste with that goes into the beer, or
// another one; "" leaves that action out.
//
// For every kept draw the answers of the same panel are simulated. The right
// ln dose psi is then regressed on the answers (for each beer the sums of the
// votes "too little" and "too much" and of the intensities; of dosing to taste the
// sums of the ln doses noted): the residual SD
// is what a reader of these answers would be left with, at most. It is the
// regression form of a preposterior analysis; being linear it slightly
// understates what a trial teaches. The factors include the model
// discrepancy. The draws of the answers have a fixed seed.
func (p *Posterior) Teach(extract evidence.Extract) []lesson {
	lessons := []lesson{
		p.lesson(oneBatch, 1, []float64{p.NextDose().DoseGPerL}),
		p.lesson(fourJars, 1, p.Spread(splitJars)),
		// the undosed anchor is left out: its votes do not move the right dose
		p.lesson(benchSeries, 0, p.Glasses()[1:]),
	}
	if doses := p.brewedDoses(); len(doses) > 0 {
		lessons = append(lessons, p.lesson(blindRepeat, 0, doses))
	}
	if extract != "" {
		lessons = append(lessons, p.tasteLesson(extract))
	}
	slices.SortStableFunc(lessons, func(a, b lesson) int { return cmp.Compare(a.FactorAfter, b.FactorAfter) })
	return lessons
}

// maxRepeat is how many beers a blind repeat pours at most: more than a few
// evenings hold, and as many as can be told apart in the draws.
const maxRepeat = 24

// repeatable returns the brewed trials with scores, which can be poured once more
// (a dosed glass is gone): of many those next to the dose that is brewed next. A
// beer that was tasted on several days is one beer, as old as it last was.
func (p *Posterior) repeatable() []field.TrialTerm {
	var list []field.TrialTerm
	at := map[string]int{}
	for _, term := range p.prob.OwnTrials() {
		t := p.study.Trials[term.Index]
		if t.Kind == evidence.Glass {
			continue
		}
		beer := field.BeerOf(term.Index, t)
		k, ok := at[beer]
		if !ok {
			at[beer] = len(list)
			list = append(list, term)
		} else if p.prob.AgeOf(t) > p.prob.AgeOf(p.study.Trials[list[k].Index]) {
			list[k] = term
		}
	}
	if len(list) <= maxRepeat {
		return list
	}
	x := math.Log(p.NextDose().DoseGPerL) - p.prob.Origin
	slices.SortStableFunc(list, func(a, b field.TrialTerm) int { return cmp.Compare(math.Abs(a.X-x), math.Abs(b.X-x)) })
	list = list[:maxRepeat]
	// back in order of dose, as a reader expects the beers to be listed
	slices.SortStableFunc(list, func(a, b field.TrialTerm) int { return cmp.Compare(a.X, b.X) })
	return list
}

// brewedDoses returns the doses, g/L, of a blind repeat.
func (p *Posterior) brewedDoses() []float64 {
	var doses []float64
	for _, t := range p.repeatable() {
		doses = append(doses, p.study.Trials[t.Index].DoseGPerL)
	}
	return doses
}

// lesson simulates one action that costs the given brews and pours the given
// doses.
func (p *Posterior) lesson(a action, brews int, doses []float64) lesson {
	return p.lessonFrom(a, brews, doses, p.simulate(a, doses))
}

// lessonFrom weighs simulated answers, a row for each kept draw. The half-width of the
// interval is taken to shrink like the SD.
func (p *Posterior) lessonFrom(a action, brews int, doses []float64, answers [][]float64) lesson {
	share := residualShare(answers, p.kept.Psi)
	now := (p.psiQ.high - p.psiQ.low) / 2
	after := now * share
	return lesson{
		Action:      a,
		Brews:       brews,
		DosesGPerL:  doses,
		FactorNow:   math.Exp(widened(now)),
		FactorAfter: math.Exp(widened(after)),
		Narrowing:   1 - widened(after)/widened(now),
	}
}

// answersPerBeer is how many sums describe the answers to one beer: votes of
// too little, votes of too much, and the intensities.
const answersPerBeer = 3

// simulate returns the sums of the panel's answers to the beers of an action,
// a row for each kept draw.
func (p *Posterior) simulate(a action, doses []float64) [][]float64 {
	// a stream of its own, so that more draws in the fit do not change what is expected of a trial
	rng := rand.New(rand.NewPCG(seed, 2))
	rows := make([][]float64, len(p.kept.Point))
	var repeats []field.TrialTerm
	if a == blindRepeat {
		repeats = p.repeatable()
	}
	es := make([]float64, len(doses))
	for i := range rows {
		if a == blindRepeat {
			p.again(es, repeats, i)
		} else {
			p.anew(es, a, doses, i, rng)
		}
		rows[i] = make([]float64, 0, answersPerBeer*len(doses))
		for _, e := range es {
			rows[i] = p.pour(rows[i], i, e, rng)
		}
	}
	return rows
}

// again fills in the effective ln doses of repeats under kept draw i, which have
// the potencies of the draw.
func (p *Posterior) again(es []float64, repeats []field.TrialTerm, i int) {
	shared := p.kept.At(i)[2*p.kept.Tasters:]
	for k := range repeats {
		es[k] = repeats[k].DoseUnder(shared)
	}
}

// anew fills in the effective ln doses of the beers of an action under kept draw
// i: a brew and a bench series have new potencies.
func (p *Posterior) anew(es []float64, a action, doses []float64, i int, rng *rand.Rand) {
	// one shift for all jars: they come from one brew and share its potency
	shift := field.BatchSDLn * rng.NormFloat64()
	if a == benchSeries {
		shift = field.GlassSDLn * rng.NormFloat64()
		// the step from glass to beer stays as it was: it is the method's, not the evening's
		if p.prob.Glass >= 0 {
			shift = p.kept.At(i)[2*p.kept.Tasters+p.prob.Glass]
		}
	}
	// new beers are tasted at the age at which they are drunk
	shift -= p.prob.DrunkLater(p.kept.At(i))
	for k, d := range doses {
		es[k] = math.Log(d) - p.prob.Origin + shift
	}
}

// pour adds the sums of the panel's simulated answers to one beer of effective
// ln dose e under kept draw i to a row: votes with lapses, intensities rounded
// to whole points and kept on the scale.
func (p *Posterior) pour(row []float64, i int, e float64, rng *rand.Rand) []float64 {
	v := p.kept.At(i)
	n := p.kept.Tasters
	theta := v[2*n+p.prob.Theta]
	nd := &p.points[p.kept.Point[i]].Node
	var little, much, marks float64
	for _, j := range p.prob.Panel {
		w := field.NewWindow(nd, p.prob.Sharp[j])
		l, _, m := w.Chances(e - theta - v[2*j])
		switch u := rng.Float64(); {
		case u < field.Lapsed(l):
			little++
		// the top end of the same number, so that one draw decides among three votes
		case u > 1-field.Lapsed(m):
			much++
		}
		y := v[2*n+p.prob.Alpha] + v[2*j+1] + nd.Beta*(e-theta) + nd.Sy*rng.NormFloat64()
		// tasters write whole points: unrounded ones would teach more than a sheet can
		marks += math.Round(max(0, min(10, y)))
	}
	return append(row, little, much, marks)
}

// residualShare returns the SD of the residuals of a linear regression of y
// on the columns of rows over the SD of y, at most 1; the degrees of freedom
// that the columns use up are counted. A small ridge keeps columns that do
// not vary from spoiling it.
func residualShare(rows [][]float64, y []float64) float64 {
	n, cols := len(rows), len(rows[0])
	means := make([]float64, cols+1)
	for i, r := range rows {
		for j, x := range r {
			means[j] += x / float64(n)
		}
		means[cols] += y[i] / float64(n)
	}
	a, b := make([]float64, cols*cols), make([]float64, cols)
	var total float64
	for i, r := range rows {
		dy := y[i] - means[cols]
		total += dy * dy
		for j, x := range r {
			dx := x - means[j]
			b[j] += dx * dy
			for k := range j + 1 {
				a[j*cols+k] += dx * (r[k] - means[k])
			}
		}
	}
	for j := range cols {
		a[j*cols+j] += 1e-6 * float64(n)
	}
	// nothing can be said then, which is less than any promise of narrowing
	if total == 0 || n <= cols+1 || !field.Cholesky(a, cols) {
		return 1
	}
	field.SolveLower(a, cols, b)
	left := total
	for _, x := range b {
		left -= x * x
	}
	df := float64(n-1) / float64(n-1-cols)
	return math.Sqrt(min(1, max(0, left/total*df)))
}

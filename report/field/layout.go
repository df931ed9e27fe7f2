package field

import (
	"math"
	"slices"
	"strconv"

	"hedgerow/report/evidence"
)

// A cell is what shares one dose error: one method within one brew. The tea
// of a brew goes into all its jars, so its error is common to them.
type cell struct{ group, method string }

// A layout gives every latent number of a problem its index and prior.
type layout struct {
	*Problem
	study    evidence.Study
	prior    []LnPrior        // of the shared numbers so far
	errorSD  map[cell]float64 // smallest dose error of the cell, ln: the common part
	methodsN map[string]int   // number of methods within a brew
	known    map[string]int   // index of a shared number by its key
	blockOf  map[string]int   // index of a block by its key
}

// A wanted is a shared number that some trial needs: what it is called, and its
// prior.
type wanted struct {
	key   string
	prior LnPrior
}

// newLayout returns a layout that knows which dose errors are shared; nothing
// has an index yet.
func newLayout(p *Problem, s evidence.Study) *layout {
	l := &layout{
		Problem:  p,
		study:    s,
		errorSD:  map[cell]float64{},
		methodsN: map[string]int{},
		known:    map[string]int{},
		blockOf:  map[string]int{},
	}
	for i, t := range s.Trials {
		// a glass is dosed by itself: its error is its own
		if !t.Informs() || t.Kind == evidence.Glass {
			continue
		}
		c := cell{BrewOf(i, t), t.Method}
		if sd, ok := l.errorSD[c]; !ok {
			l.errorSD[c] = t.DoseSDLn
			l.methodsN[c.group]++
		} else {
			l.errorSD[c] = min(sd, t.DoseSDLn)
		}
	}
	return l
}

// BrewOf returns the group of trial i; a trial without one is its own brew.
func BrewOf(i int, t evidence.Trial) string {
	if t.Group == "" {
		return "\x00" + strconv.Itoa(i)
	}
	return t.Group
}

// run lays out the common numbers, those of the brews, all trials, and two
// numbers for each taster. Alpha and theta come last among the common numbers,
// theta after alpha; gatherTrials relies on it.
func (l *layout) run(right LnPrior) {
	for _, m := range l.Methods {
		k := -1
		// the reference has potency 1 by definition; a free number for it could not be told from theta
		if m != l.Reference {
			k = l.number(wanted{"method " + m, l.ratioPrior(m)})
		}
		l.Potency = append(l.Potency, k)
	}
	for _, t := range l.study.Trials {
		if t.Informs() && t.Kind == evidence.Glass {
			l.number(glassStep(t.Method))
		}
	}
	l.Glass = -1
	if k, ok := l.known["glass "+l.Reference]; ok {
		l.Glass = k
	}
	l.numberSeries()
	l.numberTimes()
	l.numberGuests()
	l.Alpha = l.number(wanted{"alpha", LnPrior{ScaleMean, scaleSD}})
	l.Theta = l.number(wanted{"theta", LnPrior{0, right.Sd}})
	l.common = len(l.prior)
	l.brews()
	l.Shared = len(l.prior)
	for i, t := range l.study.Trials {
		if t.Informs() {
			l.add(i, t)
		}
	}
	for _, s := range l.study.DosedToTaste {
		l.addSeries(s, slices.Index(l.Tasters, s.Taster))
	}
	l.listPriors()
}

// listPriors lists the priors of the latent vector, the tasters first.
func (l *layout) listPriors() {
	for _, name := range l.Tasters {
		r, ok := l.study.Remembered[name]
		if !ok {
			// the 1 only holds the place until the grid node puts tau there
			r = evidence.TasterPrior{ScaleSD: TasterScale, OffsetSDLn: 1}
		}
		l.Mean = append(l.Mean, r.OffsetLn, r.Scale)
		l.Sd = append(l.Sd, r.OffsetSDLn, r.ScaleSD)
	}
	for _, pr := range l.prior {
		l.Mean = append(l.Mean, pr.Mean)
		l.Sd = append(l.Sd, pr.Sd)
	}
}

// brews gives the numbers of every brew their indices, those of one brew side
// by side: they are a block of the arrow. Trials are in order of dose, so the
// jars of a brew are gathered first.
func (l *layout) brews() {
	var order []string
	wants := map[string][]wanted{}
	for i, t := range l.study.Trials {
		if !t.Informs() {
			continue
		}
		brew := l.blockKey(i, t)
		if _, ok := wants[brew]; !ok {
			order = append(order, brew)
		}
		wants[brew] = append(wants[brew], l.ofBrew(i, t)...)
	}
	at := 0
	for _, brew := range order {
		from := len(l.prior)
		for _, w := range wants[brew] {
			l.number(w)
		}
		if n := len(l.prior) - from; n > 0 {
			l.blockOf[brew] = len(l.brewBlocks)
			l.brewBlocks = append(l.brewBlocks, block{from - l.common, n, at})
			at += n * n
		}
	}
}

// blockKey names the block of trial i. A glass is alone with its own error.
func (l *layout) blockKey(i int, t evidence.Trial) string {
	if t.Kind == evidence.Glass {
		return "glass " + strconv.Itoa(i)
	}
	return "brew " + BrewOf(i, t)
}

// ratioPrior returns the prior of the ln potency of a method m against the
// reference, r_m ~ N(ln_m - ln_ref, sd_m^2). The SD is that given with m, or
// 0.5: a published figure is about a ratio, so its doubt is counted once.
func (l *layout) ratioPrior(m string) LnPrior {
	sd := methodSDLn
	p, ok := l.study.MethodPrior[m]
	if ok {
		sd = max(p.SD, 0.01) // an SD of 0 would make the ratio's weight infinite
	}
	return LnPrior{p.Ln - l.study.MethodPrior[l.Reference].Ln, sd}
}

// number returns the index of a shared number, which is added when it is new.
func (l *layout) number(w wanted) int {
	if k, ok := l.known[w.key]; ok {
		return k
	}
	k := len(l.prior)
	l.known[w.key] = k
	l.prior = append(l.prior, w.prior)
	return k
}

// add lays out trial i with its scores. The tasters are known by then.
func (l *layout) add(i int, t evidence.Trial) {
	k := len(l.Beers)
	l.Beers = append(l.Beers, l.term(i, t))
	if t.Own() {
		l.ownCount++
	}
	for _, sc := range t.Scores {
		who := slices.Index(l.Tasters, sc.Taster)
		if sc.Vote != nil {
			l.Votes = append(l.Votes, VoteTerm{who, k, *sc.Vote})
		}
		if sc.Intensity != nil {
			l.Marks = append(l.Marks, MarkTerm{who, k, *sc.Intensity})
		}
	}
}

// term returns the ln dose of trial i and the numbers that shift it, the common
// ones first.
func (l *layout) term(i int, t evidence.Trial) TrialTerm {
	term := TrialTerm{X: math.Log(t.DoseGPerL) - l.Origin, Index: i, block: l.blockOf[l.blockKey(i, t)]}
	if t.Method != l.Reference {
		term.shift(l.known["method "+t.Method], 1)
	}
	if t.Kind == evidence.Glass {
		term.shift(l.known[glassStep(t.Method).key], 1)
	}
	l.shiftByTime(&term, t)
	l.shiftByBrewer(&term, t)
	term.wide = term.Count
	for _, w := range l.ofBrew(i, t) {
		term.shift(l.known[w.key], 1)
	}
	return term
}

// glassStep is the step from a glass, dosed by a method, to a beer.
func glassStep(method string) wanted { return wanted{"glass " + method, LnPrior{0, GlassSDLn}} }

// leastError is the SD of the ln of a dose below which its error is left out:
// a thousandth of a dose cannot be weighed.
const leastError = 1e-3

// ofBrew returns the numbers of its brew that shift trial i. The smallest dose
// error within a cell is taken as common to the cell, what a trial has beyond it
// as its own (judgement); with one method in the brew the common error is part
// of the potency of the brew. A glass has its own dose error, but no brew.
func (l *layout) ofBrew(i int, t evidence.Trial) (list []wanted) {
	own := t.DoseSDLn
	if t.Kind != evidence.Glass {
		group := BrewOf(i, t)
		common := l.errorSD[cell{group, t.Method}]
		// variances add: what is left after the common part; equal SDs may leave rounding below 0
		own = math.Sqrt(max(0, own*own-common*common))
		brewSD := BatchSDLn
		// one number less for each brew: with one method its dose error cannot be told from the brew's potency
		if l.methodsN[group] == 1 {
			brewSD = math.Hypot(BatchSDLn, common)
		} else if common > 0 {
			list = append(list, wanted{"cell " + group + "\x00" + t.Method, LnPrior{0, common}})
		}
		list = append(list, wanted{"brew " + group, LnPrior{0, brewSD}})
	}
	if own > leastError {
		list = append(list, wanted{"own " + BeerOf(i, t), LnPrior{0, own}})
	}
	return list
}

// BeerOf names the beer of trial i: one that was tasted on several days is weighed
// and dosed once. A glass is a beer of its own.
func BeerOf(i int, t evidence.Trial) string {
	if t.Kind == evidence.Glass {
		return "glass " + strconv.Itoa(i)
	}
	return BrewOf(i, t) + "\x00" + t.Method + "\x00" + strconv.FormatFloat(t.DoseGPerL, 'g', -1, 64)
}

// shift adds a shared number to those that move the trial, by times itself.
func (t *TrialTerm) shift(k int, by float64) {
	t.Lat[t.Count], t.By[t.Count] = k, by
	t.Count++
}

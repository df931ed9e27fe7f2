package doseresponse

import (
	"maps"
	"math"
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
	"hedgerow/report/pooling"
)

// This file hears what other brewers' trials say of the right dose. Each of them is
// fitted alone and gives one number; their votes stay out of the own field, and with
// it out of camps, liking, refused doses and verdicts.

// A hearing is what came of the other brewers of a study.
type hearing struct {
	by      []otherBrewer   // in order of name
	said    *pooling.Pooled // what those who count say of the own right ln dose; nil when nobody counts
	without *Posterior      // the own study by itself; nil when it says nothing
	people  int             // of the own panel
}

// An otherBrewer is what became of one brewer's trials.
type otherBrewer struct {
	name            string
	trials, tasters int          // with votes or intensities of dosed beers, or as printed
	right           pooling.Word // their right ln dose, by their method
	word            pooling.Word // the same for the method that is asked for
	why             string       // they are left out; "" when they count
}

// Why trials of another brewer are left out.
const (
	nobodyScored   = "nobody has scored a dose"
	votesIgnoreAll = "the votes do not follow the dose"
	nothingLearnt  = "they tell next to nothing of the dose"
)

// fitShared fits a study that has other brewers' trials in it: the own trials, with
// what the others say in the prior of the right dose. The study is in order.
func fitShared(s evidence.Study, o Options) (*Posterior, error) {
	own := s.Alone()
	h := &hearing{people: len(s.People())}
	if h.people == 0 {
		h.people = field.UnnamedPanel
	}
	if o.Method == nil {
		o.Method = methodOfOthers(s, own)
	}
	about, ok := field.ClaimPrior(own)
	// without claims and own scores the others may still say something
	if ok {
		h.without = infer(own, o, beliefs{about, field.ClaimParts(own)})
		o.Method = &h.without.prob.Reference
	}
	h.listen(s, own, o)
	switch {
	case h.said == nil && h.without == nil:
		return nil, evidence.ErrNotEnough
	case h.said == nil:
		h.without.heard = h
		return h.without, nil
	}
	heard := field.LnPrior{Mean: h.said.Mean, Sd: math.Sqrt(h.said.Var)}
	if !ok {
		about = field.LnPrior{Mean: heard.Mean, Sd: pooling.PriorSD}
	}
	p := infer(own, o, beliefs{about, field.HeardParts(own, about, heard)})
	p.heard = h
	return p, nil
}

// methodOfOthers returns the method that others brewed most, of equals the first by
// name, where no own trial tells which method the answer is for; else nil.
func methodOfOthers(s, own evidence.Study) *string {
	for _, t := range own.Trials {
		if t.Informs() {
			return nil
		}
	}
	for _, l := range own.DosedToTaste {
		if l.Method != "" {
			return nil
		}
	}
	count := map[string]int{}
	for _, t := range s.Trials {
		if t.Informs() && t.Kind != evidence.Glass {
			count[t.Method]++
		}
	}
	var most *string
	for _, m := range slices.Sorted(maps.Keys(count)) {
		if most == nil || count[m] > count[*most] {
			most = &m
		}
	}
	return most
}

// listen fills in what each of the other brewers says, and all of them together.
func (h *hearing) listen(s, own evidence.Study, o Options) {
	ask := h.question(own)
	printed := map[string]evidence.OtherDose{}
	for _, d := range s.Others {
		printed[d.Brewer] = d
	}
	var words []pooling.Word
	for _, name := range s.Brewers() {
		b := otherBrewer{name: name}
		// who shows the trials need not be taken at their word
		if ask.Trials = s.Of(name); len(ask.Trials) > 0 {
			b.fromTrials(ask, o)
		} else {
			b.fromPrinted(printed[name], o)
		}
		if b.why == "" {
			words = append(words, b.word)
		}
		h.by = append(h.by, b)
	}
	if len(words) > 0 {
		said := pooling.Pool(words)
		h.said = &said
	}
}

// question returns the study that another brewer's trials are fitted in: with the own
// claims, for the age at which the own beer is drunk, with tasters of whom nothing is
// known, and with no wish.
func (h *hearing) question(own evidence.Study) evidence.Study {
	days := field.UsualAge
	if h.without != nil {
		days = h.without.drinkAge()
	}
	if own.DrinkAtDays == nil {
		own.DrinkAtDays = &days
	}
	own.Remembered, own.DosedToTaste = nil, nil
	own.Wish, own.Avoid, own.TargetIntensity = nil, nil, nil
	return own
}

// fromTrials fits the trials of one brewer alone, with the prior N(middle of the
// claims, 1.5^2), and takes that prior out again.
func (b *otherBrewer) fromTrials(s evidence.Study, o Options) {
	s.Trials = slices.DeleteFunc(s.Trials, func(t evidence.Trial) bool { return !t.Informs() })
	b.trials, b.tasters = len(s.Trials), len(evidence.Voters(s.Trials))
	if b.trials == 0 {
		b.why = nobodyScored
		return
	}
	middle, _ := field.ClaimPrior(s)
	middle.Sd = pooling.PriorSD
	same := func(t evidence.Trial) bool { return o.Method != nil && t.Method == *o.Method }
	another := o.Method != nil && !slices.ContainsFunc(s.Trials, same)
	if another {
		o.Method = nil
	}
	p := infer(s, o, beliefs{middle, []field.PriorPart{{LnPrior: middle, Weight: 1}}})
	mean, variance := p.thetaMoments()
	word, learnt := pooling.TakenOut(mean, variance, middle.Mean)
	switch {
	case p.ignored() > ignoreSure:
		b.why = votesIgnoreAll
	case !learnt:
		b.why = nothingLearnt
	}
	b.take(word, another)
}

// fromPrinted takes a printed dose.
func (b *otherBrewer) fromPrinted(d evidence.OtherDose, o Options) {
	b.trials, b.tasters = d.Trials, d.Tasters
	mean, sd := d.LnRight()
	b.take(pooling.Printed(mean, sd, d.Tasters), o.Method != nil && d.Method != "" && d.Method != *o.Method)
}

// take keeps the word of a brewer, for a method that is another than the one asked for
// or not.
func (b *otherBrewer) take(w pooling.Word, another bool) {
	b.right, b.word = w, w
	if another {
		b.word = w.ByAnotherMethod()
	}
}

// thetaMoments returns mean and variance of the right ln dose of the crowd that the
// tasters are from, where their answers follow the dose.
func (p *Posterior) thetaMoments() (mean, variance float64) {
	var sum, squares, weight float64
	for i, at := range p.draws.Point {
		if p.points[at].Node.Ignores {
			continue
		}
		w, x := p.draws.Weight[i], p.prob.Right(p.draws.At(i))
		weight += w
		sum += w * x
		squares += w * x * x
	}
	mean = sum / weight
	return mean + p.prob.Origin, squares/weight - mean*mean
}

// hears reports whether other brewers' trials are in the prior.
func (p *Posterior) hears() bool { return p.heard != nil && p.heard.said != nil }

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
// it out of camps, liking, refused doses and verdicts. Only where half of the own panel
// or more scored at another brewer's do the votes of those people come into the field;
// the strangers' votes there are then of no use (adding them gained nothing in
// simulation).

// A hearing is what came of the other brewers of a study.
type hearing struct {
	by      []otherBrewer    // in order of name
	said    *pooling.Pooled  // what strangers say of the own right ln dose; nil when none counts
	shared  *pooling.Word    // what one's own people found at others'; nil when they did not count
	guests  []evidence.Trial // the beers that they found it in
	without *Posterior       // the own study by itself; nil when it says nothing
	people  []string         // the own panel; none is known when nobody has scored
}

// told returns what all of the others who count say together; ok is false when nobody
// counts.
func (h *hearing) told() (w pooling.Word, ok bool) {
	switch {
	case h.said != nil && h.shared != nil:
		return pooling.Both(h.said.Word, *h.shared), true
	case h.said != nil:
		return h.said.Word, true
	case h.shared != nil:
		return *h.shared, true
	}
	return w, false
}

// worth returns how many single brews of one's own all of it is worth.
func (h *hearing) worth() float64 {
	people := len(h.people)
	if people == 0 {
		people = field.UnnamedPanel
	}
	w, ok := h.told()
	if !ok {
		return 0
	}
	return w.Worth(people)
}

// An otherBrewer is what became of one brewer's trials.
type otherBrewer struct {
	name            string
	trials, tasters int          // with votes or intensities of dosed beers, or as printed
	right           pooling.Word // their right ln dose, by their method
	word            pooling.Word // the same for the method that is asked for
	shared          []string     // of the own panel who scored there, if they are half of it or more
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
	h := &hearing{people: s.People()}
	if o.Method == nil {
		o.Method = methodOfOthers(s, own)
	}
	about, ok := field.ClaimPrior(own)
	// without claims and own scores the others may still say something
	if ok {
		h.without = infer(own, o, beliefs{about: about, parts: field.ClaimParts(own)})
		o.Method = &h.without.prob.Reference
	}
	h.listen(s, own, o)
	told, heard := h.told()
	switch {
	case !heard && h.without == nil:
		return nil, evidence.ErrNotEnough
	case !heard:
		h.without.heard = h
		return h.without, nil
	}
	if !ok {
		about = field.LnPrior{Mean: told.Mean, Sd: pooling.PriorSD}
	}
	p := infer(own, o, h.beliefs(own, about))
	p.heard = h
	return p, nil
}

// beliefs returns what the others bring to the own trials. Who scores at random is told
// by the own trials alone.
func (h *hearing) beliefs(own evidence.Study, about field.LnPrior) beliefs {
	b := beliefs{about: about, guests: h.guests, parts: []field.PriorPart{{LnPrior: about, Weight: 1}}}
	switch {
	case h.said != nil:
		b.parts = field.HeardParts(own, about, field.LnPrior{Mean: h.said.Mean, Sd: math.Sqrt(h.said.Var)})
	case len(own.ClaimsGPerL) > 0:
		b.parts = field.ClaimParts(own)
	}
	if len(h.guests) > 0 {
		b.strays = map[string]float64{}
		if h.without != nil {
			for i, name := range h.without.prob.Tasters {
				b.strays[name] = h.without.strays[i]
			}
		}
	}
	return b
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
	var strangers, shared []pooling.Word
	for _, name := range s.Brewers() {
		b := otherBrewer{name: name}
		// who shows the trials need not be taken at their word
		if ask.Trials = s.Of(name); len(ask.Trials) > 0 {
			b.tastedBy(h.people, ask.Trials)
			b.fromTrials(ask, o)
		} else {
			b.fromPrinted(printed[name], o)
		}
		switch {
		case b.why != "":
		case len(b.shared) > 0:
			shared = append(shared, b.word)
			h.guests = append(h.guests, b.asGuests(ask.Trials)...)
		default:
			strangers = append(strangers, b.word)
		}
		h.by = append(h.by, b)
	}
	if len(strangers) > 0 {
		said := pooling.Pool(strangers)
		h.said = &said
	}
	if len(shared) > 0 {
		said := pooling.PoolShared(shared)
		h.shared = &said
	}
}

// tastedBy finds out who of the own panel scored the trials, and leaves the scores to
// them when they are half of the panel or more: one of four gained nothing in
// simulation.
func (b *otherBrewer) tastedBy(people []string, trials []evidence.Trial) {
	voters := evidence.Voters(trials)
	ours := slices.DeleteFunc(slices.Clone(people), func(name string) bool { return !slices.Contains(voters, name) })
	if len(ours) == 0 || 2*len(ours) < len(people) {
		return
	}
	b.shared = ours
	for i := range trials {
		trials[i].Scores = slices.DeleteFunc(slices.Clone(trials[i].Scores), func(sc evidence.Score) bool {
			return !slices.Contains(ours, sc.Taster)
		})
	}
}

// asGuests returns the trials as rows of the own field. Their lots, times and brews are
// not those of one's own: what differs there is in the two numbers that they have.
func (b *otherBrewer) asGuests(trials []evidence.Trial) []evidence.Trial {
	var list []evidence.Trial
	for _, t := range trials {
		if !t.Informs() {
			continue
		}
		t.Brewer, t.Lot, t.ContactDays, t.Conditions = b.name, "", nil, nil
		if t.Group != "" {
			t.Group = b.name + "\x00" + t.Group
		}
		list = append(list, t)
	}
	return list
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
	s.Trials = slices.DeleteFunc(slices.Clone(s.Trials), func(t evidence.Trial) bool { return !t.Informs() })
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
	p := infer(s, o, beliefs{about: middle, parts: []field.PriorPart{{LnPrior: middle, Weight: 1}}})
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
func (p *Posterior) hears() bool {
	if p.heard == nil {
		return false
	}
	_, ok := p.heard.told()
	return ok
}

package ledger

import (
	"errors"
	"math"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/steeps"
)

// Ledger is the step by step account of a batch.
type Ledger struct {
	Batch    trials.Batch     // whose account it is
	Steps    []ledgerStep     // oldest first
	Doses    []Dose           // effective doses today, one for each material that went in
	Warnings []Warning        // remarks, one sentence each
	Draws    dilution.Draws   // behind the intervals
	Account  dilution.Account // the arithmetic behind it, to explain

	// Conditioning is what ferments in the package, told by the last step; nil where
	// nothing does.
	Conditioning *Conditioning

	origins origins
	dosed   []dosed
}

// ledgerStep is one event and the batch after it.
type ledgerStep struct {
	Event
	AddedL float64             // liquid that went in, litres at 20 C
	Steep  *steeps.Yield       // what a material gave up, for an addition of one
	Result dilution.StepResult // the account after it
	Doses  []Dose              // effective doses at its moment, of all materials so far
}

// Dose is the effective dose of one addition at one moment.
type Dose struct {
	Addition    string                             // name of the addition
	MaterialKey string                             // key of the material
	Method      string                             // way in which it was used
	Class       int                                // the class that counts for this material; index into GPerL
	AsWeighed   float64                            // g of material as weighed per litre of the batch
	GPerL       [trials.ClassCount]figure.Estimate // by solute class
	MassG       float64                            // grams as weighed
	InDays      *float64                           // how long a plant had been in the beer; nil for what is none
}

// ledgerDraws are the draws behind the intervals of a ledger.
var ledgerDraws = dilution.Draws{N: 10_000, Seed: 20260301}

// Of folds the events of a batch into its account. Nothing of it is
// stored: a corrected record changes all that follows.
func Of(n *trials.Notebook, b trials.Batch) (Ledger, error) {
	k, err := newBook(n, steeps.Full)
	if err != nil {
		return Ledger{}, err
	}
	return k.ledger(b)
}

// book works out the ledgers of one notebook. What they share, such as a tea
// poured into four jars, is worked out once.
type book struct {
	*history
	materials trials.Materials
	limits    limits
	steeper   *steeps.Steeper
	fold      func(dilution.Account) ([]dilution.StepResult, error)
	plain     *book // the same with an original gravity for every beer, nil until it is asked for
	shown     bool  // an addition tells what it changed, and each step the doses of its moment
}

// newBook returns a book in a detail: intervals are drawn where the ledger is
// shown, propagated to first order for trials by the hundred.
func newBook(n *trials.Notebook, d steeps.Detail) (*book, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return nil, err
	}
	return (&book{history: newHistory(n.Index()), materials: materials, limits: limitsOf(n)}).in(d), nil
}

// counting returns the book with a material counted by another solute class, in a detail.
func (k book) counting(key, class string, d steeps.Detail) *book {
	k.materials = k.materials.Counting(key, class)
	return k.in(d)
}

// in returns the book with its ledgers in another detail.
func (k book) in(d steeps.Detail) *book {
	k.shown, k.plain = false, nil
	if k.steeper == nil {
		k.steeper = steeps.NewSteeper(k.Index, k.materials, d)
	} else {
		k.steeper = k.steeper.In(k.materials, d)
	}
	switch d {
	case steeps.OneClass:
		k.fold = dilution.Account.Propagate
	case steeps.BestValues:
		k.fold = dilution.Account.BestValues
	default:
		k.fold = func(a dilution.Account) ([]dilution.StepResult, error) { return a.MonteCarlo(ledgerDraws) }
		k.shown = true
	}
	return &k
}

// ledger folds the events of a batch.
func (k *book) ledger(b trials.Batch) (Ledger, error) {
	builder, err := k.laidOut(b)
	if err != nil {
		return Ledger{}, err
	}
	results, err := k.fold(builder.account)
	if err != nil {
		return Ledger{}, builder.stepProblem(err)
	}
	l := Ledger{Batch: b, Steps: builder.steps, Draws: ledgerDraws, Account: builder.account, origins: builder.origins,
		dosed: builder.dosed}
	for i := range l.Steps {
		l.Steps[i].Result = results[builder.after[i]]
		// a step without account steps shares the snapshot of the one before, whose changes are not its own
		if !builder.changed(i) {
			l.Steps[i].Result.Changes = [dilution.NumQuantities]figure.Estimate{}
		}
		l.Warnings = append(l.Warnings, builder.stepWarnings(results, i)...)
	}
	if err := k.dose(&l); err != nil {
		return Ledger{}, err
	}
	l.Conditioning = builder.gain(results)
	if c := l.Conditioning; c != nil && c.Unread {
		l.Warnings = append(l.Warnings, Warning{Record: b.Name, Code: CodeUnread, Text: unreadText})
	}
	// it works out a second ledger: only where one is shown
	if k.shown {
		l.Warnings = append(l.Warnings, builder.oneGravity(l)...)
		return k.withTastings(l)
	}
	return l, nil
}

// laidOut lays the events of a batch out as an account.
func (k *book) laidOut(b trials.Batch) (*ledgerBuilder, error) {
	builder := &ledgerBuilder{book: k, origins: origins{}, closed: k.closedAt(b)}
	if err := builder.build(k.events(b)); err != nil {
		return nil, trials.ProblemOf(err)
	}
	builder.condition(b)
	return builder, nil
}

// check returns the error that Of would, from the best values alone: whether an
// account can be does not depend on the draws for its intervals.
func check(n *trials.Notebook, b trials.Batch) error {
	k, err := newBook(n, steeps.BestValues)
	if err != nil {
		return err
	}
	return k.check(b)
}

// check is check of the notebook that the book is of, in best values.
func (k *book) check(b trials.Batch) error {
	builder, err := k.laidOut(b)
	if err != nil {
		return err
	}
	if _, err := builder.account.Run(); err != nil {
		return builder.stepProblem(err)
	}
	return nil
}

// stepWarnings collects the warnings of one ledger step: those of the steep
// and those of the account steps that belong to it.
func (b *ledgerBuilder) stepWarnings(results []dilution.StepResult, i int) []Warning {
	var list []Warning
	if y := b.steps[i].Steep; y != nil {
		for _, w := range y.Warnings {
			list = append(list, Warning{Record: b.steps[i].Name, Text: w})
		}
	}
	if r := b.steps[i].Reading; r != nil {
		p, _ := PHOf(b.Notebook, *r)
		list = append(list, p.Warnings...)
	}
	from := 0
	if i > 0 {
		from = b.after[i-1] + 1
	}
	var said dilution.Notes // what holds of the state holds after each account step of the event
	for _, r := range results[from : b.after[i]+1] {
		notes := r.Notes &^ b.withinReading(results, i) &^ said
		said |= notes
		// What holds of the state as it is would repeat after every step.
		if i < len(b.steps)-1 {
			notes &^= dilution.NoteSpirit | dilution.NoteDense | dilution.NoteStrongSweet | dilution.NoteStrong
		}
		list = append(list, warningsOf(b.steps[i].Name, notes)...)
	}
	return list
}

// withinReading returns the remarks about a gravity reading that are about no
// more than two readings may differ: a corrected gravity not far above the one
// before it, or not far below the expected final gravity.
func (b *ledgerBuilder) withinReading(results []dilution.StepResult, i int) dilution.Notes {
	if i == 0 || b.after[i-1] == len(b.account.Steps) {
		return 0
	}
	g, ok := b.account.Steps[b.after[i-1]].(dilution.ReadGravity)
	if !ok {
		return 0
	}
	before := results[b.after[i-1]].State
	near := func(compared dilution.State) bool {
		// either reading may be off by the limit, one up and the other down
		return math.Abs(correctedSG(g, before)-compared.SG()) <= 2*b.limits.gravity
	}
	var within dilution.Notes
	if near(before) {
		within |= dilution.NoteGravityRose
	}
	if finished, ok := before.Finish(); ok && near(finished) {
		within |= dilution.NoteFurther
	}
	return within
}

// correctedSG is the gravity at 20 C that a reading of a beer stands for.
func correctedSG(g dilution.ReadGravity, beer dilution.State) float64 {
	if g.TempC == nil {
		return g.SG.Value
	}
	sg, err := dilution.Hydrometer{Reading: g.SG.Value, SampleTempC: g.TempC.Value, CalTempC: g.CalTempC}.BeerSG(beer)
	if err != nil {
		return g.SG.Value // such a reading has already been refused
	}
	return sg
}

// stepProblem names the record behind a step of the account that cannot be.
func (b *ledgerBuilder) stepProblem(err error) error {
	var at *dilution.StepError
	if !errors.As(err, &at) {
		return trials.ProblemOf(err)
	}
	for i, last := range b.after {
		if at.Step <= last {
			// ProblemOf gives nothing but Problems
			p := trials.ProblemOf(at.Err).(*trials.Problem)
			return &trials.Problem{Code: p.Code, Message: b.steps[i].Name + ": " + p.Message, Hint: p.Hint}
		}
	}
	return trials.ProblemOf(err)
}

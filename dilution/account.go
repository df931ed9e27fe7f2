package dilution

import "fmt"

// Account is the story of a batch: how it began and what happened, in order.
// Nothing computed is kept in it: correct a step and run it again, and every
// figure after that step follows.
//
// Between steps the batch is a State. An addition adds masses. A gravity reading
// fixes how far fermentation has gone at the present equivalent original
// extract, so water added in mid-fermentation and a final gravity read weeks
// later still give the true strength. A loss takes the same share of everything.
type Account struct {
	Start   Start    // the batch at the beginning
	Steps   []Step   // what happened, oldest first
	Tracers []Tracer // solutes whose dose is followed
	// Since[i] is the earlier snapshot that the change of snapshot i is counted from,
	// -1 for none; nil where no change is asked for.
	Since []int
}

// Tracer is a weighed solute, such as a botanical, followed through losses,
// splits and dilution.
type Tracer struct {
	Name      string // how the user knows it; used in errors
	AfterStep int    // number of the step (from 1) that it went in with; 0: at the start
	Amount    Input  // g, or g of fully extracted material for an effective dose
}

// Snapshot is the batch after a step.
type Snapshot struct {
	State State // masses and totals, from the best values
	// KeptShare is the share of a solute present at the start that has not been
	// lost to losses and splits. Dilution and evaporation leave it alone, so
	// grams added with step i are grams*Kept_end/Kept_i/V_end g/L at the end.
	KeptShare float64
	Notes     Notes // remarks on this step and on the validity of the state
}

// StepError says which step of an account cannot be, so that a caller can point
// at the record behind it.
type StepError struct {
	Step int   // from 1; 0 is the start
	Err  error // what is wrong, usually an *inputError
}

// Error names the step.
func (e *StepError) Error() string {
	if e.Step == 0 {
		return fmt.Sprintf("start of the batch: %v", e.Err)
	}
	return fmt.Sprintf("step %d: %v", e.Step, e.Err)
}

// Unwrap returns the cause.
func (e *StepError) Unwrap() error { return e.Err }

// Run returns the batch at the start and after each step (len(Steps)+1
// snapshots), from the best values. A *StepError is returned for the first step
// that cannot be; the snapshots before it are returned too.
func (a Account) Run() ([]Snapshot, error) {
	p, err := a.compile()
	if err != nil {
		return nil, err
	}
	return p.run()
}

// run folds the best values, one snapshot a step, and notes which gravities had
// risen: every later run on drawn or shifted values takes the same branches.
func (p *program) run() ([]Snapshot, error) {
	snaps := make([]Snapshot, 0, len(p.steps)+1)
	b := batch{State: p.start.bestState(p.best[p.spans[0].from:p.spans[0].to]), kept: 1}
	snaps = append(snaps, b.snapshot(p.start.notes()|p.strong(&b.State)))
	for i, step := range p.steps {
		span := p.spans[i+1]
		notes, err := step.apply(p.best[span.from:span.to], &b, bestValues)
		if err != nil {
			return snaps, &StepError{Step: i + 1, Err: err}
		}
		// drawn and shifted values follow these branches: else one interval would mix two histories
		p.kinds[i] = oneDraw
		if notes&(NoteGravityRose|noteIdle) != 0 {
			p.kinds[i] = drawIdle
		}
		snaps = append(snaps, b.snapshot(notes&^noteIdle|p.strong(&b.State)))
	}
	if p.unfermented(b) {
		snaps[len(snaps)-1].Notes |= NoteUnfermented
	}
	return snaps, nil
}

// unfermented reports whether a batch that began as wort is still wort.
func (p *program) unfermented(b batch) bool {
	return p.start.OG != nil && p.start.NowSG == nil && !b.State.brewed()
}

// strongPct is from where a strength from gravities calls for a warning, % vol.
const strongPct = 10

// strong remarks on a strength that comes from gravities and is high; spirit does
// not count.
func (p *program) strong(s *State) Notes {
	if p.modelled(s) && s.ABVPct()*(1-s.SpiritKg/s.EthanolKg) > strongPct {
		return NoteStrong
	}
	return 0
}

// snapshot is the batch as others see it.
func (b *batch) snapshot(notes Notes) Snapshot {
	return Snapshot{State: b.State, KeptShare: b.kept, Notes: notes | b.State.notes()}
}

// notes are the remarks on a start.
func (s Start) notes() Notes {
	// one gravity typed as SG and as Plato differs by a rounding
	if s.NowSG != nil && s.FinalSG != nil && s.NowSG.Value < s.FinalSG.Value-1e-9 {
		return NoteFurther
	}
	return 0
}

// span is the place of one step's values in a flat list.
type span struct{ from, to int }

// program is an account laid out for many runs: every input in one flat list,
// with the common errors numbered.
type program struct {
	start   Start
	steps   []Step
	tracers []Tracer
	inputs  []Input   // of the start, the steps and the tracers
	best    []float64 // their best values
	key     []int     // index into keys, -1 for none
	keys    []string  // keys of common errors
	spans   []span    // of the start and the steps
	amounts int       // where the tracers' inputs begin
	kinds   []runKind // how draws run each step
	since   []int     // as Account.Since
}

// compile validates the account and lays it out. Whatever can be judged without
// knowing the state of the batch is judged here; the rest when it is run.
func (a Account) compile() (*program, error) {
	p := &program{
		start:   a.Start,
		steps:   a.Steps,
		tracers: a.Tracers,
		since:   a.Since,
		kinds:   make([]runKind, len(a.Steps)),
	}
	if err := p.enter(0, a.Start.inputs(), a.Start.check()); err != nil {
		return nil, err
	}
	for i, step := range a.Steps {
		if err := p.enter(i+1, step.inputs(), step.check()); err != nil {
			return nil, err
		}
	}
	// the materials' amounts come last, so that the figures of each step stand together
	p.amounts = len(p.inputs)
	for _, t := range a.Tracers {
		if err := p.enterTracer(t); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// enter appends the inputs of one step.
func (p *program) enter(step int, inputs []Input, err error) error {
	for _, in := range inputs {
		// an input that is no number explains whatever the step complains of: it is named first
		err = firstError(in.check(), err)
	}
	if err != nil {
		return &StepError{Step: step, Err: err}
	}
	from := len(p.inputs)
	for _, in := range inputs {
		p.enterInput(in)
	}
	p.spans = append(p.spans, span{from, len(p.inputs)})
	return nil
}

// enterTracer appends the input of a tracer.
func (p *program) enterTracer(t Tracer) error {
	if t.AfterStep < 0 || t.AfterStep > len(p.steps) {
		return fmt.Errorf("material %q goes in with step %d, but the account has %d steps", t.Name, t.AfterStep, len(p.steps))
	}
	if err := firstError(t.Amount.check(), notNegative("amount of "+t.Name, t.Amount.Value)); err != nil {
		return err
	}
	p.enterInput(t.Amount)
	return nil
}

// enterInput appends one input and numbers its common error. There are few keys,
// so a search of the list beats a map.
func (p *program) enterInput(in Input) {
	p.inputs = append(p.inputs, in)
	p.best = append(p.best, in.Value)
	if in.SharedHalfWidth == 0 {
		p.key = append(p.key, -1)
		return
	}
	for k, name := range p.keys {
		if name == in.Shared {
			p.key = append(p.key, k)
			return
		}
	}
	p.keys = append(p.keys, in.Shared)
	p.key = append(p.key, len(p.keys)-1)
}

// Inputs returns every figure of the account in order, those of the start
// first, then the steps' and the tracers'. Figures that were not given are in
// it with the value taken instead and no name. An account that cannot be gives
// none.
func (a Account) Inputs() []Input {
	p, err := a.compile()
	if err != nil {
		return nil
	}
	return p.inputs
}

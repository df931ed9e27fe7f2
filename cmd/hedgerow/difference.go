package main

import (
	"math/rand/v2"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/evenings"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

// differenceTests are the difference tests with what each is good for.
var differenceTests = []struct{ name, short string }{
	{"triangle", "Triangle test: can two beers be told apart at all"},
	{"paired", "Paired test: which of two beers has more of a taste"},
	{"duo-trio", "Duo-trio test: which of two beers is like a named one"},
	{"3-afc", "3-AFC test: which of three glasses has more of a taste"},
	{"tetrad", "Tetrad test: sort four glasses into two pairs"},
}

// differenceOptions are the figures of a difference test as typed.
type differenceOptions struct {
	answers, orders                         int
	correct, alpha, difference, power, note string
	about                                   []string
	seed                                    int64
	twoSided                                bool
}

// newDifference makes the command of one difference test.
func newDifference(e *env, name, short string) *cobra.Command {
	var o differenceOptions
	c := &cobra.Command{
		Use:   name,
		Short: short,
		Long: document.Capital(name) + " test. " + document.Capital(evenings.DifferenceTestWords(name)) + `.

Without --correct it says how many right answers are needed and how many answers
find a difference of a stated size; with it, what the answers say, by the exact
binomial probability. --orders gives serving orders and codes for so many
tasters, every possible order equally often. Nothing is stored unless --note
names a batch, which then keeps the outcome as a note.`,
		Example: "  hedgerow tasting " + name + ` --answers 12
  hedgerow tasting ` + name + ` --answers 12 --correct 8 --difference 1.5
  hedgerow tasting ` + name + ` --orders 6 --seed 3 --beer plain --beer heather-3`,
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error { return e.runDifference(name, o) },
	}
	f := c.Flags()
	f.IntVar(&o.answers, "answers", 0, "how many answers there are, or will be")
	f.StringVar(&o.correct, "correct", "", "how many of them were right")
	f.StringVar(&o.alpha, "alpha", "0.05", "chance accepted of taking guesses for a difference")
	f.StringVar(&o.difference, "difference", "1.5", "size that should be found, in units of the scatter of one glass")
	f.StringVar(&o.power, "power", "80%", "wished chance of finding it")
	f.IntVar(&o.orders, "orders", 0, "serving orders for so many tasters")
	f.Int64Var(&o.seed, "seed", 0, "number that makes the orders the same again")
	f.StringArrayVar(&o.about, "beer", nil, "name of beer A, and then of beer B, the one with the addition")
	f.StringVar(&o.note, "note", "", "batch that keeps the outcome as a note")
	// the other tests have one direction only: right or wrong
	if name == "paired" {
		f.BoolVar(&o.twoSided, "two-sided", false, "it was not known beforehand which beer should have more")
	}
	return c
}

// runDifference works out one difference test.
func (e *env) runDifference(name string, o differenceOptions) error {
	r := evenings.DifferenceRequest{Test: name, TwoSided: o.twoSided, Answers: o.answers, Orders: o.orders,
		Seed: uint64(o.seed), About: splitWords(o.about)}
	if o.answers < 0 || o.answers == 0 && o.correct != "" {
		return trials.Refuse("add --answers 12", "how many answers there were is missing")
	}
	// drawn anew each time, or two evenings would pour by the same codes
	if o.orders > 0 && o.seed == 0 {
		r.Seed = uint64(rand.Int64N(1 << 31))
	}
	if len(r.About) != 0 && len(r.About) != 2 {
		return trials.Refuse("name both, such as --beer plain --beer heather-3", "two beers are compared, but %d named",
			len(r.About))
	}
	a := &amounts{}
	a.must(&r.Alpha, "alpha", o.alpha, shareOf)
	a.must(&r.Difference, "difference", o.difference, plainNumber)
	a.must(&r.Power, "power", o.power, shareOf)
	if o.correct != "" {
		var correct float64
		a.must(&correct, "correct", o.correct, plainNumber)
		whole := int(correct)
		if a.err == nil && float64(whole) != correct {
			return trials.Refuse("write --correct 8", "--correct: %s is not a whole number", o.correct)
		}
		r.Correct = &whole
	}
	if a.err != nil {
		return a.err
	}
	view, outcome, err := evenings.Difference(r)
	if err != nil {
		return err
	}
	// before it is shown: what cannot be kept is refused first, and the answer stands last on the screen
	if err := e.noteOutcome(o.note, name+" test: "+outcome, outcome != ""); err != nil {
		return err
	}
	return e.show(view)
}

// shareOf reads a share: 0.05 or 5%.
func shareOf(text string) (float64, error) {
	if number, ok := strings.CutSuffix(text, "%"); ok {
		v, err := plainNumber(number)
		return v / 100, err
	}
	return plainNumber(text)
}

// noteOutcome keeps the outcome of a test as a remark on a batch, if one is
// named.
func (e *env) noteOutcome(batch, text string, told bool) error {
	if batch == "" {
		return nil
	}
	if !told {
		return trials.Refuse("add --answers and --correct", "there is no outcome to keep")
	}
	n, err := e.writing()
	if err != nil {
		return err
	}
	b, err := n.Batch(batch)
	if err != nil {
		return err
	}
	note := trials.BatchNote{BatchID: b.ID, At: e.now().UTC(), Text: text}
	note.Name = eventName(b.Name, "n", names(n.BatchNotes, func(x trials.BatchNote) string { return x.Name }))
	if err := e.save("note on "+b.Name, &note); err != nil {
		return err
	}
	e.say("kept as %s: %s", note.Name, text)
	return nil
}

func newThreshold(e *env) *cobra.Command {
	var doses, note string
	var answers []string
	c := &cobra.Command{
		Use:   "threshold",
		Short: "Threshold from one ascending 3-AFC series",
		Long: `Where a taste starts to show: each taster gets, from weak to strong, three glasses
of which one is dosed, and picks it. A taster's threshold is the geometric mean
of the strongest dose missed and the next one; the group's is the geometric mean
of the tasters. + is a right pick, - a wrong one, one for each dose. Nothing is
stored unless --note names a batch, which then keeps the outcome as a note.`,
		Example: `  hedgerow tasting threshold --doses 0.25,0.5,1,2,4 --answers "A=--+++" --answers "B=-+-++"`,
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			r, err := thresholdOf(doses, answers)
			if err != nil {
				return err
			}
			view, outcome, err := evenings.ThresholdView(r)
			if err != nil {
				return err
			}
			if err := e.noteOutcome(note, "ascending 3-AFC series: "+outcome, true); err != nil {
				return err
			}
			return e.show(view)
		},
	}
	f := c.Flags()
	f.StringVar(&doses, "doses", "", "the doses from weak to strong, g/L")
	f.StringArrayVar(&answers, "answers", nil, `a taster's picks, such as "A=--+++"; repeat for each`)
	f.StringVar(&note, "note", "", "batch that keeps the outcome as a note")
	return c
}

// thresholdOf reads a series.
func thresholdOf(doses string, answers []string) (evenings.ThresholdRequest, error) {
	var r evenings.ThresholdRequest
	for _, text := range splitWords([]string{doses}) {
		v, err := plainNumber(strings.TrimSuffix(text, "g/L"))
		if err != nil {
			return r, inFlag("doses", err)
		}
		r.Doses = append(r.Doses, v)
	}
	for _, text := range answers {
		name, picks, ok := strings.Cut(text, "=")
		if !ok || strings.Trim(picks, "+-") != "" || picks == "" {
			return r, trials.Refuse(`write "A=--+++", + for a right pick`, "--answers: %q cannot be read", text)
		}
		name, err := trials.TasterName(name)
		if err != nil {
			return r, err
		}
		var row []bool
		for _, pick := range picks {
			row = append(row, pick == '+')
		}
		r.Tasters, r.Correct = append(r.Tasters, name), append(r.Correct, row)
	}
	return r, nil
}

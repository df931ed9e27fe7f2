package main

import (
	"io"
	"math/rand/v2"
	"os"
	"strings"
	"time"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// newTasting makes the tasting commands.
func newTasting(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "tasting", Short: "Taste blind: codes, scores, votes"})
	c.AddCommand(newTastingNew(e), newTastingList(e), newTastingScore(e), newTastingClose(e), newTastingShow(e))
	return c
}

// tastingOptions are the figures of a new tasting as typed.
type tastingOptions struct {
	servings, repeats, attributes []string
	at, note                      string
	open                          bool
	seed                          int64
}

func newTastingNew(e *env) *cobra.Command {
	var o tastingOptions
	c := &cobra.Command{
		Use:   "new NAME",
		Short: "Set up a tasting: servings under three-digit codes",
		Long: `Set up a tasting of two or more beers. Each serving gets a random three-digit
code; what is behind a code stays sealed until hedgerow tasting close. The one
who pours sees the key with hedgerow tasting show NAME --pour and must not
score. --open is for scores that were given knowing what was in the glass.`,
		Example: `  hedgerow tasting new club-night --serving heather-3 --serving heather-4 --serving plain --attribute floral --attribute astringency
  hedgerow tasting new again --serving heather-3 --serving heather-4 --repeat heather-3 --attribute floral`,
		Args: exactly("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.runTastingNew(o, args[0])
		},
	}
	f := c.Flags()
	f.StringArrayVar(&o.servings, "serving", nil, "a batch, jar or glass to serve; repeat for each")
	f.StringArrayVar(&o.repeats, "repeat", nil, "serve one of them a second time under another code")
	f.StringArrayVar(&o.attributes, "attribute", nil, "what is scored, such as floral; repeat for each")
	f.BoolVar(&o.open, "open", false, "not blind: servings go by their names")
	f.Int64Var(&o.seed, "seed", 0, "number that makes the codes the same again")
	f.StringVar(&o.at, "at", "", whenHelp)
	f.StringVar(&o.note, "note", "", "a remark")
	return c
}

// runTastingNew writes a tasting with its servings.
func (e *env) runTastingNew(o tastingOptions, name string) error {
	n, err := e.notebook(true, false)
	if err != nil {
		return err
	}
	t := trials.Tasting{Record: trials.Record{ID: trials.NewID(), Name: name}, Attributes: splitWords(o.attributes), Blind: !o.open, Seed: o.seed, Note: o.note}
	if t.At, err = e.parseWhen(o.at, time.Time{}); err != nil {
		return err
	}
	if t.Seed == 0 {
		t.Seed = rand.Int64N(1 << 31)
	}
	if err := t.Validate(); err != nil {
		return err
	}
	batches, err := batchesNamed(n, o.servings)
	if err != nil {
		return err
	}
	repeats, err := batchesNamed(n, o.repeats)
	if err != nil {
		return err
	}
	servings, err := report.PlanServings(t, batches, repeats)
	if err != nil {
		return err
	}
	records := []any{&t}
	for i := range servings {
		records = append(records, &servings[i])
	}
	if err := e.save("set up tasting "+t.Name, records...); err != nil {
		return err
	}
	n.Tastings, n.Servings = append(n.Tastings, t), append(n.Servings, servings...)
	if err := e.show(report.Tasting(n, t, false)); err != nil {
		return err
	}
	e.next("hedgerow tasting show %s --pour   (for whoever pours), then hedgerow tasting score %s --taster A --serving CODE %s=6/right liking=7", t.Name, t.Name, t.Attributes[0])
	return nil
}

// splitWords splits lists written with commas.
func splitWords(list []string) []string {
	var words []string
	for _, item := range list {
		for w := range strings.SplitSeq(item, ",") {
			if w = strings.TrimSpace(w); w != "" {
				words = append(words, w)
			}
		}
	}
	return words
}

// batchesNamed finds batches by name.
func batchesNamed(n *trials.Notebook, list []string) ([]trials.Batch, error) {
	var batches []trials.Batch
	for _, name := range splitWords(list) {
		b, err := n.Batch(name)
		if err != nil {
			return nil, err
		}
		batches = append(batches, b)
	}
	return batches, nil
}

func newTastingList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "list",
		Short:   "List the tastings",
		Example: "  hedgerow tasting list",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			n, err := e.notebook(false, false)
			if err != nil {
				return err
			}
			return e.show(report.TastingList(n))
		},
	}
}

// scoreOptions are the scores of one glass as typed.
type scoreOptions struct {
	taster, serving, note string
	replace               bool
}

func newTastingScore(e *env) *cobra.Command {
	var o scoreOptions
	c := &cobra.Command{
		Use:   "score TASTING [ANSWER...]",
		Short: "Enter scores: one glass, or a whole table as CSV",
		Long: `Enter what a taster said of one glass: intensity 0 to 10 and, after a slash, the
vote little, right or much; liking 1 to 9. With - in place of answers a table is
read from standard input, with a path from a file. Its header has serving and
taster, a column for each attribute, one named "floral vote" for its votes, and
liking and note. Nothing is written unless every line is good.`,
		Example: `  hedgerow tasting score club-night --taster A --serving 417 floral=6/right astringency=2 liking=7
  hedgerow tasting score club-night - < scores.csv`,
		Args:              atLeast("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.runTastingScore(o, args[0], args[1:])
		},
	}
	f := c.Flags()
	f.StringVar(&o.taster, "taster", "", "who scores")
	f.StringVar(&o.serving, "serving", "", "code of the glass")
	f.StringVar(&o.note, "note", "", "free text on this glass")
	f.BoolVar(&o.replace, "replace", false, "put the new score in the place of one already given")
	return c
}

// runTastingScore enters scores.
func (e *env) runTastingScore(o scoreOptions, name string, answers []string) error {
	n, err := e.notebook(true, true)
	if err != nil {
		return err
	}
	t, err := n.Tasting(name)
	if err != nil {
		return err
	}
	if t.Blind && t.ClosedAt != nil && !o.replace {
		return trials.Refuse("a late correction: repeat with --replace", "tasting %s is closed", t.Name)
	}
	marks, err := e.marks(o, t, answers)
	if err != nil {
		return err
	}
	entry, err := n.Enter(t, marks, o.replace, e.now())
	if err != nil {
		return err
	}
	err = e.write("score tasting "+t.Name, func(tx *store.Tx) error { return tx.SaveEntry(&entry) })
	if err != nil {
		return err
	}
	for _, x := range entry.NewTasters {
		e.say("new taster: %s", x.Name)
	}
	return e.saved(map[string]int{"scores": len(entry.Scores), "replaced": entry.Replaced, "notes": len(entry.Notes)}, "entered %s of %s", report.Count(len(entry.Scores), "score"), report.Count(len(marks), "glass"))
}

// marks reads the scores from the arguments, standard input or a file.
func (e *env) marks(o scoreOptions, t trials.Tasting, answers []string) ([]trials.Marks, error) {
	if len(answers) == 1 && !strings.Contains(answers[0], "=") {
		return e.scoreTable(t, answers[0])
	}
	if o.taster == "" || o.serving == "" {
		return nil, trials.Refuse("add --taster A --serving CODE, or - to read a table", "who scored which glass is missing")
	}
	m := trials.Marks{Taster: o.taster, Serving: o.serving, Note: o.note}
	for _, text := range answers {
		a, err := trials.ParseAnswer(text)
		if err != nil {
			return nil, err
		}
		m.Answers = append(m.Answers, a)
	}
	return []trials.Marks{m}, nil
}

// scoreTable reads a table from standard input or a file.
func (e *env) scoreTable(t trials.Tasting, path string) ([]trials.Marks, error) {
	if path == "-" {
		if isTerminal(e.stdin) {
			e.say("paste the table, then press Ctrl-D")
		}
		return trials.ParseScoreTable(e.input(), t)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, &trials.Problem{Code: trials.NotFound, Message: "cannot read the scores: " + err.Error(), Hint: "name a file, or - for standard input; a score is written tartness=6/right"}
	}
	defer f.Close()
	return trials.ParseScoreTable(io.Reader(f), t)
}

func newTastingClose(e *env) *cobra.Command {
	return &cobra.Command{
		Use:               "close TASTING",
		Short:             "End a blind tasting and open its key",
		Example:           "  hedgerow tasting close club-night",
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.notebook(true, true)
			if err != nil {
				return err
			}
			t, err := n.Tasting(args[0])
			if err != nil {
				return err
			}
			if err := n.CheckClose(t); err != nil {
				return err
			}
			now := e.now().UTC()
			t.ClosedAt = &now
			if err := e.save("close tasting "+t.Name, &t); err != nil {
				return err
			}
			return e.show(report.Tasting(n, t, false))
		},
	}
}

func newTastingShow(e *env) *cobra.Command {
	var peek, pour bool
	c := &cobra.Command{
		Use:   "show TASTING",
		Short: "Show a tasting; while it is sealed only codes and who has scored",
		Long: `Show a tasting. While it is sealed, what is behind the codes stays hidden.
--pour shows the key to whoever pours and does not score. --peek shows it to one
who does; that is recorded and printed under every later result.`,
		Example:           "  hedgerow tasting show club-night",
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.notebook(peek, true)
			if err != nil {
				return err
			}
			t, err := n.Tasting(args[0])
			if err != nil {
				return err
			}
			if peek && t.Sealed() && t.PeekedAt == nil {
				now := e.now().UTC()
				t.PeekedAt = &now
				if err := e.save("look at the key of "+t.Name, &t); err != nil {
					return err
				}
			}
			return e.show(report.Tasting(n, t, peek || pour))
		},
	}
	c.Flags().BoolVar(&peek, "peek", false, "look at the key before the end; recorded")
	c.Flags().BoolVar(&pour, "pour", false, "show the key to whoever pours and does not score")
	return c
}

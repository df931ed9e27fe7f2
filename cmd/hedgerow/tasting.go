package main

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"time"

	"hedgerow/report/evenings"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// newTasting makes the tasting commands.
func newTasting(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "tasting", Short: "Taste blind: codes, scores, votes"})
	c.AddCommand(newTastingNew(e), newTastingList(e), newTastingSheet(e), newTastingJoin(e),
		newTastingScore(e), newTastingNote(e), newTastingClose(e), newTastingPlaces(e), newTastingBlend(e), newTastingShow(e),
		newTastingServe(e), newTastingEdit(e), newTastingDelete(e), newThreshold(e))
	for _, t := range differenceTests {
		c.AddCommand(newDifference(e, t.name, t.short))
	}
	return c
}

// tastingOptions are the figures of a new tasting as typed.
type tastingOptions struct {
	servings, repeats, attributes, tasters []string
	at, note                               string
	open, alone, memory                    bool
	seed                                   int64
	count, flight                          int
}

// flags adds what an evening needs to a command.
func (o *tastingOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringArrayVar(&o.attributes, "attribute", nil, "what is scored, such as floral; repeat for each")
	f.StringArrayVar(&o.tasters, "taster", nil, "who tastes; repeat for each, and each gets an order")
	f.Var((*tasterCount)(&o.count), "tasters", "how many taste, in place of names: Taster A, Taster B ...")
	f.IntVar(&o.flight, "flight", trials.DefaultFlight,
		"most glasses before a pause; 3 for chilli, smoke, strong spice or very tart beer")
	f.Int64Var(&o.seed, "seed", 0, "number that makes codes and orders the same again")
}

// tasterCount is a typed number of tasters. 0 stands for one that was not typed, so that it
// cannot be typed itself.
type tasterCount int

// Set reads the number.
func (c *tasterCount) Set(text string) error {
	count, err := strconv.Atoi(text)
	if err != nil {
		return err
	}
	if _, err := evenings.TasterNames(count); err != nil {
		return err
	}
	*c = tasterCount(count)
	return nil
}

// String prints nothing for a number that was not typed.
func (c *tasterCount) String() string {
	if *c == 0 {
		return ""
	}
	return strconv.Itoa(int(*c))
}

// Type names what is typed.
func (c *tasterCount) Type() string { return "int" }

func newTastingNew(e *env) *cobra.Command {
	var o tastingOptions
	var drops tasteOptions
	var toTaste bool
	c := &cobra.Command{
		Use:   "new NAME",
		Short: "Set up a tasting: servings under codes, an order for each taster",
		Long: `Set up a tasting of two or more beers. Each serving gets a random three-digit
code; what is behind a code stays sealed until hedgerow tasting close. Each
taster gets an order of their own, so that every beer stands equally often at
each position and comes equally often after each other one, as far as the
numbers allow (Williams squares). Glasses are parted into flights with a pause
between them, since a palate tires.

The one who pours prints the key with hedgerow tasting sheet NAME --pour and
must not score. --open is for scores given knowing what was in the glass. --alone
is for one person without help: codes under the cups, a shuffle, scores by place.
One beer alone can be tasted again over time, or with --memory against the memory
of another. --to-taste drops an extract into glasses of one beer until it is right
(see hedgerow plan taste, which also plans the extract).
Stored: the tasting, its servings, new tasters and their orders.`,
		Example: `  hedgerow tasting new club-night --serving heather-3 --serving heather-4 --serving plain ` +
			`--attribute floral --attribute astringency --tasters 4
  hedgerow tasting new again --serving heather-3 --serving heather-4 --repeat heather-3 ` +
			`--attribute floral --taster A --taster B`,
		Args: exactly("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			if !toTaste {
				return e.runTastingNew(o, args[0])
			}
			drops.evening, drops.record, drops.at, drops.scale = o, args[0], o.at, "0.1g"
			return e.newToTaste(drops)
		},
	}
	o.flags(c)
	f := c.Flags()
	f.StringArrayVar(&o.servings, "serving", nil, "a batch, jar or glass to serve; repeat for each")
	f.StringArrayVar(&o.repeats, "repeat", nil, "serve one of them a second time under another code")
	f.BoolVar(&o.alone, "alone", false, "one person pours, shuffles and scores; prints the steps")
	f.BoolVar(&o.memory, "memory", false, "one beer, against the memory of another; not blind")
	f.BoolVar(&o.open, "open", false, "not blind: servings go by their names")
	f.BoolVar(&toTaste, "to-taste", false, "dose to taste with an extract at hand: give --from and --extract")
	drops.flags(c)
	f.StringVar(&o.at, "at", "", whenHelp)
	f.StringVar(&o.note, "note", "", "a note")
	return c
}

// runTastingNew writes a tasting with its servings and orders.
func (e *env) runTastingNew(o tastingOptions, name string) error {
	n, err := e.writing()
	if err != nil {
		return err
	}
	r := evenings.EveningRequest{}
	if r.Batches, err = batchesNamed(n, o.servings); err != nil {
		return err
	}
	if r.Repeats, err = batchesNamed(n, o.repeats); err != nil {
		return err
	}
	if r.Tasting, err = e.tastingOf(o, name, evenings.OfferedFor(n, r.Batches)); err != nil {
		return err
	}
	if r.Tasters, err = o.who(); err != nil {
		return err
	}
	if err := o.single(n, &r); err != nil {
		return err
	}
	v, remarks, err := evenings.PlanEvening(n, r)
	if err != nil {
		return err
	}
	t := v.Tasting
	if len(v.Servings) == 1 {
		remarks = append(remarks, "one beer, so it is not blind: it can tell that this beer changed, or that its taster "+
			"did, not which; beside another beer under codes it could")
	}
	if err := e.write("set up tasting "+t.Name, func(tx *store.Tx) error { return tx.SaveEvening(&v) }); err != nil {
		return err
	}
	for _, text := range remarks {
		e.remark("%s", text)
	}
	// the view is made from the notebook in hand: reading all of it again would tell the same
	n.Tastings, n.Servings = append(n.Tastings, t), append(n.Servings, v.Servings...)
	n.Tasters, n.Places = append(n.Tasters, v.NewTasters...), append(n.Places, v.Places()...)
	if t.Alone {
		return e.show(evenings.Alone(n, v, e.warned))
	}
	if err := e.show(evenings.Tasting(n, t, false, e.warned...)); err != nil {
		return err
	}
	e.next("hedgerow tasting sheet %s   (score sheets; --pour is for whoever pours), then hedgerow tasting score %s "+
		"--taster A", t.Name, t.Name)
	return nil
}

// tastingOf makes the record of a tasting from what was typed.
func (e *env) tastingOf(o tastingOptions, name string, offered []string) (trials.Tasting, error) {
	t := trials.Tasting{Record: trials.Record{ID: trials.NewID(), Name: name}, Attributes: splitWords(o.attributes),
		Blind: !o.open, Seed: o.seed, FlightSize: o.flight, Note: o.note}
	var err error
	if t.At, err = e.parseWhen(o.at, time.Time{}); err != nil {
		return t, err
	}
	if t.Seed == 0 {
		// kept with the tasting, so that the same codes and orders can be made again; small enough to type
		t.Seed = rand.Int64N(1 << 31)
	}
	if len(t.Attributes) == 0 && len(offered) > 0 {
		return t, trials.Refuse(evenings.OfferedHint(offered), "the tasting scores nothing")
	}
	if err := o.checkFlight(); err != nil {
		return t, err
	}
	return t, t.Validate()
}

// checkFlight refuses a flight of no glass or of more than an evening has.
func (o tastingOptions) checkFlight() error {
	if o.flight < 1 || o.flight > evenings.MostServings {
		return trials.Refuse("write --flight 6, or 3 for strong tastes", "--flight: %d glasses are outside 1 to %d",
			o.flight, evenings.MostServings)
	}
	return nil
}

// who lists the tasters that were named, or makes names for so many.
func (o tastingOptions) who() ([]string, error) {
	named := splitWords(o.tasters)
	switch {
	case o.count == 0:
		return named, nil
	case len(named) > 0:
		return nil, trials.Refuse("give the names with --taster, or how many with --tasters",
			"both --taster and --tasters are given")
	}
	return evenings.TasterNames(o.count)
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
			n, err := e.reading()
			if err != nil {
				return err
			}
			return e.list(evenings.TastingList(n), len(n.Tastings), "hedgerow tasting show NAME")
		},
	}
}

func newTastingClose(e *env) *cobra.Command {
	var o closing
	c := &cobra.Command{
		Use:   "close TASTING",
		Short: "End a blind tasting and open its key",
		Long: `End a blind tasting and open its key. Of an evening of dosing to taste the beer that
went into the glasses is logged as a loss of its batch, and what the droppers took
counts as gone from the extract.`,
		Example: `  hedgerow tasting close club-night
  hedgerow tasting close drops --beer 1.2L`,
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, t, err := e.writingTasting(args[0])
			if err != nil {
				return err
			}
			if t, err = e.closeTasting(n, t, o); err != nil {
				return err
			}
			return e.showTasting(n, t, false, "")
		},
	}
	c.Flags().StringArrayVar(&o.unused, "unused", nil, "dosing to taste: the code of a dropper that nobody used")
	o.beerFlag(c)
	return c
}

// showTasting shows a tasting of either kind.
func (e *env) showTasting(n *trials.Notebook, t trials.Tasting, key bool, html string) error {
	s, drops := n.ToTasteOf(t.ID)
	if !drops {
		v := evenings.Tasting(n, t, key)
		if html != "" {
			v.Document.Made = n.Settings[trials.SettingHeading]
		}
		return e.showOrPage(v, html)
	}
	v, err := evenings.Dropping(n, t, s, key, e.warned...)
	if err != nil {
		return err
	}
	if err := e.showOrPage(v, html); err != nil {
		return err
	}
	if !t.Sealed() {
		e.next("hedgerow tasting blend %s --into BATCH   (how much of the extract goes in)", t.Name)
	}
	return nil
}

// closeTasting ends a blind tasting and opens its key, in the notebook in hand too.
func (e *env) closeTasting(n *trials.Notebook, t trials.Tasting, o closing) (trials.Tasting, error) {
	if err := n.CheckClose(t, o.unused...); err != nil {
		return t, err
	}
	use, err := e.useOf(n, t, o)
	if err != nil {
		return t, err
	}
	now := e.now().UTC()
	t.ClosedAt = &now
	mark := trials.NewMark(t, trials.MarkClosed, 1, now)
	err = e.write("close tasting "+t.Name, func(tx *store.Tx) error {
		if err := tx.Save(append([]any{&t}, use.records()...)...); err != nil {
			return err
		}
		return tx.Mark(mark)
	})
	if err == nil {
		n.Marks = append(n.Marks, mark)
		e.sayUse(n, use)
	}
	return t, err
}

func newTastingShow(e *env) *cobra.Command {
	var peek bool
	var html string
	c := &cobra.Command{
		Use:   "show TASTING",
		Short: "Show a tasting; while it is sealed only codes and who has scored",
		Long: `Show a tasting. While it is sealed, what is behind the codes stays hidden.
--peek shows the key before the end; that is recorded, whatever is undone, and
printed under every later result. Whoever pours and does not score uses
hedgerow tasting sheet TASTING --pour instead.`,
		Example: `  hedgerow tasting show club-night
  hedgerow tasting show club-night --html club-night.html`,
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			// a look at the key is written down, so it needs the lock from its first read
			read := e.readingScores
			if peek {
				read = e.writingScores
			}
			n, err := read()
			if err != nil {
				return err
			}
			t, err := n.Tasting(args[0])
			if err != nil {
				return err
			}
			if peek && t.Sealed() && !t.CupsUnread() && t.PeekedAt == nil {
				now := e.now().UTC()
				t.PeekedAt = &now
				if err := e.mark(trials.NewMark(t, trials.MarkPeeked, 1, now)); err != nil {
					return err
				}
			}
			e.release() // a pager must not hold others up
			return e.showTasting(n, t, peek, html)
		},
	}
	c.Flags().StringVar(&html, "html", "", "write a page into this file, or - for standard output")
	c.Flags().BoolVar(&peek, "peek", false, "look at the key before the end; recorded")
	return c
}

package main

import (
	"strings"

	"hedgerow/report"
	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/studies"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

func newLedger(e *env) *cobra.Command {
	var explain bool
	var html string
	c := &cobra.Command{
		Use:   "ledger BATCH",
		Short: "Show the step by step account of a batch",
		Long: `Show volume, gravity, strength and effective dose of a batch after every event,
each with its 95 % interval. Nothing is stored: a corrected event changes all
that follows. --explain adds the formulas, the masses after each event, and every
input with its origin and what it adds to the doubt of the strength; --wide the
change that each addition made, with its own interval: errors that before and after
share cancel in it. --html draws volume, gravity and strength over the days.

Where sugar goes in at packaging or later, or extract is left then, the account
ends with the beer after conditioning, as it is expected to be drunk. The strength
for a label follows the guidance of one country; others differ.`,
		Example: `  hedgerow ledger heather-3
  hedgerow ledger heather-3 --explain
  hedgerow ledger heather-3 --html heather-3.html`,
		Args:              exactly("BATCH"),
		ValidArgsFunction: e.completing(batchNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			b, err := n.Batch(args[0])
			if err != nil {
				return err
			}
			done := e.working("working out the ledger of " + b.Name)
			l, err := ledger.Of(n, b)
			done()
			if err != nil {
				return err
			}
			view := report.Ledger(n, l, e.style())
			if explain {
				view = report.ExplainedLedger(n, l, e.style())
			}
			if html != "" {
				view.Document = report.LedgerPage(n, view, e.style())
			}
			return e.showOrPage(view, html)
		},
	}
	c.Flags().StringVar(&html, "html", "", "write a page with a picture into this file, or - for standard output")
	c.Flags().BoolVar(&explain, "explain", false, "show formulas, inputs with their origin, masses and sources")
	return c
}

// trialSet reads the trials of a material.
func (e *env) trialSet(name string) (*trials.Notebook, ledger.TrialSet, error) {
	return e.gathered(name, ledger.Gather)
}

// gathered reads the notebook and gathers the trials of a material.
func (e *env) gathered(name string,
	gather func(*trials.Notebook, trials.Material) (ledger.TrialSet, error)) (*trials.Notebook, ledger.TrialSet, error) {
	defer e.working("gathering the trials of " + name)()
	n, err := e.readingScores()
	if err != nil {
		return nil, ledger.TrialSet{}, err
	}
	m, err := n.Material(name)
	if err != nil {
		return nil, ledger.TrialSet{}, err
	}
	s, err := gather(n, m)
	return n, s, err
}

// ownOnlyHelp is the help of the flag that leaves other brewers' trials out.
const ownOnlyHelp = "leave out what other brewers' trials say of the dose"

// compareOptions say by what trials are compared.
type compareOptions struct {
	html             string // file for the page
	attribute, class string
	ownOnly          bool
}

func newCompare(e *env) *cobra.Command {
	var o compareOptions
	c := &cobra.Command{
		Use:   "compare MATERIAL",
		Short: "Compare the trials of a material: doses, methods, scores",
		Long: `Show every trial of a material in one table: what was done, what the panel
scored in closed tastings, and what else differed between the trials.

The doses are those of the solute family of the attribute, the one most voted on if
none is named: tartness acid, astringency tannin, floral, citrus and spice aroma,
bitterness small phenolics, colour; --class says otherwise.`,
		Example: `  hedgerow compare heather
  hedgerow compare heather --attribute floral`,
		Args: exactly("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := classNamed(o.class); err != nil {
				return inFlag("class", err)
			}
			n, s, err := e.trialSet(args[0])
			if err != nil {
				return err
			}
			s.OwnOnly = o.ownOnly
			// claims alone are advice: there is nothing yet to set side by side
			if len(s.Trials)+len(s.Dosed) == 0 && (len(s.Others) == 0 || s.OwnOnly) {
				return nothingToCompare(s)
			}
			s, attribute, err := studies.ForTaste(s, o.attribute, o.class)
			if err != nil {
				return err
			}
			done := e.working("comparing " + document.Count(len(s.Trials), "trial"))
			view := decisions.Comparison(n, s, attribute, e.style())
			done()
			if o.html != "" {
				view.Document.Made = n.Settings[trials.SettingHeading]
			}
			return e.showOrPage(view, o.html)
		},
	}
	c.Flags().StringVar(&o.html, "html", "", "write a page with pictures into this file, or - for standard output")
	c.Flags().StringVar(&o.attribute, "attribute", "", "compare by this attribute, with doses of its solute family")
	c.Flags().StringVar(&o.class, "class", "", "solute class of the doses: "+strings.Join(trials.ClassNames[:], ", "))
	c.Flags().BoolVar(&o.ownOnly, "own-only", false, ownOnlyHelp)
	return c
}

// nothingToCompare says that nothing was logged, or what waits to be closed.
func nothingToCompare(s ledger.TrialSet) error {
	p := &trials.Problem{Code: trials.NotEnough, Message: "nothing with " + s.Material.Key + " has been logged yet",
		Hint: "hedgerow addition add BATCH " + s.Material.Key + " 40g --form cut --as tea ..."}
	if len(s.Sealed) > 0 {
		p.Message = "nothing with " + s.Material.Key + " can be compared yet: still sealed is " + strings.Join(s.Sealed, ", ")
		p.Hint = "hedgerow tasting close " + s.Sealed[0]
	}
	return p
}

// suggestOptions are the flags of suggest that are read as amounts.
type suggestOptions struct {
	ownOnly                 bool
	volume, target, drinkAt string
	avoid                   []string
}

func newSuggest(e *env) *cobra.Command {
	var study string
	var o suggestOptions
	r := decisions.SuggestRequest{}
	c := &cobra.Command{
		Use:   "suggest MATERIAL",
		Short: "Suggest the next dose and method",
		Long: `Suggest the dose most likely to be called just right, how to steep it for a
stated volume, and which trial would narrow the answer most. Doses are of the solute
family of the attribute, as in compare; --class says otherwise. With --study it reads
studies as JSON, one a line (hedgerow help study-format), and answers one a line.`,
		Example: `  hedgerow suggest heather --volume 12L
  hedgerow suggest heather --attribute floral --avoid "astringency<=3"
  hedgerow suggest heather --drink-at 90d
  hedgerow suggest --study studies.jsonl --json`,
		RunE: func(_ *cobra.Command, args []string) error {
			if study != "" {
				return e.answerStudies(study)
			}
			if len(args) != 1 {
				return trials.Refuse("hedgerow suggest heather --volume 12L", "name one material")
			}
			return e.runSuggest(args[0], o, r)
		},
	}
	f := c.Flags()
	f.StringVar(&o.volume, "volume", "", "beer that the next dose goes into; 10 L if left out")
	f.StringVar(&r.Attribute, "attribute", "", "what the dose should be right for; the most voted on if left out")
	f.StringVar(&r.Class, "class", "", "solute class of the doses: "+strings.Join(trials.ClassNames[:], ", "))
	f.StringVar(&r.Method, "method", "", "the method the dose is for; the one used most if left out")
	f.StringVar(&o.target, "target", "", "aim at an intensity in place of just right, such as intensity=6")
	f.StringVar(&o.drinkAt, "drink-at", "", "age at which the beer is drunk, such as 90d; that of most tastings if "+
		"left out")
	f.StringArrayVar(&o.avoid, "avoid", nil, `a taste that must stay low, such as "astringency<=3"`)
	f.BoolVar(&o.ownOnly, "own-only", false, ownOnlyHelp)
	f.BoolVar(&r.FreshTasters, "fresh-tasters", false, "forget what earlier studies taught about the tasters")
	f.StringVar(&study, "study", "", "file of studies, one JSON object a line; - for standard input")
	return c
}

// longestAge is the oldest age, in days, that is taken for meant: a hundred years.
const longestAge = 36500

// parseAge reads the age of a beer, in days.
func parseAge(text string) (float64, error) {
	minutes, err := parseMinutes(text)
	if err != nil {
		return 0, trials.Refuse("write it as 90d", "%v", err)
	}
	days := minutes / (24 * 60)
	if days > longestAge {
		return 0, trials.Refuse("write it as 90d", "%q is older than a beer gets", text)
	}
	return days, nil
}

// readSuggest reads the amounts of a suggestion.
func (e *env) readSuggest(o suggestOptions, r *decisions.SuggestRequest) error {
	// a round amount, when none is said, is easily scaled in the head
	r.VolumeL, r.Units = 10, e.style()
	a := e.amounts()
	a.must(&r.VolumeL, "volume", o.volume, a.volume)
	a.set(&r.DrinkAtDays, "drink-at", o.drinkAt, parseAge)
	if o.target != "" {
		text := strings.TrimPrefix(o.target, "intensity=")
		a.set(&r.Target, "target", text, plainNumber)
		if r.Target != nil && (*r.Target <= 0 || *r.Target > 10) {
			return trials.Refuse("write --target intensity=6", "--target: intensity %s is outside 0 to 10", text)
		}
	}
	if _, err := classNamed(r.Class); err != nil {
		return inFlag("class", err)
	}
	if r.Method != "" {
		if err := trials.CheckMethod(r.Method); err != nil {
			return inFlag("method", err)
		}
	}
	if a.err != nil {
		return a.err
	}
	for _, text := range o.avoid {
		name, limit, ok := strings.Cut(text, "<=")
		v, err := plainNumber(limit)
		if !ok || err != nil {
			return trials.Refuse(`write "astringency<=3"`, "--avoid: %q cannot be read", text)
		}
		if v <= 0 || v > 10 {
			return trials.Refuse(`write "astringency<=3"`, "--avoid: %q: a limit lies above 0 and at most 10", text)
		}
		r.Avoid = append(r.Avoid, decisions.AvoidLimit{Attribute: strings.TrimSpace(name), AtMost: v})
	}
	return nil
}

// runSuggest answers for one material of the notebook.
func (e *env) runSuggest(material string, o suggestOptions, r decisions.SuggestRequest) error {
	if err := e.readSuggest(o, &r); err != nil {
		return err
	}
	n, s, err := e.gathered(material, ledger.GatherBest)
	if err != nil {
		return err
	}
	s.OwnOnly, r.Pictures = o.ownOnly, e.draws()
	done := e.working("weighing " + document.Count(len(s.Trials), "trial") + " and what the tasters scored before")
	view, err := decisions.Suggest(n, s, r)
	done()
	if err != nil {
		return err
	}
	e.keepSuggestion(view, r.VolumeL)
	return e.show(view)
}

// keepSuggestion keeps a suggestion for hedgerow status, which works nothing out.
func (e *env) keepSuggestion(v document.View, volumeL float64) {
	given, ok := decisions.Given(v, e.now().UTC(), volumeL)
	if !ok || e.missing() {
		return
	}
	// an answer is due also where nothing can be written, or while another writes
	if s, err := e.store(true); err == nil {
		s.Suggested(e.ctx, given)
	}
}

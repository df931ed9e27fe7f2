package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// scoreOptions are the scores of one glass as typed.
type scoreOptions struct {
	taster, serving, note, position string
	glass, dropper                  string
	replace                         bool
}

func newTastingScore(e *env) *cobra.Command {
	var o scoreOptions
	c := &cobra.Command{
		Use:   "score TASTING [ANSWER...]",
		Short: "Enter scores: by question and answer, one glass, or a table as CSV",
		Long: `Enter what a taster said. At a terminal, without answers, each question is put in
turn, in the taster's order: Enter skips, a code goes to that serving, undo takes
back the last answer, done stops; every finished glass is kept.

In one line: intensity 0 to 10 and, after a slash, the vote little, right or
much; liking 1 to 9. With - in place of answers a table is read from standard
input, with a path from a file. Its header has serving and taster, a column for
each attribute, one named "floral vote" for its votes, and liking, note and
position. Nothing of a table is written unless every line is good.

Of a glass dosed to taste the steps are told: right=6 much=9, going down right=4
little=8, and stopped=12 where one of them did not come. The columns of its table
are taster, glass, right, past and stopped; mL in all do in place of a step.

Glasses and tasters may be missing. Stored with each score: who, when, the glass
and its position, which comes from the taster's order unless it is given.`,
		Example: `  hedgerow tasting score club-night --taster A --serving 417 floral=6/right astringency=2 liking=7
  hedgerow tasting score drops --taster A --glass up right=6 much=9
  hedgerow tasting score club-night - < scores.csv`,
		Args:              e.guided(atLeast("TASTING")),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				name, err := e.guideTasting()
				if err != nil {
					return err
				}
				args = []string{name}
			}
			return e.runTastingScore(o, args[0], args[1:])
		},
	}
	f := c.Flags()
	f.StringVar(&o.taster, "taster", "", "who scores")
	f.StringVar(&o.serving, "serving", "", "code of the serving")
	f.StringVar(&o.glass, "glass", "", "dosing to taste: the glass, up or down")
	f.StringVar(&o.dropper, "dropper", "", "dosing to taste: code of the dropper, if not the one on the sheet")
	f.StringVar(&o.note, "note", "", "free text on this serving")
	f.StringVar(&o.position, "position", "", "as which serving it was drunk, from 1, if not in the taster's order")
	f.BoolVar(&o.replace, "replace", false, "put the new score in the place of one already given")
	return c
}

// runTastingScore enters scores.
func (e *env) runTastingScore(o scoreOptions, name string, answers []string) error {
	n, err := e.reading()
	if err != nil {
		return err
	}
	t, err := openTasting(n, name, o.replace)
	if err != nil {
		return err
	}
	if s, drops := n.ToTasteOf(t.ID); drops {
		return e.scoreDrops(n, t, s, o, answers)
	}
	// only a person can be asked: a pipe without arguments is told what is missing
	if len(answers) == 0 && o.serving == "" && isTerminal(e.stdin) {
		return e.interview(t, o)
	}
	marks, err := e.marks(o, t, answers)
	if err != nil {
		return err
	}
	// Read anew, since a table may have come slowly while others wrote.
	if n, err = e.writingScores(); err != nil {
		return err
	}
	if t, err = openTasting(n, name, o.replace); err != nil {
		return err
	}
	entry, err := n.Enter(t, marks, o.replace, e.now())
	if err != nil {
		return err
	}
	for _, x := range entry.NewTasters {
		if near := nearTaster(n, x.Name); near != "" {
			return trials.Refuse(fmt.Sprintf("write --taster %q, or first: hedgerow taster add %q", near, x.Name),
				"taster %q is not known, and %q is: which is meant?", x.Name, near)
		}
	}
	if err := e.keepScores(n, t, &entry); err != nil {
		return err
	}
	// told, since a mistyped name makes a new person
	for _, x := range entry.NewTasters {
		e.say("new taster: %s", x.Name)
	}
	return e.saved(map[string]int{"scores": len(entry.Scores), "replaced": entry.Replaced, "notes": len(entry.Notes)},
		"entered %s of %s", document.Count(len(entry.Scores), "score"), document.Count(len(marks), "glass"))
}

// keepScores writes scores, and that they came when the key was open already.
func (e *env) keepScores(n *trials.Notebook, t trials.Tasting, entry *trials.Entry) error {
	return e.write("score tasting "+t.Name, func(tx *store.Tx) error {
		if err := tx.SaveEntry(entry); err != nil {
			return err
		}
		if count := len(entry.Scores); count > 0 && n.KeyOpen(t, e.now()) {
			return tx.Mark(trials.NewMark(t, trials.MarkScored, count, e.now()))
		}
		return nil
	})
}

// openTasting finds a tasting that takes scores: one that is not closed, unless
// late is true.
func openTasting(n *trials.Notebook, name string, late bool) (trials.Tasting, error) {
	t, err := n.Tasting(name)
	// once the key is open, a score is no longer blind
	if err == nil && t.Blind && t.ClosedAt != nil && !late {
		err = trials.Refuse("a late correction: repeat with --replace", "tasting %s is closed", t.Name)
	}
	return t, err
}

// marks reads the scores from the arguments, standard input or a file.
func (e *env) marks(o scoreOptions, t trials.Tasting, answers []string) ([]trials.Marks, error) {
	// an answer has an equals sign; a single word without one is a file
	if len(answers) == 1 && !strings.Contains(answers[0], "=") {
		return e.scoreTable(t, answers[0])
	}
	if o.taster == "" || o.serving == "" {
		return nil, trials.Refuse("add --taster A --serving CODE, or - to read a table",
			"who scored which serving is missing")
	}
	m := trials.Marks{Taster: o.taster, Serving: o.serving, Note: o.note}
	if o.position != "" {
		var err error
		if m.Position, err = trials.ParsePosition(o.position); err != nil {
			return nil, inFlag("position", err)
		}
	}
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
		return nil, &trials.Problem{Code: trials.NotFound, Message: "cannot read the scores: " + err.Error(),
			Hint: "name a file, or - for standard input; a score is written tartness=6/right"}
	}
	defer f.Close()
	return trials.ParseScoreTable(io.Reader(f), t)
}

func newTastingNote(e *env) *cobra.Command {
	var taster string
	var replace bool
	c := &cobra.Command{
		Use:   "note TASTING CODE TEXT",
		Short: "Keep what a taster wrote about a serving",
		Long: `Keep what a taster wrote about a serving. With --replace the text stands in the
place of the taster's last note on it, and "none" takes that note away.`,
		Example: `  hedgerow tasting note club-night 417 "smells of wet hay" --taster A
  hedgerow tasting note club-night 417 "smells of dry hay" --taster A --replace`,
		Args:              exactly("TASTING", "CODE", "TEXT"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if taster == "" {
				return trials.Refuse("add --taster A", "who wrote it is missing")
			}
			text := strings.TrimSpace(args[2])
			if text == "" {
				return trials.Refuse("write it in quotes, such as \"smells of wet hay\"", "the note is empty")
			}
			if replace && text == "none" {
				text = ""
			}
			return e.runTastingNote(args[0], trials.Marks{Taster: taster, Serving: args[1], Note: text}, replace)
		},
	}
	c.Flags().StringVar(&taster, "taster", "", "who wrote it")
	c.Flags().BoolVar(&replace, "replace", false, "put it in the place of the taster's last note on the serving")
	return c
}

// runTastingNote keeps a note, or puts it in the place of the one before.
func (e *env) runTastingNote(tasting string, m trials.Marks, replace bool) error {
	n, t, err := e.writingTasting(tasting)
	if err != nil {
		return err
	}
	if dropped(n, t) {
		return trials.Refuse("keep it with the evening: hedgerow tasting edit "+t.Name+" --note ..",
			"tasting %s is dosed to taste: a dropper takes no note", t.Name)
	}
	// at "none" alone one means to take a note away, as every other command does
	if m.Note == clear && !replace {
		return trials.Refuse("repeat with --replace to take the note away, or write a few words more",
			"a note %q says nothing", clear)
	}
	var entry trials.Entry
	if replace {
		entry, err = n.Revise(t, m, e.now())
	} else {
		entry, err = n.Enter(t, []trials.Marks{m}, false, e.now())
	}
	switch {
	case err != nil:
		return err
	case len(entry.Notes)+len(entry.WithdrawnNotes) == 0 && m.Note == "":
		return trials.Refuse("hedgerow tasting show "+t.Name+" lists the notes", "%s has no note on %s", m.Taster, m.Serving)
	case entry.Empty():
		return e.saved(entry.Notes, "the note of %s on %s says that already", m.Taster, m.Serving)
	}
	if err := e.write("note on tasting "+t.Name, func(tx *store.Tx) error { return tx.SaveEntry(&entry) }); err != nil {
		return err
	}
	if len(entry.WithdrawnNotes) > 0 {
		return e.saved(entry.WithdrawnNotes[0], "took the note of %s on %s away", m.Taster, m.Serving)
	}
	return e.saved(entry.Notes[0], "kept the note of %s on %s", m.Taster, m.Serving)
}

package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/evenings"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// newToTaste sets up an evening of dosing to taste with an extract at hand.
func (e *env) newToTaste(o tasteOptions) error {
	if err := e.begin(); err != nil {
		return err
	}
	n, err := e.writing()
	if err != nil {
		return err
	}
	switch {
	case len(o.evening.servings)+len(o.evening.repeats) > 0:
		return trials.Refuse("leave --serving out and give the beer with --from", "--to-taste has glasses of one beer")
	case o.evening.open || o.evening.memory:
		return trials.Refuse("leave --open and --memory out", "dosing to taste is blind: two droppers under codes")
	}
	x, _, err := o.dropped(n)
	if err != nil {
		return err
	}
	if x == nil {
		return trials.Refuse("name it with --extract, or plan one with: hedgerow plan taste MATERIAL --from BATCH --record "+
			o.record, "which extract is dropped in is missing")
	}
	return e.runTaste(o, x.MaterialKey)
}

// dropperPages prints the sheets of an evening, or with pour the key.
func (e *env) dropperPages(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, taster, html string,
	pour bool) error {
	if t.CupsUnread() {
		// done alone: codes are no secret, but where the droppers stand is
		e.release()
		return e.showOrPage(evenings.AloneDroppers(n, t, s), html)
	}
	if !pour {
		sheets, err := evenings.DropperSheetsOf(n, t, s, taster)
		if err != nil {
			return err
		}
		return e.dropperSheets(sheets, html)
	}
	if t.Sealed() {
		if err := e.mark(trials.NewMark(t, trials.MarkPoured, 1, e.now())); err != nil {
			return err
		}
	}
	e.release()
	return e.showOrPage(evenings.DropperKey(n, t, s), html)
}

// joinDroppers gives late tasters their glasses.
func (e *env) joinDroppers(n *trials.Notebook, t trials.Tasting, names []string) error {
	v, err := evenings.JoinDroppers(n, t, names)
	if err != nil {
		return err
	}
	err = e.write("join tasting "+t.Name, func(tx *store.Tx) error {
		for i := range v.NewTasters {
			if err := tx.Save(&v.NewTasters[i]); err != nil {
				return err
			}
		}
		return tx.SaveGlasses(&v)
	})
	if err != nil {
		return err
	}
	if n, err = e.reading(); err != nil {
		return err
	}
	return e.showTasting(n, t, false, "")
}

// readDroppers reads which dropper was used for which glass, after an evening alone.
func (e *env) readDroppers(n *trials.Notebook, t trials.Tasting, said []string, o closing) error {
	if !t.Alone {
		return trials.Refuse("hedgerow tasting close "+t.Name, "tasting %s was not done alone; its codes are known", t.Name)
	}
	t, glasses, err := n.ReadDroppers(t, said, e.now().UTC())
	if err != nil {
		return err
	}
	use, err := e.useOf(n, t, o)
	if err != nil {
		return err
	}
	mark := trials.NewMark(t, trials.MarkClosed, 1, *t.ClosedAt)
	err = e.write("read the droppers of tasting "+t.Name, func(tx *store.Tx) error {
		for i := range glasses {
			if err := tx.Save(&glasses[i]); err != nil {
				return err
			}
		}
		if err := tx.Save(append([]any{&t}, use.records()...)...); err != nil {
			return err
		}
		return tx.Mark(mark)
	})
	if err != nil {
		return err
	}
	e.sayUse(n, use)
	if n, err = e.reading(); err != nil {
		return err
	}
	return e.showTasting(n, t, false, "")
}

// scoreDrops enters notes of an evening of dosing to taste.
func (e *env) scoreDrops(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, o scoreOptions,
	answers []string) error {
	if len(answers) == 0 && isTerminal(e.stdin) {
		return e.dropInterview(n, t, s, o)
	}
	notes, err := e.dropNotes(n, t, s, o, answers)
	if err != nil {
		return err
	}
	// Read anew, since a table may have come slowly while others wrote.
	if n, err = e.writing(); err != nil {
		return err
	}
	if t, err = openTasting(n, t.Name, o.replace); err != nil {
		return err
	}
	entry, err := n.EnterDrops(t, notes, o.replace, e.now())
	if err != nil {
		return err
	}
	if err := e.keepDrops(n, t, &entry); err != nil {
		return err
	}
	return e.saved(map[string]int{"glasses": len(entry.Glasses), "replaced": entry.Replaced}, "entered the notes of %s",
		document.Count(len(entry.Glasses), "glass"))
}

// keepDrops writes notes, and that they came when the key was open already.
func (e *env) keepDrops(n *trials.Notebook, t trials.Tasting, entry *trials.DropEntry) error {
	return e.write("score tasting "+t.Name, func(tx *store.Tx) error {
		for i := range entry.Glasses {
			if err := tx.Save(&entry.Glasses[i]); err != nil {
				return err
			}
		}
		if n.KeyOpen(t, e.now()) {
			return tx.Mark(trials.NewMark(t, trials.MarkScored, len(entry.Glasses), e.now()))
		}
		return nil
	})
}

// dropNotes reads notes from the arguments, standard input or a file.
func (e *env) dropNotes(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, o scoreOptions,
	answers []string) ([]trials.DropNotes, error) {
	if len(answers) == 1 && !strings.Contains(answers[0], "=") {
		return e.dropTable(n, t, s, answers[0])
	}
	if o.taster == "" || len(answers) == 0 {
		return nil, trials.Refuse("add --taster A --glass up right=6 much=9, or - to read a table",
			"who noted what of which glass is missing")
	}
	x := trials.DropNotes{Taster: o.taster, Glass: o.glass, Dropper: o.dropper}
	d, err := n.GlassOf(t, x.Taster, x.Glass)
	if err != nil {
		return nil, err
	}
	for _, text := range answers {
		key, value, ok := strings.Cut(text, "=")
		if !ok {
			return nil, trials.Refuse("write right=6 much=9", "%q is no note", text)
		}
		if err := e.noteStep(&x, s, d.Direction, key, value); err != nil {
			return nil, err
		}
	}
	return []trials.DropNotes{x}, nil
}

// noteStep puts one note into its place.
func (e *env) noteStep(x *trials.DropNotes, s trials.ToTaste, direction, key, value string) error {
	step, err := e.stepTyped(s, direction, value)
	if err != nil {
		return err
	}
	word := strings.TrimPrefix(strings.ToLower(strings.TrimSpace(key)), "too ")
	switch {
	case word == "right" || word == "just right":
		x.Right = step
	case word == "past" || "too "+word == trials.PastWord(direction):
		x.Past = step
	case word == "stopped":
		x.Stopped = step
	case word == "much" || word == "little":
		return trials.Refuse("write right=.. and "+strings.TrimPrefix(trials.PastWord(direction), "too ")+"=..",
			"a glass that goes %s ends in %s, not in too %s", direction, trials.PastWord(direction), word)
	default:
		return trials.Refuse("write right=6, much=9 (going down little=9) or stopped=12", "%q is no note", key)
	}
	return nil
}

// stepTyped reads a step: its number, or the millilitres that had gone in by then; nil for
// one that did not come.
func (e *env) stepTyped(s trials.ToTaste, direction, text string) (*int, error) {
	text = strings.TrimSpace(text)
	if text == "" || text == "-" {
		return nil, nil
	}
	if k, err := strconv.Atoi(text); err == nil {
		return &k, nil
	}
	a := e.amounts()
	litres, ok := a.read("step", text, a.volume)
	if !ok {
		return nil, trials.Refuse("write the number of the step, or the mL that had gone in by then, such as 1.2mL",
			"step %q cannot be read", text)
	}
	step, near := s.StepAt(direction, litres)
	if step == 0 {
		return nil, trials.Refuse("the steps near it had "+near, "at %s no step was poured in the glass %s", text, direction)
	}
	return &step, nil
}

// dropTable reads a table from standard input or a file.
func (e *env) dropTable(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, path string) ([]trials.DropNotes,
	error) {
	from := e.input()
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return nil, &trials.Problem{Code: trials.NotFound, Message: "cannot read the notes: " + err.Error(),
				Hint: "name a file, or - for standard input; a note is written right=6"}
		}
		defer f.Close()
		from = f
	}
	text, err := io.ReadAll(from)
	if err != nil {
		return nil, err
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	if head, _, _ := bytes.Cut(text, []byte("\n")); !bytes.Contains(head, []byte(",")) && bytes.Contains(head,
		[]byte(";")) {
		r.Comma = ';'
	}
	rows, err := r.ReadAll()
	var broken *csv.ParseError
	if errors.As(err, &broken) && errors.Is(err, csv.ErrFieldCount) {
		return nil, trials.Refuse("give each line a value for each title; nothing between two commas is one too",
			"line %d: it has more or fewer values than the first line has titles", broken.Line)
	}
	if err != nil || len(rows) < 2 {
		return nil, trials.Refuse("the first line is taster,glass,right,past,stopped",
			"the table has no notes that can be read")
	}
	for _, title := range rows[0] {
		if !slices.Contains(dropTitles, strings.ToLower(strings.TrimSpace(title))) {
			return nil, trials.Refuse("the columns are taster, glass, dropper, right, past and stopped",
				"the column %q is not known", title)
		}
	}
	var notes []trials.DropNotes
	for i, row := range rows[1:] {
		x, err := e.dropRow(n, t, s, rows[0], row)
		x.Where = fmt.Sprintf("line %d", i+2)
		if err != nil {
			p := trials.ProblemOf(err).(*trials.Problem)
			p.Message = x.Where + ": " + p.Message
			return nil, p
		}
		notes = append(notes, x)
	}
	return notes, nil
}

// dropTitles are the titles that a table of notes may have.
var dropTitles = []string{"taster", "glass", "dropper", "right", "just right", "past", "stopped"}

// dropRow is one line of a table.
func (e *env) dropRow(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, head, row []string) (trials.DropNotes,
	error) {
	var x trials.DropNotes
	type step struct{ key, value string }
	var steps []step
	for i, title := range head {
		value := strings.TrimSpace(row[i])
		switch key := strings.ToLower(strings.TrimSpace(title)); key {
		case "taster":
			x.Taster = value
		case "glass":
			x.Glass = value
		case "dropper":
			x.Dropper = value
		default: // one of the steps
			steps = append(steps, step{key, value})
		}
	}
	d, err := n.GlassOf(t, x.Taster, x.Glass)
	if err != nil {
		return x, err
	}
	for _, st := range steps {
		if err := e.noteStep(&x, s, d.Direction, st.key, st.value); err != nil {
			return x, err
		}
	}
	return x, nil
}

// dropped reports whether a tasting is dosed to taste.
func dropped(n *trials.Notebook, t trials.Tasting) bool {
	_, drops := n.ToTasteOf(t.ID)
	return drops
}

// tasteEdit is what of an evening of dosing to taste can be corrected, as typed.
type tasteEdit struct{ glass, sip, extract string }

// flags adds the corrections to a command.
func (o *tasteEdit) flags(c *cobra.Command) {
	c.Flags().StringVar(&o.glass, "glass", "", "dosing to taste: beer in each glass")
	c.Flags().StringVar(&o.sip, "sip", "", "dosing to taste: drunk at each step going up")
	c.Flags().StringVar(&o.extract, "extract", "", "dosing to taste: used or other")
}

// records are the corrected steps of an evening, nothing where they stay.
func (o tasteEdit) records(e *env, n *trials.Notebook, t trials.Tasting) ([]any, error) {
	if o == (tasteEdit{}) {
		return nil, nil
	}
	s, drops := n.ToTasteOf(t.ID)
	if !drops {
		return nil, trials.Refuse("leave --glass, --sip and --extract out", "tasting %s is not dosed to taste", t.Name)
	}
	switch o.extract {
	case "":
	case "used", "other":
		s.Used = o.extract == "used"
	default:
		return nil, trials.Refuse("write used or other", "--extract: %q is neither used nor other", o.extract)
	}
	a := e.amounts()
	a.must(&s.GlassL, "glass", o.glass, a.volume)
	a.must(&s.SipL, "sip", o.sip, a.volume)
	if a.err != nil {
		return nil, a.err
	}
	return []any{&s}, s.Validate()
}

package main

import (
	"bufio"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"hedgerow/trials"
)

// interview puts the questions of a tasting to one taster, one at a time.
type interview struct {
	e       *env
	n       *trials.Notebook
	t       trials.Tasting
	taster  trials.Taster
	order   []trials.Serving
	lines   *bufio.Scanner
	glass   int               // index into order
	ask     int               // index into questions
	given   map[[2]int]string // answers of glasses not kept yet, by glass and question
	past    [][2]int          // what was answered, to be undone
	free    map[[2]int]bool   // undone after it was kept: may be replaced unasked
	entered map[string]int    // scores kept by code
	told    int               // number of the glass that was announced last
	late    bool              // scores are taken although the tasting is closed
}

// interviewHelp is shown at the start and for "?".
const interviewHelp = "Enter skips, a code goes to that serving, undo takes back the last answer, done stops, " +
	"? shows this."

// interview asks a taster for all scores and keeps each glass when it is done.
func (e *env) interview(t trials.Tasting, o scoreOptions) error {
	n, err := e.readingScores()
	if err != nil {
		return err
	}
	v := &interview{e: e, n: n, t: t, late: o.replace, lines: bufio.NewScanner(e.input()),
		given: map[[2]int]string{}, free: map[[2]int]bool{}, entered: map[string]int{}}
	if err := v.who(o.taster); err != nil {
		return err
	}
	// without an order the codes will do: they are random themselves
	if v.order = n.OrderOf(t.ID, v.taster.ID); v.order == nil {
		v.order = n.ServingsOf(t.ID)
	}
	v.tell("Tasting %s, %s. %s", t.Name, v.taster.Name, interviewHelp)
	for v.glass < len(v.order) {
		line, more := v.prompt()
		if !more {
			break
		}
		stop, err := v.take(line)
		if err != nil {
			return err
		}
		if stop {
			break
		}
	}
	// interrupted in the midst of a glass: what was said of it so far was not meant to be final
	if e.ctx.Err() != nil {
		return e.ctx.Err()
	}
	if v.glass < len(v.order) {
		if err := v.keep(v.glass); err != nil {
			return err
		}
	}
	// last: what was answered before the fault is kept already
	if err := v.broken(); err != nil {
		return err
	}
	return v.summary()
}

// next returns the next line; more is false at the end or when interrupted.
func (v *interview) next() (line string, more bool) {
	more = v.lines.Scan()
	return strings.TrimSpace(v.lines.Text()), more
}

// broken tells why no further line could be read; nil at the end of the input.
func (v *interview) broken() error {
	err := v.lines.Err()
	switch {
	case err == nil:
		return nil
	case v.e.ctx.Err() != nil:
		return v.e.ctx.Err()
	case errors.Is(err, bufio.ErrTooLong):
		err = errors.New("one line is too long")
	}
	return &trials.Problem{Code: trials.Failed, Message: "cannot read the answers: " + err.Error(),
		Hint: "what was answered before is kept; the same command goes on from there"}
}

// tell prints a line of the conversation.
func (v *interview) tell(format string, args ...any) {
	fmt.Fprintf(v.e.stderr, format+"\n", args...)
}

// who settles who scores: the name given, else the one typed.
func (v *interview) who(name string) error {
	if name == "" {
		fmt.Fprintf(v.e.stderr, "Who scores? (%s) ",
			strings.Join(names(v.n.Expected(v.t.ID), func(t trials.Taster) string { return t.Name }), ", "))
		line, more := v.next()
		if err := v.broken(); !more && err != nil {
			return err
		}
		name = line
	}
	known, fresh, err := v.n.TastersNamed([]string{name})
	if err != nil {
		return err
	}
	if v.taster = known[0]; len(fresh) > 0 {
		fmt.Fprintf(v.e.stderr, "%s is new. Is the name right? [y/N] ", v.taster.Name)
		// a mistyped name would make a second person, and their scores would count as two
		if line, _ := v.next(); !yes(line) {
			return trials.Refuse("there is "+strings.Join(tasterNames(v.n), ", "), "no taster %q", name)
		}
	}
	return nil
}

// yes reports whether an answer agrees.
func yes(line string) bool {
	line = strings.ToLower(line)
	return line == "y" || line == "yes"
}

// question is one question about a glass.
type question struct {
	attribute string
	kind      string
	scale     string
}

// The kinds of question.
const (
	askIntensity = "intensity"
	askVote      = "vote"
	askLiking    = "liking"
	askNote      = "note"
)

// questions lists what is asked about every glass.
func (v *interview) questions() []question {
	var list []question
	for _, a := range v.t.Attributes {
		list = append(list, question{a, askIntensity, a + ", 0 to 10"}, question{a, askVote, a + ": little, right or much"})
	}
	return append(list, question{trials.Overall, askLiking, "liking, 1 to 9"}, question{"", askNote, "note"})
}

// prompt puts the present question.
func (v *interview) prompt() (string, bool) {
	q := v.questions()[v.ask]
	if v.told != v.glass+1 {
		v.told = v.glass + 1
		v.tell("Glass %d of %d: %s", v.glass+1, len(v.order), v.called())
	}
	text := "  " + q.scale
	if now := v.now(q); now != "" {
		text += " [" + now + "]"
	}
	// standard error: the answer of the command, the count of scores, stays alone on standard output
	fmt.Fprint(v.e.stderr, text+": ")
	return v.next()
}

// called is how the present glass is called: by its code, or, of cups that stand in a
// row, by its place.
func (v *interview) called() string {
	if v.t.CupsUnread() {
		return "the cup at place " + v.order[v.glass].Code + " from the left"
	}
	return "code " + v.order[v.glass].Code
}

// now is the answer that stands at present, empty for none.
func (v *interview) now(q question) string {
	if text, ok := v.given[[2]int{v.glass, v.ask}]; ok {
		return text
	}
	s, ok := v.stored(q)
	switch {
	case !ok:
	case q.kind == askIntensity && s.Intensity != nil:
		return strconv.FormatFloat(*s.Intensity, 'f', -1, 64)
	case q.kind == askLiking && s.Liking != nil:
		return strconv.FormatFloat(*s.Liking, 'f', -1, 64)
	case q.kind == askVote && s.Vote != nil:
		return trials.VoteWords[*s.Vote+1]
	}
	return ""
}

// stored is the score kept for a question about the present glass.
func (v *interview) stored(q question) (trials.Score, bool) {
	for _, s := range v.n.Scores {
		if s.ServingID == v.order[v.glass].ID && s.TasterID == v.taster.ID && s.Attribute == q.attribute {
			return s, true
		}
	}
	return trials.Score{}, false
}

// take deals with one line. stop ends the interview.
func (v *interview) take(line string) (stop bool, err error) {
	q := v.questions()[v.ask]
	switch strings.ToLower(line) {
	case "":
		return false, v.forward()
	case "?":
		v.tell("  %s", interviewHelp)
		return false, nil
	case "undo":
		v.undo()
		return false, nil
	case "done":
		return true, nil
	}
	for i, s := range v.order {
		// the number of a place is also an answer
		if s.Code == line && !v.t.CupsUnread() {
			err := v.keep(v.glass)
			v.glass, v.ask = i, 0
			return false, err
		}
	}
	text, err := q.read(v.t, line)
	if err != nil {
		_, hint := describe(err)
		// asked again and not ended: one slip must not cost an evening's answers
		v.tell("  %v; %s", err, hint)
		return false, nil
	}
	at := [2]int{v.glass, v.ask}
	if old := v.now(q); old != "" && old != text && !v.free[at] && v.given[at] == "" {
		fmt.Fprintf(v.e.stderr, "  %s was already given; replace it with %s? [y/N] ", old, text)
		if answer, _ := v.next(); !yes(answer) {
			return false, v.forward()
		}
	}
	if err := v.stillOpen(); err != nil {
		return true, err
	}
	v.given[at] = text
	v.past = append(v.past, at)
	return false, v.forward()
}

// stillOpen looks whether the tasting takes scores as it did when it was asked about:
// an evening goes on for long, and others close and edit meanwhile.
func (v *interview) stillOpen() error {
	n, err := v.e.reading()
	if err != nil {
		return err
	}
	if t, ok := n.TastingByID(v.t.ID); ok {
		v.t = t // it may have another name by now
	}
	_, err = openTasting(n, v.t.Name, v.late)
	if err != nil && v.answered(v.glass) {
		v.tell("what was said of glass %d is not kept", v.glass+1)
	}
	return err
}

// read checks an answer and returns it as it is kept.
func (q question) read(t trials.Tasting, line string) (string, error) {
	switch q.kind {
	case askNote:
		return line, nil
	case askVote:
		vote, err := trials.ParseVote(line)
		if err != nil {
			return "", err
		}
		return trials.VoteWords[vote+1], nil
	}
	value, err := plainNumber(line)
	if err != nil {
		return "", err
	}
	s := trials.Score{Attribute: q.attribute, Intensity: &value}
	if q.kind == askLiking {
		s.Intensity, s.Liking = nil, &value
	}
	return strconv.FormatFloat(value, 'f', -1, 64), s.Validate(t)
}

// forward goes to the next question, and keeps the glass after its last one.
func (v *interview) forward() error {
	if v.ask++; v.ask < len(v.questions()) {
		return nil
	}
	err := v.keep(v.glass)
	v.glass, v.ask = v.glass+1, 0
	return err
}

// undo goes back to the question answered last.
func (v *interview) undo() {
	if len(v.past) == 0 {
		v.tell("  nothing was answered yet")
		return
	}
	at := v.past[len(v.past)-1]
	v.past = v.past[:len(v.past)-1]
	if _, unsaved := v.given[at]; !unsaved {
		// taking it back was the assent: asked again at once one would have to agree twice
		v.free[at] = true
	}
	delete(v.given, at)
	v.glass, v.ask = at[0], at[1]
	v.told = v.glass + 1
	v.tell("Back to glass %d: %s", v.glass+1, v.called())
}

// keep writes the answers about a glass that are not kept yet.
func (v *interview) keep(glass int) error {
	if !v.answered(glass) {
		return nil
	}
	// Read anew, since others score meanwhile.
	n, err := v.e.writingScores()
	if err != nil {
		return err
	}
	// others score meanwhile: the notebook is held for one glass, never while a person thinks
	defer v.e.release()
	if v.t, err = openTasting(n, v.t.Name, v.late); err != nil {
		return err
	}
	v.n = n
	m := trials.Marks{Taster: v.taster.Name, Serving: v.order[glass].Code}
	for _, a := range append(append([]string{}, v.t.Attributes...), trials.Overall) {
		if answer, changed := v.answer(glass, a); changed {
			m.Answers = append(m.Answers, answer)
		}
	}
	for i, q := range v.questions() {
		if text := v.given[[2]int{glass, i}]; q.kind == askNote && text != "" {
			m.Note = text
		}
		delete(v.given, [2]int{glass, i})
	}
	entry, err := v.n.Enter(v.t, []trials.Marks{m}, true, v.e.now())
	if err != nil {
		return err
	}
	if err := v.e.keepScores(n, v.t, &entry); err != nil {
		return err
	}
	v.entered[m.Serving] = len(m.Answers)
	v.n.Took(entry)
	return nil
}

// answered reports whether anything was said about a glass that is not kept yet.
func (v *interview) answered(glass int) bool {
	for at := range v.given {
		if at[0] == glass {
			return true
		}
	}
	return false
}

// answer puts together what was said of one attribute of a glass, with what was
// kept of it before.
func (v *interview) answer(glass int, attribute string) (a trials.Answer, changed bool) {
	a.Attribute = attribute
	present := v.glass
	v.glass = glass
	if s, ok := v.stored(question{attribute: attribute}); ok {
		// a score is replaced whole: what is not asked anew would else be lost
		a.Intensity, a.Vote, a.Liking = s.Intensity, s.Vote, s.Liking
	}
	v.glass = present
	for i, q := range v.questions() {
		text, ok := v.given[[2]int{glass, i}]
		if !ok || q.attribute != attribute || q.kind == askNote {
			continue
		}
		changed = true
		number, _ := strconv.ParseFloat(text, 64)
		switch q.kind {
		case askIntensity:
			a.Intensity = &number
		case askLiking:
			a.Liking = &number
		case askVote:
			vote, _ := trials.ParseVote(text)
			a.Vote = &vote
		}
	}
	return a, changed
}

// summary says what was kept.
func (v *interview) summary() error {
	scores := 0
	for _, count := range v.entered {
		scores += count
	}
	return v.e.saved(map[string]int{"scores": scores, "glasses": len(v.entered)}, "kept %d scores of %d glasses for %s",
		scores, len(v.entered), v.taster.Name)
}

package sheets

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/moment"
)

// Score is what one taster said of one attribute of one glass, or a note on it.
type Score struct {
	Line      int       `json:"line"`                // where its row starts
	Column    int       `json:"column"`              // of the mark, from 1
	Tasting   string    `json:"tasting"`             // name of the evening
	Taster    string    `json:"taster"`              // as it will be kept
	Sample    string    `json:"sample"`              // name of the batch
	Code      string    `json:"code,omitempty"`      // of the glass, where the sheet has one
	Attribute string    `json:"attribute,omitempty"` // overall for liking, empty for a note
	Intensity *float64  `json:"intensity,omitempty"` // 0 to 10
	Vote      *int      `json:"vote,omitempty"`      // -1, 0 or 1
	Liking    *float64  `json:"liking,omitempty"`    // 1 to 9
	Position  *int      `json:"position,omitempty"`  // among the glasses of the taster, from 1
	Note      string    `json:"note,omitempty"`      // what was written about the glass
	At        time.Time `json:"at"`                  // when it was said

	batchID string
}

// aspect is one attribute with the columns in which it is answered; any may be nil.
type aspect struct {
	attribute                string
	mark, vote, little, much *column
}

// first returns the first column of an aspect, by which it is named.
func (a aspect) first() *column {
	for _, c := range []*column{a.mark, a.vote, a.little, a.much} {
		if c != nil {
			return c
		}
	}
	return nil
}

// glass is whose score of what a part of a row is.
type glass struct {
	row     row
	tasting string
	taster  string
	batch   trials.Batch
	code    string
	at      time.Time
	place   *int
}

// scores reads a sheet of scores in whichever shape it has.
func (r *reader) scores() {
	switch {
	case r.twoHeaders:
		r.namesAbove()
	case r.has(roleAttribute) && !r.has(roleTaster):
		r.tastersAcross()
	case r.has(roleAttribute):
		r.oneAnswerARow()
	case r.has(roleTaster) && (r.has(roleBatch) || r.has(roleCode)):
		r.oneGlassARow()
	case r.has(roleTaster):
		r.beersAcross()
	default:
		r.askColumns()
	}
	r.dropCopies()
	r.evenings()
}

// rest returns the columns whose titles are no known word.
func (r *reader) rest() []*column {
	var list []*column
	for _, c := range r.columns {
		if c.role == roleUnknown && c.title != "" {
			list = append(list, c)
		}
	}
	return list
}

// oneGlassARow reads rows of one glass of one taster, with a column for each
// attribute.
func (r *reader) oneGlassARow() {
	aspects := r.aspects(r.columns)
	liking, note, taster := r.with(roleLiking), r.with(roleNote), r.with(roleTaster)
	if value := r.with(roleValue); value != nil {
		aspects, liking = r.askValue(value, aspects, liking)
	}
	if liking != nil {
		r.settleScale(liking)
	}
	spelled := r.spellings(taster)
	for _, w := range r.rows {
		name := r.word(w, taster)
		g, ok := r.glassOf(w)
		if ok && name == "" {
			r.fault(w.line, taster, "", "the taster is missing", "write who scored, such as Taster A")
		}
		if !ok || name == "" {
			continue
		}
		g.taster = spelled[fold(name)]
		r.answersOf(g, aspects, liking, note)
	}
}

// askValue asks what a column called Score or Rating holds: the liking, or the
// strength of something.
func (r *reader) askValue(c *column, aspects []aspect, liking *column) ([]aspect, *column) {
	options := []string{"liking"}
	for _, a := range aspects {
		if a.mark == nil {
			options = append(options, a.attribute)
		}
	}
	q := Ask{About: "meaning", Key: "meaning of " + c.title, Line: r.headerLine, Options: append(options, "an attribute"),
		Text: c.title + " may be how much it was liked, or how strong something was"}
	answer, given := r.ask(q, c, true)
	switch {
	case !given:
	case answer == "liking":
		c.role = roleLiking
		return aspects, c
	default:
		c.role, c.attribute = roleMark, strings.ToLower(answer)
		r.settleScale(c)
		for i := range aspects {
			if aspects[i].attribute == c.attribute && aspects[i].mark == nil {
				aspects[i].mark = c
				return aspects, liking
			}
		}
		return append(aspects, aspect{attribute: c.attribute, mark: c}), liking
	}
	return aspects, liking
}

// aspects gathers the attributes of a list of columns: those whose titles are no
// known word and that hold nothing but numbers in scale, and the votes.
func (r *reader) aspects(columns []*column) []aspect {
	var list []aspect
	for _, c := range columns {
		if c.role == roleUnknown && c.title != "" && r.holdsMarks(c, columns) {
			c.role = roleMark
			r.settleScale(c)
			list = append(list, aspect{attribute: r.attributeNamed(c), mark: c})
		}
	}
	marks := slices.Clone(list)
	for _, c := range columns {
		if c.role != roleVote && c.role != roleTooLittle && c.role != roleTooMuch {
			continue
		}
		attribute, known := r.voteAttribute(c, marks)
		if !known {
			continue
		}
		i := slices.IndexFunc(list, func(a aspect) bool { return a.attribute == attribute })
		if i < 0 {
			list = append(list, aspect{attribute: attribute})
			i = len(list) - 1
		}
		switch c.role {
		case roleVote:
			list[i].vote = c
		case roleTooLittle:
			list[i].little = c
		case roleTooMuch:
			list[i].much = c
		}
	}
	for _, a := range list {
		if a.much != nil && a.little == nil {
			r.remark("vote_alone", r.headerLine, a.much, "only %s was asked: its no is no vote", a.much.title)
		}
	}
	return list
}

// attributeNamed is the attribute of a column, as the notebook writes it if it has
// it already, else as it stands in the sheet first.
func (r *reader) attributeNamed(c *column) string {
	if len(r.attributes) == 0 {
		for _, t := range r.n.Tastings {
			for _, a := range t.Attributes {
				r.attributes[fold(a)] = a
			}
		}
	}
	name := strings.Join(strings.Fields(c.attribute), " ")
	if _, known := r.attributes[fold(name)]; !known {
		r.attributes[fold(name)] = name
	}
	return r.attributes[fold(name)]
}

// voteAttribute finds out what a vote is about.
func (r *reader) voteAttribute(c *column, marks []aspect) (string, bool) {
	if c.attribute != "" {
		for _, m := range marks {
			if fold(m.attribute) == fold(c.attribute) {
				return m.attribute, true
			}
		}
		return r.attributeNamed(c), true
	}
	if len(marks) == 1 {
		r.remark("vote_attribute", r.headerLine, c, "%s is the vote on %s", c.title, marks[0].attribute)
		return marks[0].attribute, true
	}
	q := Ask{About: "vote_attribute", Key: "attribute of " + c.title, Line: r.headerLine,
		Text: c.title + " does not say what it is a vote on"}
	for _, m := range marks {
		q.Options = append(q.Options, m.attribute)
	}
	if len(marks) == 0 {
		q.Options = []string{"floral"} // any attribute will do: the sheet has none of its own
	}
	answer, given := r.ask(q, c, true)
	return strings.ToLower(answer), given
}

// holdsMarks reports whether a column without a known title is an attribute; one
// that is not is said to be unread, and why.
func (r *reader) holdsMarks(c *column, columns []*column) bool {
	low, high := lowestIntensity, highestIntensity
	if c.scale != nil {
		low, high = c.scale.low, c.scale.high
	}
	voted := slices.ContainsFunc(columns, func(v *column) bool {
		return v.role == roleVote && v.attribute != "" && fold(v.attribute) == fold(c.attribute)
	})
	numbers := 0
	for _, w := range r.rows {
		text := strings.TrimPrefix(strings.TrimSpace(w.cell(c.index)), "'")
		if isEmpty(text) || strings.EqualFold(text, notAvailable) || strings.HasPrefix(text, "=") ||
			slices.Contains(lostValues, text) {
			continue
		}
		score, isOutOf := text, false
		if first, _, ok := outOf(text); ok {
			score, isOutOf = first, true
		}
		f, ok := splitFigures(score)
		if !ok || f.unit != "" {
			r.unread(c)
			return false
		}
		mark, _ := decimalMark(f.digits, r.separator)
		v := plain(f.digits, mark)
		// what is scored for certain and out of scale is a fault, see answersOf
		if certain := c.scale != nil || voted || isOutOf; !certain && (v < low || v > high || f.negative) {
			r.remark("unknown_column", r.headerLine, c,
				"the column %s is not read: %s in line %d is outside 0 to 10; a title such as %s (0-100) names another scale",
				c.title, text, w.line, c.title)
			return false
		}
		numbers++
	}
	if numbers == 0 {
		r.unread(c)
	}
	return numbers > 0
}

// answersOf keeps what a glass was given in a set of columns.
func (r *reader) answersOf(g glass, aspects []aspect, liking, note *column) {
	for _, a := range aspects {
		s := r.scoreOf(g, a.first(), a.attribute)
		if a.mark != nil {
			s.Intensity = r.scored(g.row, a.mark)
		}
		switch {
		case a.vote != nil:
			s.Vote = r.vote(g.row, a.vote)
		case a.little != nil || a.much != nil:
			s.Vote = r.pairedVote(g.row, a.little, a.much)
		}
		if s.Intensity != nil || s.Vote != nil {
			r.sheet.Scores = append(r.sheet.Scores, s)
		}
	}
	if liking != nil {
		s := r.scoreOf(g, liking, trials.Overall)
		if s.Liking = r.scored(g.row, liking); s.Liking != nil {
			r.sheet.Scores = append(r.sheet.Scores, s)
		}
	}
	if text := r.note(g.row, note); text != "" {
		s := r.scoreOf(g, note, "")
		s.Note = text
		r.sheet.Scores = append(r.sheet.Scores, s)
	}
}

// scoreOf begins a score of a glass.
func (r *reader) scoreOf(g glass, c *column, attribute string) Score {
	return Score{Line: g.row.line, Column: c.index + 1, Tasting: g.tasting, Taster: g.taster, Sample: g.batch.Name,
		Code: g.code, Attribute: attribute, Position: g.place, At: g.at, batchID: g.batch.ID}
}

// scored reads a mark or a liking in the scale of its column, nil for none.
func (r *reader) scored(w row, c *column) *float64 {
	text, ok := r.value(w, c)
	if !ok {
		return nil
	}
	if score, of, ok := outOf(text); ok && c.scale != nil && atof(of) == c.scale.high {
		text = score
	}
	f, ok := splitFigures(text)
	if !ok || f.unit != "" {
		r.fault(w.line, c, shorten(text), "it is not a number", "write a number such as 6.5, or leave the cell empty")
		return nil
	}
	v, ok := r.figured(w, c, f)
	if !ok {
		return nil
	}
	low, high := c.target()
	if c.scale != nil {
		low, high = c.scale.low, c.scale.high
	}
	// the comparison fails for what is no number too
	if !(v >= low && v <= high) {
		r.fault(w.line, c, shorten(text), fmt.Sprintf("it is outside %g to %g", low, high),
			"correct it, or name the scale in the title, such as "+c.title+" (0-100)")
		return nil
	}
	v = c.mapped(v)
	return &v
}

// glassOf reads what a row says of its glass, the taster aside.
func (r *reader) glassOf(w row) (glass, bool) {
	g := glass{row: w}
	tasting, known := r.tastingOf(w)
	if !known {
		return g, false
	}
	g.tasting = tasting
	code := r.with(roleCode)
	g.code = r.word(w, code)
	beer := r.with(roleBatch)
	switch {
	case beer != nil:
		g.batch, known = r.beer(w, beer)
	default:
		g.batch, known = r.beerOfCode(w, code, g)
	}
	if !known {
		return g, false
	}
	g.place = r.position(w)
	g.at, known = r.dateOf(w, tasting)
	return g, known
}

// position reads the place of a glass among those of its taster.
func (r *reader) position(w row) *int {
	c := r.with(rolePosition)
	if c == nil {
		return nil
	}
	text, ok := r.value(w, c)
	if !ok {
		return nil
	}
	place, err := trials.ParsePosition(text)
	if err != nil {
		why, do := faultOf(err)
		r.fault(w.line, c, shorten(text), why, do)
	}
	return place
}

// beerOfCode finds what a code hid, in a tasting that the notebook has.
func (r *reader) beerOfCode(w row, c *column, g glass) (trials.Batch, bool) {
	if c == nil || g.code == "" {
		r.fault(w.line, c, "", "the beer is missing", "give each row its beer, or its code")
		return trials.Batch{}, false
	}
	t, ok := r.tastingKept(g.tasting)
	if ok {
		for _, s := range r.n.ServingsOf(t.ID) {
			if s.Code == g.code {
				return r.n.BatchByID(s.BatchID)
			}
		}
	}
	r.once(w.line, c, g.code, fmt.Sprintf("no tasting %q with the code %s is known", g.tasting, g.code),
		"add a column Beer that says what was in the glass")
	return trials.Batch{}, false
}

// tastingOf is the name of the tasting of a row: its cell, what was told, or the
// name of the file.
func (r *reader) tastingOf(w row) (string, bool) {
	if c := r.with(roleTasting); c != nil {
		name := r.word(w, c)
		if name == "" {
			if isEmpty(strings.TrimSpace(w.cell(c.index))) {
				r.fault(w.line, c, "", "the tasting is missing", "write the name of the evening")
			}
			return "", false
		}
		return r.eveningName(w.line, c, name), true
	}
	if r.o.Tasting != "" {
		return r.eveningName(r.headerLine, nil, r.o.Tasting), true
	}
	name := fittingName(strings.TrimSuffix(strings.TrimSuffix(r.o.File, ".csv"), ".CSV"))
	if name == "" {
		name = "tasting"
	}
	if c := r.with(roleDate); c != nil && r.manyDates(c) {
		if at, ok := r.date(w, c, time.Time{}); ok {
			name += "-" + at.In(r.o.Now.Location()).Format(time.DateOnly)
		}
	}
	name = r.eveningName(r.headerLine, nil, name)
	r.remark("tasting_named", r.headerLine, nil, "the tasting is called %s; --tasting NAME says otherwise", name)
	return name, true
}

// manyDates reports whether a column has more than one date.
func (r *reader) manyDates(c *column) bool {
	first := ""
	for _, w := range r.rows {
		text := strings.TrimSpace(w.cell(c.index))
		day, _, _ := strings.Cut(text, " ")
		if first == "" {
			first = day
		}
		if day != "" && day != first {
			return true
		}
	}
	return false
}

// eveningName is the name under which a tasting is or will be kept.
func (r *reader) eveningName(line int, c *column, name string) string {
	if t, ok := r.tastingKept(name); ok {
		return t.Name
	}
	fitting := fittingName(name)
	if fitting != name {
		r.remark("name_changed", line, c, "%s is kept as %s", name, fitting)
	}
	return fitting
}

// tastingKept returns the tasting of the notebook of that name, loosely written.
func (r *reader) tastingKept(name string) (trials.Tasting, bool) {
	for _, t := range r.n.Tastings {
		if fold(t.Name) == fold(name) {
			return t, true
		}
	}
	return trials.Tasting{}, false
}

// dateOf is when a row was scored: its cell, what was told, or when the tasting of
// the notebook was held. It is asked for where nothing says it, and never today.
func (r *reader) dateOf(w row, tasting string) (time.Time, bool) {
	c := r.with(roleDate)
	if c != nil {
		if !isEmpty(strings.TrimSpace(w.cell(c.index))) {
			return r.date(w, c, time.Time{})
		}
	}
	text := r.o.At
	if text == "" {
		if t, ok := r.tastingKept(tasting); ok {
			return t.At, true
		}
		q := Ask{About: "date", Key: "date of " + tasting, Line: w.line, Options: []string{"2025-04-12", "2025-04-12 20:00"},
			Text: "nothing says when " + tasting + " was; --at DATE does too"}
		answer, given := r.ask(q, c, true)
		if !given {
			return time.Time{}, false
		}
		text = answer
	}
	at, err := moment.Parse(text, moment.Clock{Now: r.o.Now})
	if err != nil {
		why, do := faultOf(err)
		r.once(w.line, r.columns[0], text, why, do)
	}
	return at.At, err == nil
}

// spellings chooses for each taster of a column one way to write the name: that of
// the notebook, else the most frequent one of the sheet.
func (r *reader) spellings(c *column) map[string]string {
	counts := map[string]map[string]int{}
	for _, w := range r.rows {
		if name := strings.Join(strings.Fields(strings.TrimPrefix(r.cleaned(w, c), "'")), " "); !isEmpty(name) {
			if counts[fold(name)] == nil {
				counts[fold(name)] = map[string]int{}
			}
			counts[fold(name)][name]++
		}
	}
	chosen := map[string]string{}
	for key, ways := range counts {
		for way, n := range ways {
			best, ok := chosen[key]
			// capitals before small letters where both are as frequent: they are sorted first
			if !ok || n > ways[best] || n == ways[best] && way < best {
				chosen[key] = way
			}
		}
	}
	for _, t := range r.n.Tasters {
		if _, ok := chosen[fold(t.Name)]; ok {
			chosen[fold(t.Name)] = t.Name
		}
	}
	return chosen
}

// personNamed is the name of a taster that stands in a title.
func (r *reader) personNamed(title string) string {
	for _, t := range r.n.Tasters {
		if fold(t.Name) == fold(title) {
			return t.Name
		}
	}
	return title
}

// dropCopies reads a score that is there twice once, and refuses two that differ.
func (r *reader) dropCopies() {
	type place struct{ tasting, taster, batch, code, attribute, note string }
	first := map[place]int{}
	var kept []Score
	for _, s := range r.sheet.Scores {
		at := place{s.Tasting, fold(s.Taster), s.batchID, s.Code, s.Attribute, s.Note}
		i, twice := first[at]
		if !twice {
			first[at] = len(kept)
			kept = append(kept, s)
			continue
		}
		before := kept[i]
		if !sameNumber(before.Intensity, s.Intensity) || !sameNumber(before.Liking, s.Liking) ||
			!sameVote(before.Vote, s.Vote) {
			r.sheet.Faults = append(r.sheet.Faults, Fault{Line: s.Line, Column: s.Column,
				Why: fmt.Sprintf("%s scores %s of %s here and otherwise in line %d", s.Taster, wordFor(s.Attribute), s.Sample,
					before.Line),
				Do: "leave one of them out; a second glass of one beer needs its code"})
			continue
		}
		r.remark("copied", s.Line, nil, "scores that stand there twice are read once")
	}
	r.sheet.Scores = kept
}

// wordFor is how an attribute is called in messages.
func wordFor(attribute string) string {
	if attribute == trials.Overall {
		return "liking"
	}
	return attribute
}

// sameNumber reports whether two numbers are equal, unknown ones too.
func sameNumber(a, b *float64) bool { return a == b || a != nil && b != nil && *a == *b }

// sameVote reports whether two votes are equal, unknown ones too.
func sameVote(a, b *int) bool { return a == b || a != nil && b != nil && *a == *b }

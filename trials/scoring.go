package trials

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// Marks are what one taster said of one serving, as entered.
type Marks struct {
	Taster  string   // name of the taster
	Serving string   // code, or the batch's name once nothing is sealed
	Answers []Answer // one for each attribute
	Note    string   // free text
	// Position is the place of the glass among those the taster drank, from 1;
	// nil takes it from the taster's order, if there is one.
	Position *int
	Where    string // line of a table, for messages
}

// Answer is one attribute of Marks.
type Answer struct {
	Attribute string   // what was scored, in the words of the tasting
	Intensity *float64 // 0 to 10
	Vote      *int     // -1 too little, 0 just right, 1 too much
	Liking    *float64 // 1 to 9
}

// ParseAnswer reads "tartness=6", "tartness=6/right", "tartness=/much" or
// "liking=7".
func ParseAnswer(text string) (Answer, error) {
	attribute, value, ok := strings.Cut(text, "=")
	attribute = strings.TrimSpace(attribute)
	if !ok || attribute == "" || strings.TrimSpace(value) == "" {
		return Answer{}, Refuse("write tartness=6, tartness=6/right or liking=7", "%q is not a score", text)
	}
	if attribute == "liking" || attribute == Overall {
		if unanswered(value) {
			return Answer{Attribute: Overall}, nil
		}
		v, err := parseScore(attribute, value)
		return Answer{Attribute: Overall, Liking: v}, err
	}
	intensity, vote, voted := strings.Cut(value, "/")
	a := Answer{Attribute: attribute}
	if strings.TrimSpace(intensity) != "" && !unanswered(intensity) {
		v, err := parseScore(attribute, intensity)
		if err != nil {
			return a, err
		}
		a.Intensity = v
	}
	if voted && !unanswered(vote) {
		v, err := ParseVote(vote)
		if err != nil {
			return a, err
		}
		a.Vote = &v
	}
	return a, nil
}

// unanswered reports whether a taster said that there is no answer: that is no score,
// and no mistake either.
func unanswered(text string) bool {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "?", "-", "don't know", "dont know", "cannot tell", "can't tell", "no idea":
		return true
	}
	return false
}

// parseScore reads a number, a decimal comma allowed.
func parseScore(attribute, text string) (*float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil {
		return nil, Refuse("write a number such as 6.5, and the vote after a slash: "+attribute+"=6.5/right",
			"%s %q is not a number", attribute, text)
	}
	return &v, nil
}

// ParsePosition reads the place of a glass among those that a taster drank.
func ParsePosition(text string) (*int, error) {
	v, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || v < 1 {
		return nil, Refuse("count the servings from 1", "position %q is not a whole number from 1", text)
	}
	return &v, nil
}

// Entry is what entering marks writes.
type Entry struct {
	NewTasters []Taster     // who scored for the first time
	Scores     []Score      // new, or replacing one with the same ID
	Notes      []TasterNote // free text of tasters
	Replaced   int          // how many scores were there before

	Withdrawn      []Score      // scores that go, since there is no answer any more; see Revise
	WithdrawnNotes []TasterNote // notes that go
}

// Enter works out what a list of marks writes into a tasting. A taster who has
// already scored an attribute of a serving is refused unless replace is true.
// Nothing is returned unless every line is good.
func (n *Notebook) Enter(t Tasting, marks []Marks, replace bool, now time.Time) (Entry, error) {
	d := n.desk(t, replace, now.UTC())
	for _, m := range marks {
		if err := d.enter(m); err != nil {
			// ProblemOf gives nothing but Problems
			p := ProblemOf(err).(*Problem)
			if m.Where != "" {
				p.Message = m.Where + ": " + p.Message
			}
			return Entry{}, p
		}
	}
	d.entry.NewTasters = d.tasters.fresh
	return d.entry, nil
}

// scoreKey names what is scored once: an attribute of a serving, by a taster.
type scoreKey struct{ servingID, tasterID, attribute string }

// key returns what a score is of.
func (s Score) key() scoreKey { return scoreKey{s.ServingID, s.TasterID, s.Attribute} }

// desk is where the marks of one tasting are entered. Whatever a line asks for
// is looked up in a map that is made once: a table of thousands of lines, into a
// notebook of thousands of scores, would take minutes by searching lists.
type desk struct {
	tasting   Tasting
	replace   bool
	now       time.Time
	codes     []string           // of the servings, sorted
	byCode    map[string]Serving // the servings
	byBatch   map[string]Serving // the servings that are no repeats, by the batch's name
	positions map[Place]*int     // by serving and taster, the other fields empty
	kept      map[scoreKey]Score // scores of this tasting in the notebook
	entered   map[scoreKey]bool  // scores of this entry
	tasters   *roll
	entry     Entry
}

// desk makes the maps for entering marks into a tasting.
func (n *Notebook) desk(t Tasting, replace bool, now time.Time) *desk {
	d := &desk{tasting: t, replace: replace, now: now, tasters: n.roll(), byCode: map[string]Serving{},
		byBatch:   map[string]Serving{},
		positions: map[Place]*int{}, kept: map[scoreKey]Score{}, entered: map[scoreKey]bool{}}
	for _, s := range n.ServingsOf(t.ID) {
		d.codes = append(d.codes, s.Code)
		d.byCode[s.Code] = s
		b, known := n.BatchByID(s.BatchID)
		// two glasses of one batch: its name means the first, the repeat goes by its code
		if _, taken := d.byBatch[b.Name]; known && !taken && !s.Repeat {
			d.byBatch[b.Name] = s
		}
	}
	for _, p := range n.Places {
		d.positions[Place{ServingID: p.ServingID, TasterID: p.TasterID}] = &p.Position
	}
	for _, s := range n.Scores {
		if s.TastingID == t.ID {
			d.kept[s.key()] = s
		}
	}
	return d
}

// enter adds the marks of one line.
func (d *desk) enter(m Marks) error {
	serving, err := d.serving(m.Serving)
	if err != nil {
		return err
	}
	taster, err := d.tasters.named(m.Taster)
	if err != nil {
		return err
	}
	if len(m.Answers) == 0 && m.Note == "" {
		return Refuse("write tartness=6/right or liking=7", "nothing was scored")
	}
	position := d.positions[Place{ServingID: serving.ID, TasterID: taster.ID}]
	if m.Position != nil {
		position = m.Position
		if *position > len(d.codes) {
			return Refuse("count the servings from 1", "position %d is past the %d servings of tasting %s", *position,
				len(d.codes), d.tasting.Name)
		}
	}
	if d.tasting.CupsUnread() && position == nil {
		// a cup is drunk where it stands
		place, _ := strconv.Atoi(serving.Code)
		position = &place
	}
	for _, a := range m.Answers {
		if a.Intensity == nil && a.Vote == nil && a.Liking == nil {
			continue // "don't know" is kept by keeping nothing
		}
		s := Score{TastingID: d.tasting.ID, ServingID: serving.ID, TasterID: taster.ID, Attribute: a.Attribute,
			Intensity: a.Intensity, Vote: a.Vote, Liking: a.Liking, Position: position, At: d.now}
		if err := d.score(s, taster, serving); err != nil {
			return err
		}
	}
	if m.Note != "" {
		d.entry.Notes = append(d.entry.Notes, TasterNote{TastingID: d.tasting.ID, ServingID: serving.ID,
			TasterID: taster.ID, At: d.now, Text: m.Note})
	}
	return nil
}

// score adds one score, or puts it in the place of the one already kept.
func (d *desk) score(s Score, taster Taster, serving Serving) error {
	if err := s.Validate(d.tasting); err != nil {
		return err
	}
	if old, ok := d.kept[s.key()]; ok {
		if !d.replace {
			return Refuse("repeat with --replace to put the new score in its place", "%s has already scored %s of %s",
				taster.Name, wordFor(s.Attribute), serving.Code)
		}
		s.ID = old.ID
		// A late correction knows the score, seldom the order of the glasses.
		if s.Position == nil {
			s.Position = old.Position
		}
		d.entry.Replaced++
	}
	// twice in one entry is a slip, also where kept scores may be replaced
	if d.entered[s.key()] {
		return Refuse("leave one of them out", "%s scores %s of %s twice", taster.Name, wordFor(s.Attribute), serving.Code)
	}
	d.entered[s.key()] = true
	d.entry.Scores = append(d.entry.Scores, s)
	return nil
}

// serving finds a serving by its code, or, once nothing is sealed, by the name
// of its batch.
func (d *desk) serving(name string) (Serving, error) {
	if s, ok := d.byCode[name]; ok {
		return s, nil
	}
	s, ok := d.byBatch[name]
	if !ok {
		return Serving{}, &Problem{Code: NotFound,
			Message: "no serving " + quote(name) + " in tasting " + d.tasting.Name,
			Hint:    "its servings are " + strings.Join(d.codes, ", ")}
	}
	// last, so that a mistyped code gets the list of codes. A name would tell which glass is which, and so
	// would an answer to it.
	if d.tasting.Sealed() {
		return Serving{}, Refuse("write the three digits on the glass",
			"tasting %s is blind; servings go by their codes", d.tasting.Name)
	}
	return s, nil
}

// wordFor is how an attribute is called in messages.
func wordFor(attribute string) string {
	if attribute == Overall {
		return "liking"
	}
	return attribute
}

// CheckClose refuses to close a tasting that is not blind, is closed already,
// or was not scored.
func (n *Notebook) CheckClose(t Tasting, unused ...string) error {
	switch {
	case !t.Blind:
		return Refuse("hedgerow tasting show "+t.Name, "tasting %s was not blind, there is nothing to open", t.Name)
	case t.ClosedAt != nil:
		return Refuse("hedgerow tasting show "+t.Name, "tasting %s is already closed", t.Name)
	case t.CupsUnread():
		return Refuse("read the codes under the cups: hedgerow tasting places "+t.Name+" 1=.. 2=..",
			"which beer stood where in tasting %s is not known yet", t.Name)
	}
	if _, drops := n.ToTasteOf(t.ID); drops {
		return n.checkDropsClose(t, unused)
	}
	if !slices.ContainsFunc(n.Scores, func(s Score) bool { return s.TastingID == t.ID }) {
		return Refuse("hedgerow tasting score "+t.Name+" --taster A --serving CODE ...", "nobody has scored tasting %s",
			t.Name)
	}
	return nil
}

// Took puts what an entry wrote into the notebook, so that the next entry sees
// it without reading everything again.
func (n *Notebook) Took(e Entry) {
	n.Tasters = append(n.Tasters, e.NewTasters...)
	n.Scores = slices.DeleteFunc(n.Scores, func(s Score) bool {
		return slices.ContainsFunc(e.Withdrawn, func(x Score) bool { return x.ID == s.ID })
	})
	n.TasterNotes = slices.DeleteFunc(n.TasterNotes, func(s TasterNote) bool {
		return slices.ContainsFunc(e.WithdrawnNotes, func(x TasterNote) bool { return x.ID == s.ID })
	})
	// one map for all: a search for each score grows with the square of the scores
	place := make(map[string]int, len(n.Scores))
	for i, s := range n.Scores {
		place[s.ID] = i
	}
	for _, s := range e.Scores {
		if i, kept := place[s.ID]; kept {
			n.Scores[i] = s
		} else {
			n.Scores = append(n.Scores, s)
		}
	}
	for _, x := range e.Notes {
		n.TasterNotes = Replaced(n.TasterNotes, x, func(x TasterNote) string { return x.ID })
	}
}

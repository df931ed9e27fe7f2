package trials

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// Marks are what one taster said of one serving, as entered.
type Marks struct {
	Taster  string
	Serving string // code, or the batch's name once nothing is sealed
	Answers []Answer
	Note    string
	// Position is the place of the glass among those the taster drank, from 1;
	// nil takes it from the taster's order, if there is one.
	Position *int
	Where    string // line of a table, for messages
}

// Answer is one attribute of Marks.
type Answer struct {
	Attribute string
	Intensity *float64
	Vote      *int
	Liking    *float64
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
		v, err := parseScore(attribute, value)
		return Answer{Attribute: Overall, Liking: v}, err
	}
	intensity, vote, voted := strings.Cut(value, "/")
	a := Answer{Attribute: attribute}
	if strings.TrimSpace(intensity) != "" {
		v, err := parseScore(attribute, intensity)
		if err != nil {
			return a, err
		}
		a.Intensity = v
	}
	if voted {
		v, err := ParseVote(vote)
		if err != nil {
			return a, err
		}
		a.Vote = &v
	}
	return a, nil
}

// parseScore reads a number, a decimal comma allowed.
func parseScore(attribute, text string) (*float64, error) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil {
		return nil, Refuse("write a number such as 6.5, and the vote after a slash: "+attribute+"=6.5/right", "%s %q is not a number", attribute, text)
	}
	return &v, nil
}

// ParsePosition reads the place of a glass among those that a taster drank.
func ParsePosition(text string) (*int, error) {
	v, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || v < 1 {
		return nil, Refuse("count the glasses from 1", "position %q is not a whole number from 1", text)
	}
	return &v, nil
}

// Entry is what entering marks writes.
type Entry struct {
	NewTasters []Taster
	Scores     []Score // new, or replacing one with the same ID
	Notes      []TasterNote
	Replaced   int
}

// Enter works out what a list of marks writes into a tasting. A taster who has
// already scored an attribute of a serving is refused unless replace is true.
// Nothing is returned unless every line is good.
func (n *Notebook) Enter(t Tasting, marks []Marks, replace bool, now time.Time) (Entry, error) {
	var e Entry
	servings := n.ServingsOf(t.ID)
	for _, m := range marks {
		if err := n.enterOne(&e, t, servings, m, replace, now); err != nil {
			p := ProblemOf(err).(*Problem)
			if m.Where != "" {
				p.Message = m.Where + ": " + p.Message
			}
			return Entry{}, p
		}
	}
	return e, nil
}

// enterOne adds the marks of one line.
func (n *Notebook) enterOne(e *Entry, t Tasting, servings []Serving, m Marks, replace bool, now time.Time) error {
	serving, err := n.servingNamed(t, servings, m.Serving)
	if err != nil {
		return err
	}
	taster, err := n.tasterFor(e, m.Taster)
	if err != nil {
		return err
	}
	if len(m.Answers) == 0 && m.Note == "" {
		return Refuse("write tartness=6/right or liking=7", "nothing was scored")
	}
	position := n.positionOf(serving.ID, taster.ID)
	if m.Position != nil {
		position = m.Position
		if *position > len(servings) {
			return Refuse("count the glasses from 1", "position %d is past the %d glasses of tasting %s", *position, len(servings), t.Name)
		}
	}
	for _, a := range m.Answers {
		s := Score{TastingID: t.ID, ServingID: serving.ID, TasterID: taster.ID, Attribute: a.Attribute,
			Intensity: a.Intensity, Vote: a.Vote, Liking: a.Liking, Position: position, At: now.UTC()}
		if err := s.Validate(t); err != nil {
			return err
		}
		if old, ok := n.scoreOf(s); ok {
			if !replace {
				return Refuse("repeat with --replace to put the new score in its place", "%s has already scored %s of %s", taster.Name, wordFor(a.Attribute), serving.Code)
			}
			s.ID = old.ID
			if s.Position == nil {
				s.Position = old.Position
			}
			e.Replaced++
		}
		if e.has(s) {
			return Refuse("leave one of them out", "%s scores %s of %s twice", taster.Name, wordFor(a.Attribute), serving.Code)
		}
		e.Scores = append(e.Scores, s)
	}
	if m.Note != "" {
		e.Notes = append(e.Notes, TasterNote{TastingID: t.ID, ServingID: serving.ID, TasterID: taster.ID, At: now.UTC(), Text: m.Note})
	}
	return nil
}

// wordFor is how an attribute is called in messages.
func wordFor(attribute string) string {
	if attribute == Overall {
		return "liking"
	}
	return attribute
}

// has reports whether the entry already holds that cell.
func (e *Entry) has(s Score) bool {
	return slices.ContainsFunc(e.Scores, func(o Score) bool {
		return o.ServingID == s.ServingID && o.TasterID == s.TasterID && o.Attribute == s.Attribute
	})
}

// scoreOf finds the score already kept for that cell.
func (n *Notebook) scoreOf(s Score) (Score, bool) {
	for _, o := range n.Scores {
		if o.ServingID == s.ServingID && o.TasterID == s.TasterID && o.Attribute == s.Attribute {
			return o, true
		}
	}
	return Score{}, false
}

// servingNamed finds a serving by its code, or, once nothing is sealed, by the
// name of its batch.
func (n *Notebook) servingNamed(t Tasting, servings []Serving, name string) (Serving, error) {
	var codes []string
	for _, s := range servings {
		if s.Code == name {
			return s, nil
		}
		codes = append(codes, s.Code)
		if b, _ := n.BatchByID(s.BatchID); b.Name == name && !s.Repeat {
			if t.Sealed() {
				return Serving{}, Refuse("write the three digits on the glass", "tasting %s is blind; servings go by their codes", t.Name)
			}
			return s, nil
		}
	}
	return Serving{}, &Problem{Code: NotFound, Message: "no serving " + quote(name) + " in tasting " + t.Name, Hint: "its servings are " + strings.Join(codes, ", ")}
}

// tasterFor finds a taster by name, or adds one.
func (n *Notebook) tasterFor(e *Entry, name string) (Taster, error) {
	name, err := TasterName(name)
	if err != nil {
		return Taster{}, err
	}
	for _, t := range append(slices.Clone(n.Tasters), e.NewTasters...) {
		if strings.EqualFold(t.Name, name) {
			return t, nil
		}
	}
	t := Taster{Record: Record{ID: NewID(), Name: name}}
	e.NewTasters = append(e.NewTasters, t)
	return t, nil
}

// CheckClose refuses to close a tasting that is not blind, is closed already,
// or was not scored.
func (n *Notebook) CheckClose(t Tasting) error {
	switch {
	case !t.Blind:
		return Refuse("hedgerow tasting show "+t.Name, "tasting %s was not blind, there is nothing to open", t.Name)
	case t.ClosedAt != nil:
		return Refuse("hedgerow tasting show "+t.Name, "tasting %s is already closed", t.Name)
	}
	if !slices.ContainsFunc(n.Scores, func(s Score) bool { return s.TastingID == t.ID }) {
		return Refuse("hedgerow tasting score "+t.Name+" --taster A --serving CODE ...", "nobody has scored tasting %s", t.Name)
	}
	return nil
}

// Took puts what an entry wrote into the notebook, so that the next entry sees
// it without reading everything again.
func (n *Notebook) Took(e Entry) {
	n.Tasters = append(n.Tasters, e.NewTasters...)
	for _, s := range e.Scores {
		i := slices.IndexFunc(n.Scores, func(o Score) bool { return o.ID == s.ID })
		if i < 0 {
			n.Scores = append(n.Scores, s)
		} else {
			n.Scores[i] = s
		}
	}
	n.TasterNotes = append(n.TasterNotes, e.Notes...)
}

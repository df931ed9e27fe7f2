package trials

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
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

// ParseScoreTable reads a table of scores as CSV: a header line with serving
// (or code) and taster, then for each attribute a column of its name with the
// intensity, and one of its name followed by "vote" with the vote; liking and
// note as further columns. Commas, semicolons and tabs separate; with
// semicolons or tabs a decimal comma is allowed. Empty cells are not scored.
func ParseScoreTable(r io.Reader, t Tasting) ([]Marks, error) {
	text, err := io.ReadAll(io.LimitReader(r, 4<<20))
	if err != nil {
		return nil, fmt.Errorf("read the scores: %w", err)
	}
	body := strings.TrimPrefix(string(text), "\ufeff")
	c := csv.NewReader(strings.NewReader(body))
	c.Comma = separatorOf(body)
	c.Comment = '#'
	c.TrimLeadingSpace = true
	c.FieldsPerRecord = -1
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, Refuse("paste a header line (serving,taster,tartness,tartness vote,liking) and one line for each glass", "the table is empty")
	}
	if err != nil {
		return nil, Refuse("check the quotes of the header", "the header cannot be read: %v", err)
	}
	columns, err := scoreColumns(head, t)
	if err != nil {
		return nil, err
	}
	return readScoreRows(c, columns)
}

// separatorOf guesses the separator from the first line.
func separatorOf(body string) rune {
	for line := range strings.Lines(body) {
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		for _, sep := range []rune{'\t', ';'} {
			if strings.ContainsRune(line, sep) {
				return sep
			}
		}
		break
	}
	return ','
}

// scoreColumn is what one column of a score table holds.
type scoreColumn struct {
	role      string // serving, taster, intensity, vote, liking, note or skip
	attribute string
}

// scoreColumns reads the header.
func scoreColumns(head []string, t Tasting) ([]scoreColumn, error) {
	columns := make([]scoreColumn, len(head))
	for i, h := range head {
		c, err := scoreColumnOf(strings.ToLower(strings.TrimSpace(h)), t)
		if err != nil {
			return nil, err
		}
		columns[i] = c
	}
	for _, role := range []string{"serving", "taster"} {
		if !slices.ContainsFunc(columns, func(c scoreColumn) bool { return c.role == role }) {
			return nil, Refuse("add it to the header: serving,taster,...", "the table has no column %q", role)
		}
	}
	return columns, nil
}

// scoreColumnOf reads one title.
func scoreColumnOf(title string, t Tasting) (scoreColumn, error) {
	switch title {
	case "serving", "code", "glass":
		return scoreColumn{role: "serving"}, nil
	case "taster", "who":
		return scoreColumn{role: "taster"}, nil
	case "liking", Overall:
		return scoreColumn{role: "liking"}, nil
	case "note", "notes":
		return scoreColumn{role: "note"}, nil
	case "position", "place":
		return scoreColumn{role: "position"}, nil
	case "tasting", "date":
		return scoreColumn{role: "skip"}, nil
	}
	role, attribute := "intensity", title
	for _, sep := range []string{" vote", "_vote", "-vote"} {
		if a, ok := strings.CutSuffix(title, sep); ok {
			role, attribute = "vote", a
		}
	}
	for _, a := range t.Attributes {
		if strings.EqualFold(a, attribute) {
			return scoreColumn{role: role, attribute: a}, nil
		}
	}
	return scoreColumn{}, Refuse(DidYouMean(attribute, t.Attributes), "column %q: tasting %s does not score %q", title, t.Name, attribute)
}

// readScoreRows reads the lines below the header.
func readScoreRows(c *csv.Reader, columns []scoreColumn) ([]Marks, error) {
	var list []Marks
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, Refuse("check quotes and separators", "the table cannot be read: %v", err)
		}
		line, _ := c.FieldPos(0)
		where := fmt.Sprintf("line %d", line)
		if len(row) != len(columns) {
			return nil, Refuse("give every line the columns of the header", "%s has %d columns, the header %d", where, len(row), len(columns))
		}
		m, err := marksOf(row, columns)
		if err != nil {
			p := ProblemOf(err).(*Problem)
			return nil, &Problem{Code: p.Code, Message: where + ": " + p.Message, Hint: p.Hint}
		}
		m.Where = where
		list = append(list, m)
	}
	if len(list) == 0 {
		return nil, Refuse("add one line for each glass of each taster", "the table has a header but no scores")
	}
	return list, nil
}

// marksOf reads one line.
func marksOf(row []string, columns []scoreColumn) (Marks, error) {
	var m Marks
	answers := map[string]*Answer{}
	answer := func(attribute string) *Answer {
		if answers[attribute] == nil {
			m.Answers = append(m.Answers, Answer{Attribute: attribute})
			answers[attribute] = &Answer{Attribute: attribute}
		}
		return answers[attribute]
	}
	for i, cell := range row {
		cell = strings.TrimPrefix(strings.TrimSpace(cell), "'")
		var err error
		switch c := columns[i]; {
		case cell == "" || cell == "-":
		case c.role == "serving":
			m.Serving = cell
		case c.role == "taster":
			m.Taster = cell
		case c.role == "note":
			m.Note = cell
		case c.role == "position":
			m.Position, err = ParsePosition(cell)
		case c.role == "liking":
			answer(Overall).Liking, err = parseScore("liking", cell)
		case c.role == "intensity":
			answer(c.attribute).Intensity, err = parseScore(c.attribute, cell)
		case c.role == "vote":
			var v int
			if v, err = ParseVote(cell); err == nil {
				answer(c.attribute).Vote = &v
			}
		}
		if err != nil {
			return m, err
		}
	}
	for i := range m.Answers {
		m.Answers[i] = *answers[m.Answers[i].Attribute]
	}
	return m, nil
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

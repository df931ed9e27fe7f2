package sheets

import (
	"slices"
	"strings"

	"hedgerow/trials"
)

// namesAbove reads a sheet with two header rows: tasters or beers in the upper one,
// what they were asked in the lower.
func (r *reader) namesAbove() {
	tasters, known := r.tastersAbove()
	if !known {
		return
	}
	groups, names := r.groups()
	for i, columns := range groups {
		aspects := r.aspects(columns)
		within := func(wanted role) *column {
			at := slices.IndexFunc(columns, func(c *column) bool { return c.role == wanted })
			if at < 0 {
				return nil
			}
			return columns[at]
		}
		liking, note := within(roleLiking), within(roleNote)
		if liking != nil {
			r.settleScale(liking)
		}
		if tasters {
			r.columnsOfTaster(names[i], aspects, liking, note)
		} else {
			r.columnsOfBeer(columns[0], names[i], aspects, liking, note)
		}
	}
	slices.SortStableFunc(r.sheet.Scores, func(a, b Score) int { return a.Line - b.Line })
}

// groups returns the columns under each name of the upper header row.
func (r *reader) groups() (groups [][]*column, names []string) {
	for _, c := range r.columns {
		if c.upper == "" {
			continue
		}
		if len(names) == 0 || names[len(names)-1] != c.upper {
			names, groups = append(names, c.upper), append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], c)
	}
	return groups, names
}

// tastersAbove reports whether the names above are tasters: the first column then
// has the beers. Else the notebook tells, else a person.
func (r *reader) tastersAbove() (tasters, known bool) {
	switch first := r.columns[0]; {
	case first.role == roleBatch || first.role == roleCode:
		return true, true
	case first.role == roleTaster:
		return false, true
	}
	_, names := r.groups()
	beers := 0
	for _, name := range names {
		if len(r.beers.byName[fold(name)]) > 0 {
			beers++
		}
	}
	switch {
	case beers == len(names):
		r.columns[0].role = roleTaster
		return false, true
	case beers == 0 && len(r.rows) > 0 && len(r.beers.byName[fold(r.rows[0].cell(0))]) > 0:
		r.columns[0].role = roleBatch
		return true, true
	}
	q := Ask{About: "names_above", Key: "names above", Line: r.headerLine, Options: []string{"tasters", "beers"},
		Text: "the upper row of titles may name tasters or beers"}
	answer, given := r.ask(q, nil, false)
	r.columns[0].role = roleTaster
	if answer == "tasters" {
		r.columns[0].role = roleBatch
	}
	return answer == "tasters", given
}

// columnsOfTaster reads the columns below the name of a taster.
func (r *reader) columnsOfTaster(name string, aspects []aspect, liking, note *column) {
	for _, w := range r.rows {
		if g, ok := r.glassOf(w); ok {
			g.taster = r.personNamed(name)
			r.answersOf(g, aspects, liking, note)
		}
	}
}

// columnsOfBeer reads the columns below the name of a beer.
func (r *reader) columnsOfBeer(c *column, name string, aspects []aspect, liking, note *column) {
	b, ok := r.beerNamed(r.headerLine, c, name)
	if !ok {
		return
	}
	taster := r.with(roleTaster)
	spelled := r.spellings(taster)
	for _, w := range r.rows {
		g := glass{row: w, batch: b}
		person := r.word(w, taster)
		if g.tasting, ok = r.tastingOf(w); !ok || person == "" {
			continue
		}
		g.taster = spelled[fold(person)]
		if g.at, ok = r.dateOf(w, g.tasting); ok {
			r.answersOf(g, aspects, liking, note)
		}
	}
}

// tastersAcross reads rows of one attribute of one beer, with a column for each
// taster.
func (r *reader) tastersAcross() {
	attribute := r.with(roleAttribute)
	var tasters []*column
	for _, c := range r.rest() {
		if r.holdsNumber(c) {
			c.role, c.upper = roleValue, c.title
			tasters = append(tasters, c)
		} else {
			r.unread(c)
		}
	}
	if note := r.with(roleNote); note != nil {
		r.remark("unknown_column", r.headerLine, note, "%s names no taster and is not read", note.title)
	}
	if len(tasters) == 0 {
		r.fault(r.headerLine, nil, "", "no column holds the scores of a taster", "give each taster a column")
	}
	for _, w := range r.rows {
		name := r.word(w, attribute)
		if name == "" {
			r.fault(w.line, attribute, "", "what was scored is missing", "write the attribute, or liking")
			continue
		}
		g, ok := r.glassOf(w)
		if !ok {
			continue
		}
		for _, c := range tasters {
			g.taster = r.personNamed(c.title)
			r.answer(g, c, name)
		}
	}
}

// holdsNumber reports whether a cell of a column is a number.
func (r *reader) holdsNumber(c *column) bool {
	return slices.ContainsFunc(r.rows, func(w row) bool {
		_, ok := splitFigures(strings.TrimPrefix(strings.TrimSpace(w.cell(c.index)), "'"))
		return ok
	})
}

// answer keeps one cell whose attribute stands beside it: a mark, a vote ("floral
// vote") or the liking.
func (r *reader) answer(g glass, c *column, attribute string) {
	about := readTitle(c.index, attribute)
	about.title, about.scale = c.title, c.scale
	if about.role != roleLiking && about.role != roleVote {
		about.role = roleMark
		about.attribute = strings.ToLower(attribute)
	}
	s := r.scoreOf(g, c, r.attributeNamed(&about))
	switch about.role {
	case roleLiking:
		s.Attribute = trials.Overall
		s.Liking = r.scored(g.row, &about)
	case roleVote:
		s.Vote = r.vote(g.row, c)
	default:
		s.Intensity = r.scored(g.row, &about)
	}
	if s.Intensity == nil && s.Vote == nil && s.Liking == nil {
		return
	}
	r.joined(s)
}

// joined adds a score, or puts its answer into the score of the same glass that is
// there already: "floral" and "floral vote" may stand in two rows.
func (r *reader) joined(s Score) {
	for i := len(r.sheet.Scores) - 1; i >= 0 && i >= len(r.sheet.Scores)-200; i-- {
		o := &r.sheet.Scores[i]
		same := o.Tasting == s.Tasting && o.Taster == s.Taster && o.batchID == s.batchID && o.Code == s.Code &&
			o.Attribute == s.Attribute && o.Note == ""
		switch {
		case !same:
			continue
		case s.Vote != nil && o.Vote == nil:
			o.Vote = s.Vote
			return
		case s.Intensity != nil && o.Intensity == nil && o.Vote != nil:
			o.Intensity = s.Intensity
			return
		}
	}
	r.sheet.Scores = append(r.sheet.Scores, s)
}

// oneAnswerARow reads rows of one attribute of one glass of one taster.
func (r *reader) oneAnswerARow() {
	attribute, taster := r.with(roleAttribute), r.with(roleTaster)
	value, vote, liking, note := r.with(roleValue), r.with(roleVote), r.with(roleLiking), r.with(roleNote)
	if value == nil {
		for _, c := range r.rest() {
			if r.holdsNumber(c) {
				value = c
				break
			}
		}
	}
	for _, c := range r.rest() {
		if c != value {
			r.unread(c)
		}
	}
	spelled := r.spellings(taster)
	for _, w := range r.rows {
		name, person := r.word(w, attribute), r.word(w, taster)
		g, ok := r.glassOf(w)
		if !ok {
			continue
		}
		if person == "" {
			r.fault(w.line, taster, "", "the taster is missing", "write who scored, such as Taster A")
			continue
		}
		g.taster = spelled[fold(person)]
		if name != "" && value != nil {
			r.answer(g, value, name)
		}
		about := aspect{attribute: strings.ToLower(name), vote: vote}
		if name == "" || vote == nil || roleOf(name) == roleLiking {
			r.answersOf(g, nil, liking, note)
			continue
		}
		if s := r.scoreOf(g, vote, about.attribute); true {
			if s.Vote = r.vote(w, vote); s.Vote != nil {
				r.joined(s)
			}
		}
		r.answersOf(g, nil, liking, note)
	}
}

// beersAcross reads rows of tasters with a column for each beer: what was scored is
// asked for, as nothing says it.
func (r *reader) beersAcross() {
	var beers []*column
	for _, c := range r.rest() {
		if len(r.beers.byName[fold(c.title)]) == 1 {
			c.role, c.upper = roleValue, c.title
			beers = append(beers, c)
		} else {
			r.unread(c)
		}
	}
	if len(beers) == 0 {
		r.fault(r.headerLine, nil, "", "no column names the beer",
			"add a column Beer, or give each beer a column of its name")
		return
	}
	q := Ask{About: "attribute", Key: "attribute", Line: r.headerLine, Options: []string{"liking", "an attribute"},
		Text: "nothing says what was scored"}
	attribute, given := r.ask(q, nil, true)
	if !given {
		return
	}
	taster := r.with(roleTaster)
	spelled := r.spellings(taster)
	for _, w := range r.rows {
		g := glass{row: w}
		person, ok := r.word(w, taster), false
		if g.tasting, ok = r.tastingOf(w); !ok || person == "" {
			continue
		}
		if g.at, ok = r.dateOf(w, g.tasting); !ok {
			continue
		}
		g.taster = spelled[fold(person)]
		for _, c := range beers {
			g.batch, _ = r.n.Batch(r.beers.byName[fold(c.title)][0])
			r.answer(g, c, attribute)
		}
	}
}

// askColumns asks what the columns are of a sheet that names neither tasters nor
// attributes.
func (r *reader) askColumns() {
	if !r.has(roleBatch) && !r.has(roleCode) {
		r.fault(r.headerLine, nil, "", "no column names the beer", "add a column Beer")
		return
	}
	q := Ask{About: "columns", Key: "columns", Line: r.headerLine,
		Options: []string{"tasters: each column is a taster, and what was scored is asked next",
			"attributes: each column is an attribute, and who scored is asked next"},
		Text: "the titles may be tasters or attributes"}
	answer, given := r.ask(q, nil, false)
	if !given {
		return
	}
	if answer == "tasters" {
		r.tastersOfOne()
		return
	}
	q = Ask{About: "taster", Key: "taster", Line: r.headerLine, Options: []string{"Taster A"},
		Text: "nothing says who scored"}
	name, given := r.ask(q, nil, true)
	if !given {
		return
	}
	aspects, liking, note := r.aspects(r.columns), r.with(roleLiking), r.with(roleNote)
	if liking != nil {
		r.settleScale(liking)
	}
	r.columnsOfTaster(name, aspects, liking, note)
}

// tastersOfOne reads columns of tasters that all scored one thing.
func (r *reader) tastersOfOne() {
	q := Ask{About: "attribute", Key: "attribute", Line: r.headerLine, Options: []string{"liking", "an attribute"},
		Text: "nothing says what was scored"}
	attribute, given := r.ask(q, nil, true)
	if !given {
		return
	}
	for _, w := range r.rows {
		g, ok := r.glassOf(w)
		if !ok {
			continue
		}
		for _, c := range r.rest() {
			if r.holdsNumber(c) {
				g.taster = r.personNamed(c.title)
				r.answer(g, c, attribute)
			}
		}
	}
}

package sheets

import (
	"slices"
	"strings"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// Options are what is told beside a file.
type Options struct {
	Kind      string                      // what the rows are; empty to tell from the header
	Tasting   string                      // name of the tasting, where no column has it
	At        string                      // when the tasting was, where no column has it
	Blind     bool                        // the tasting was blind
	File      string                      // name of the file, to name a tasting by
	Answers   []string                    // KEY=ANSWER, as Ask.Key names them
	Now       time.Time                   // the present, in the zone of the sheet
	Amounts   quantity.Options            // which gallon is meant
	SGOfPlato func(plato float64) float64 // specific gravity 20/20
}

// reader holds what is known of a sheet while it is read.
type reader struct {
	o     Options
	n     *trials.Notebook
	sheet Sheet

	said    map[string]int    // place of a remark in the sheet
	answers map[string]string // by key in lower case
	order   []string          // keys of the answers as they were given
	asked   map[string]bool   // keys that a question was put for
	wrong   map[string]bool   // keys whose answer was refused
	open    int               // times that something stayed open or at fault without another word

	separator  byte
	headerLine int
	columns    []*column
	rows       []row        // below the header, without blank ones and sums
	afterBlank map[int]bool // lines that follow a blank row
	twoHeaders bool

	marks      map[int]marksSeen    // decimal marks by column
	orders     map[int]*dateOrder   // order of day and month by column
	moments    map[string]time.Time // dates read so far
	beers      *register
	materials  trials.Materials
	counting   map[int]countedVote // what counts shows, by column
	found      map[string]trials.Material
	attributes map[string]string // as they are written, by their folded form
	missing    map[string]bool   // names that were reported
}

// Read reads a file against a notebook. Nothing is written: the sheet says what
// would be.
func Read(data []byte, n *trials.Notebook, o Options) (Sheet, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return Sheet{}, err
	}
	r := &reader{o: o, n: n, materials: materials, said: map[string]int{}, answers: map[string]string{},
		asked: map[string]bool{}, wrong: map[string]bool{}, afterBlank: map[int]bool{}, marks: map[int]marksSeen{},
		orders: map[int]*dateOrder{}, moments: map[string]time.Time{}, found: map[string]trials.Material{},
		attributes: map[string]string{}, counting: map[int]countedVote{},
		missing: map[string]bool{}}
	r.beers = registerOf(n.Batches, func(b trials.Batch) string { return b.Name })
	for _, a := range o.Answers {
		key, value, _ := strings.Cut(a, "=")
		key = strings.ToLower(strings.TrimSpace(key))
		r.answers[key] = value
		r.order = append(r.order, key)
	}
	r.all(data)
	if !r.sheet.Ready() {
		r.sheet.New = newRecords{}
	}
	slices.SortStableFunc(r.sheet.Faults, func(a, b Fault) int { return a.Line - b.Line })
	return r.sheet, nil
}

// all runs the steps of reading until one of them leaves nothing to go on with.
func (r *reader) all(data []byte) {
	d, fault := decode(data)
	if fault != nil {
		r.sheet.Faults = append(r.sheet.Faults, *fault)
		return
	}
	if d.foreign != "" {
		r.remark("encoding", 0, nil, "the file is not UTF-8 and is read as Windows-1252: look whether %q is right", d.foreign)
	}
	l := findLayout(d.text)
	if !r.checkLayout(l) {
		return
	}
	r.separator = l.separator
	r.takeHeader(l)
	r.takeRows(l.rows[l.header+1:])
	if !r.settleKind() || !r.checkRows() {
		return
	}
	r.dropSums()
	r.fillDown()
	switch r.sheet.Kind {
	case KindScores:
		r.scores()
	case KindBatches:
		r.batches()
	case KindAdditions:
		r.additions()
	case KindReadings:
		r.readings()
	case kindClaims:
		r.claims()
	}
	r.unasked()
	r.sheet.Columns = r.meanings()
}

// meanings says what each column was taken for.
func (r *reader) meanings() []Meaning {
	var list []Meaning
	for _, c := range r.columns {
		m := Meaning{Column: c.index + 1, Header: c.title, Means: string(c.role)}
		switch {
		case c.role == roleDerived || c.role == roleRowNumber:
			m.Means = ""
		case c.upper == c.title && c.upper != "": // one column a taster or beer
			m.Means = string(c.role) + " of " + c.title
		case c.role == roleMark || c.attribute != "" && c.role != roleUnknown:
			m.Means = strings.TrimSpace(string(c.role) + " of " + c.attribute)
		}
		if m.Means != "" && c.upper != "" && c.upper != c.title {
			m.Means += ", " + c.upper
		}
		list = append(list, m)
	}
	return list
}

// checkLayout refuses a text without a header, and one with a quote that is never
// closed.
func (r *reader) checkLayout(l layout) bool {
	if l.header < 0 {
		r.fault(1, nil, "", "no row looks like a header",
			"begin with a row of titles such as Beer, Taster, Floral, Liking or Batch, Date, Material, Weight (g)")
		return false
	}
	if l.unclosed > 0 {
		r.fault(l.unclosed, nil, "", "a quote is opened here and never closed", "close it, or take it away")
		return false
	}
	return true
}

// takeHeader reads the titles, a row of names above them, and what stands above
// the table.
func (r *reader) takeHeader(l layout) {
	header := l.rows[l.header]
	r.headerLine = header.line
	last := -1
	for i, title := range header.cells {
		if strings.TrimSpace(title) != "" {
			last = i
		}
	}
	for i := range last + 1 {
		c := readTitle(i, header.cells[i])
		r.columns = append(r.columns, &c)
	}
	above := l.rows[:l.header]
	if r.takeUpper(above) {
		above = above[:len(above)-1]
	}
	for _, w := range above {
		if !w.blank() {
			r.remark("preamble", w.line, nil, "passed over above the table: %s", strings.Join(nonEmpty(w.cells), " "))
		}
	}
}

// takeUpper takes the row right above the titles for a row of names, if the titles
// repeat themselves below it. Each name holds up to the next.
func (r *reader) takeUpper(above []row) bool {
	if len(above) == 0 || above[len(above)-1].blank() || !r.titlesRepeat() {
		return false
	}
	name := ""
	w := above[len(above)-1]
	for i, c := range r.columns {
		if text := tidyTitle(w.cell(i)); text != "" {
			name = text
		}
		// a name above the first column is that of the table
		if i > 0 {
			c.upper = name
		}
	}
	r.twoHeaders = true
	return true
}

// titlesRepeat reports whether a title stands in the header twice.
func (r *reader) titlesRepeat() bool {
	seen := map[string]bool{}
	for _, c := range r.columns {
		key := sortedWords(c.title)
		if key != "" && seen[key] {
			return true
		}
		seen[key] = true
	}
	return false
}

// nonEmpty returns the cells that hold something, cleaned.
func nonEmpty(cells []string) []string {
	var list []string
	for _, c := range cells {
		if c = tidyTitle(c); c != "" {
			list = append(list, c)
		}
	}
	return list
}

// takeRows keeps the rows that hold something, and refuses cells past the header.
func (r *reader) takeRows(rows []row) {
	blank := false
	for _, w := range rows {
		if w.blank() {
			blank = true
			continue
		}
		r.afterBlank[w.line] = blank
		blank = false
		for i := len(r.columns); i < len(w.cells); i++ {
			if text := strings.TrimSpace(w.cells[i]); text != "" {
				r.sheet.Faults = append(r.sheet.Faults, Fault{Line: w.line, Column: i + 1, Value: shorten(tidyTitle(text)),
					Why: "it stands beyond the last title",
					Do:  "put a cell that holds the separator in quotes, or give the column a title"})
				break
			}
		}
		r.rows = append(r.rows, w)
	}
}

// shorten cuts a text that is too long to be repeated in a message.
func shorten(text string) string {
	const most = 60
	if letters := []rune(text); len(letters) > most {
		return string(letters[:most]) + "..."
	}
	return text
}

// checkRows refuses a sheet without rows.
func (r *reader) checkRows() bool {
	if len(r.rows) > 0 {
		return true
	}
	one := strings.TrimSuffix(r.sheet.Kind, "s")
	if r.sheet.Kind == KindBatches {
		one = "batch"
	}
	r.fault(r.headerLine, nil, "", "a header but no rows", "add one line for each "+one)
	return false
}

// with returns the column of a role, nil where there is none.
func (r *reader) with(wanted role) *column {
	for _, c := range r.columns {
		if c.role == wanted {
			return c
		}
	}
	return nil
}

// has reports whether any of the roles has a column.
func (r *reader) has(wanted ...role) bool {
	return slices.ContainsFunc(r.columns, func(c *column) bool { return slices.Contains(wanted, c.role) })
}

// settleKind finds out what the rows are, and gives the columns the meaning that
// they have in this kind.
func (r *reader) settleKind() bool {
	kind := r.o.Kind
	if kind == "" {
		kind = r.kindOfHeader()
	}
	if kind == "" {
		q := Ask{About: "kind", Key: "kind", Line: r.headerLine, Options: Kinds,
			Text: "the titles do not say what the rows are"}
		answer, given := r.ask(q, nil, false)
		if !given {
			return false
		}
		kind = answer
	}
	r.sheet.Kind = kind
	r.settleRoles()
	return true
}

// kindOfHeader tells the kind from the titles, empty where they do not say.
func (r *reader) kindOfHeader() string {
	scored := r.has(roleVote, roleTooLittle, roleTooMuch, roleLiking, roleAttribute)
	switch {
	case r.has(roleAdvice):
		return kindClaims
	case r.has(roleMaterial) && !scored:
		if !r.has(roleBatch) && r.has(roleSource, roleBasis) {
			return kindClaims
		}
		return KindAdditions
	case scored, r.twoHeaders:
		return KindScores
	case r.has(roleSG, rolePH, roleSampleTemp, roleBeerTemp):
		return KindReadings
	case r.has(roleOG, roleFG, roleIBU, roleSRM):
		return KindBatches
	case r.has(roleTaster):
		return KindScores
	case r.has(roleVolume) && r.has(roleStyle):
		return KindBatches
	}
	// a sheet of nothing but names and numbers: whoever fills it in in columns, tastes
	if len(r.columns) > 1 && r.has(roleBatch) && !r.has(roleVolume) {
		return KindScores
	}
	return ""
}

// settleRoles drops the roles that the kind does not have, and says what is not
// read.
func (r *reader) settleRoles() {
	kind := r.sheet.Kind
	seen := map[role]bool{}
	for _, c := range r.columns {
		if other, ok := renamed[kind][c.role]; ok {
			c.role = other
		}
		if c.role == roleDerived || c.role == roleRowNumber {
			continue
		}
		if c.role != roleUnknown && !slices.Contains(rolesOfKind[kind], c.role) {
			c.role, c.attribute = roleUnknown, strings.ToLower(c.title)
		}
		repeats := c.role == roleVote || c.role == roleTooLittle || c.role == roleTooMuch || c.upper != ""
		if c.role != roleUnknown && seen[c.role] && !repeats {
			c.role = roleUnknown
			if kind == KindScores {
				c.attribute = strings.ToLower(c.title)
			}
		}
		seen[c.role] = true
	}
	for _, c := range r.columns {
		if c.role == roleDerived {
			r.remark("derived_column", r.headerLine, c, "%s is worked out, not read", c.title)
		}
		if c.role == roleUnknown && kind != KindScores {
			r.unread(c)
		}
	}
}

// unread says that a column is not read.
func (r *reader) unread(c *column) {
	if c.title == "" {
		for _, w := range r.rows {
			if strings.TrimSpace(w.cell(c.index)) != "" {
				r.remark("unknown_column", w.line, c, "column %d has no title and is not read", c.index+1)
				return
			}
		}
		return
	}
	r.remark("unknown_column", r.headerLine, c, "the column %s is not read", c.title)
}

// sums are the words by which a row of sums is known.
var sums = []string{"total", "totals", "sum", "mean", "average", "avg", "median"}

// dropSums passes over rows of sums and means, and a row that stands apart at the
// end without beer or taster.
func (r *reader) dropSums() {
	var kept []row
	for _, w := range r.rows {
		if c := r.sumIn(w); c != nil {
			r.remark("totals_skipped", w.line, c, "passed over: %s", tidyTitle(w.cell(c.index)))
			continue
		}
		if r.afterBlank[w.line] && r.sheet.Kind == KindScores && r.nameless(w) {
			r.remark("totals_skipped", w.line, nil, "passed over: it stands apart and names no beer and no taster")
			continue
		}
		kept = append(kept, w)
	}
	r.rows = kept
}

// sumIn returns the column of names in which a row calls itself a sum, nil for none.
func (r *reader) sumIn(w row) *column {
	for i, c := range r.columns {
		names := c.role == roleBatch || c.role == roleTaster || c.role == roleMaterial || c.role == roleTasting
		if i != 0 && !names {
			continue
		}
		if slices.Contains(sums, strings.Join(wordsOf(w.cell(c.index)), " ")) {
			return c
		}
	}
	return nil
}

// nameless reports whether a row has neither beer nor taster, though the sheet has
// columns for them.
func (r *reader) nameless(w row) bool {
	named := false
	for _, c := range r.columns {
		if c.role != roleBatch && c.role != roleTaster && c.role != roleCode {
			continue
		}
		named = true
		if !isEmpty(strings.TrimSpace(w.cell(c.index))) {
			return false
		}
	}
	return named
}

// fillDown gives an empty cell the value above it in columns of beers, dates and
// tastings: cells that a person merged. Where a column writes one value on two
// lines running, an empty cell is one that is missing.
func (r *reader) fillDown() {
	for _, c := range r.columns {
		filled := c.role == roleBatch && r.sheet.Kind != KindBatches || c.role == roleDate || c.role == roleTasting
		if filled && !r.writesTwice(c) {
			r.fill(c)
		}
	}
}

// writesTwice reports whether a column has the same value on two rows running.
func (r *reader) writesTwice(c *column) bool {
	before := ""
	for _, w := range r.rows {
		text := strings.TrimSpace(w.cell(c.index))
		if text != "" && text == before {
			return true
		}
		before = text
	}
	return false
}

// fill copies values down a column.
func (r *reader) fill(c *column) {
	above := ""
	for i, w := range r.rows {
		text := strings.TrimSpace(w.cell(c.index))
		switch {
		case text != "":
			above = w.cell(c.index)
		case r.afterBlank[w.line]:
			above = ""
		case above != "":
			r.rows[i].cells = withCell(w.cells, c.index, above)
			r.remark("fill_down", w.line, c, "empty cells of %s take the value above", c.title)
		}
	}
}

// withCell returns a copy of the cells with one of them changed.
func withCell(cells []string, at int, text string) []string {
	out := slices.Clone(cells)
	for len(out) <= at {
		out = append(out, "")
	}
	out[at] = text
	return out
}

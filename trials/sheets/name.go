package sheets

import (
	"fmt"
	"strings"
	"unicode"

	"hedgerow/trials"
	"hedgerow/trials/spelling"
)

// fold brings a name to the form in which names are compared: letter case, spaces,
// hyphens, # and signs that are not seen do not tell two names apart.
func fold(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '-' || r == '_' || r == '#' || r == '\u2010' || r == '\u2011' || steers(r) {
			return -1
		}
		return unicode.ToLower(unicode.ToUpper(r))
	}, name)
}

// unpadded is a folded name without the zeros before its numbers: elder-01 comes
// near elder-1.
func unpadded(folded string) string {
	var b strings.Builder
	inNumber := false
	for i, r := range folded {
		digit := r >= '0' && r <= '9'
		next := i+1 < len(folded) && folded[i+1] >= '0' && folded[i+1] <= '9'
		if r == '0' && !inNumber && next {
			continue
		}
		inNumber = digit
		b.WriteRune(r)
	}
	return b.String()
}

// register finds records by names that are written loosely.
type register struct {
	byName map[string][]string // names as they are kept, by their folded form
	all    []string
}

// registerOf makes a register of the names of a list.
func registerOf[T any](list []T, name func(T) string) *register {
	g := &register{byName: map[string][]string{}}
	for _, x := range list {
		g.add(name(x))
	}
	return g
}

// add puts one more name in.
func (g *register) add(name string) {
	g.byName[fold(name)] = append(g.byName[fold(name)], name)
	g.all = append(g.all, name)
}

// near returns the names that come near one that is not there: those that differ in
// zeros before a number, else misspellings of it. A name that differs in its number
// is that of another beer.
func (g *register) near(name string) []string {
	var list []string
	wanted := unpadded(fold(name))
	for _, kept := range g.all {
		if unpadded(fold(kept)) == wanted {
			list = append(list, kept)
		}
	}
	if len(list) > 0 {
		return list
	}
	for _, kept := range g.all {
		letters, number := parted(wanted)
		keptLetters, keptNumber := parted(unpadded(fold(kept)))
		if number != keptNumber {
			continue
		}
		if _, ok := spelling.Slips(letters, keptLetters); ok && len(letters) > 3 {
			list = append(list, kept)
		}
	}
	return list[:min(len(list), 3)]
}

// parted returns the letters of a name and its figures.
func parted(folded string) (letters, number string) {
	letters = strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return -1
		}
		return r
	}, folded)
	number = strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return r
		}
		return -1
	}, folded)
	return letters, number
}

// beer finds the batch that a cell names. A name that only comes near one is asked
// about; one that is not known is a fault, reported once.
func (r *reader) beer(w row, c *column) (trials.Batch, bool) {
	name := r.word(w, c)
	if name == "" {
		r.missingBeer(w, c)
		return trials.Batch{}, false
	}
	return r.beerNamed(w.line, c, name)
}

// missingBeer reports a row without a beer, unless its cell is at fault already.
func (r *reader) missingBeer(w row, c *column) {
	if text := strings.TrimSpace(w.cell(c.index)); isEmpty(strings.TrimPrefix(text, "'")) {
		r.fault(w.line, c, "", "the beer is missing", "write the name of a batch; `hedgerow batch list` shows them")
	}
}

// beerNamed finds a batch by a name of the sheet.
func (r *reader) beerNamed(line int, c *column, name string) (trials.Batch, bool) {
	kept := r.beers.byName[fold(name)]
	if len(kept) != 1 {
		near := kept
		if len(kept) == 0 {
			near = r.beers.near(name)
		}
		if len(near) == 0 {
			r.once(line, c, name, fmt.Sprintf("there is no batch %q", name),
				"import the list of batches first, or start it with: hedgerow batch new NAME --volume ...")
			return trials.Batch{}, false
		}
		q := Ask{About: "beer", Key: "beer " + name, Line: line, Value: name, Options: append(near, leaveOut),
			Text: fmt.Sprintf("no batch is called %q", name)}
		answer, given := r.ask(q, c, false)
		if given && answer == leaveOut {
			r.leave(line)
		}
		if !given || answer == leaveOut {
			return trials.Batch{}, false
		}
		kept = r.beers.byName[fold(answer)]
	}
	b, err := r.n.Batch(kept[0])
	return b, err == nil
}

// once reports a fault of a name at its first line only.
func (r *reader) once(line int, c *column, name, why, do string) {
	key := fmt.Sprint(c.index, "\x00", fold(name))
	r.open++
	if !r.missing[key] {
		r.missing[key] = true
		r.fault(line, c, shorten(name), why, do)
	}
}

// leave notes a line that an answer left out.
func (r *reader) leave(line int) {
	r.sheet.LeftOut = append(r.sheet.LeftOut, line)
	r.remark("left_out", line, nil, "left out as answered")
}

// material finds the material that a cell names. Several, or a name that only comes
// near one, are asked about.
func (r *reader) material(w row, c *column) (trials.Material, bool) {
	name := r.word(w, c)
	if name == "" {
		if c != nil && isEmpty(strings.TrimSpace(w.cell(c.index))) {
			r.fault(w.line, c, "", "the material is missing", "write what went in, such as elderflower")
		}
		return trials.Material{}, false
	}
	if m, ok := r.found[fold(name)]; ok {
		return m, true
	}
	m, err := r.materials.Find(name)
	if err == nil {
		r.found[fold(name)] = m
		return m, true
	}
	return r.askMaterial(w.line, c, name, err)
}

// askMaterial asks which of the materials is meant that come near a name.
func (r *reader) askMaterial(line int, c *column, name string, refusal error) (trials.Material, bool) {
	var options []string
	for _, m := range r.materials.Lookup(name) {
		options = append(options, m.Key)
	}
	// a plant of the stop list must not be answered with the name of another
	if len(options) == 0 && len(r.materials.StopPlants(name)) == 0 {
		options = r.materials.Suggest(name)
		options = options[:min(3, len(options))]
	}
	if len(options) == 0 {
		why, do := faultOf(refusal)
		r.once(line, c, name, why, do)
		return trials.Material{}, false
	}
	q := Ask{About: "material", Key: "material " + name, Line: line, Value: name, Options: append(options, leaveOut),
		Text: fmt.Sprintf("no material is called %q", name)}
	answer, given := r.ask(q, c, true)
	if given && answer == leaveOut {
		r.leave(line)
	}
	if !given || answer == leaveOut {
		return trials.Material{}, false
	}
	m, err := r.materials.Find(answer)
	if err != nil {
		why, do := faultOf(err)
		r.fault(line, c, answer, why, do)
		return m, false
	}
	r.found[fold(name)] = m
	return m, true
}

// fittingName makes a name fit for a new batch: spaces become hyphens, other signs
// are dropped.
func fittingName(text string) string {
	var b strings.Builder
	hyphen := false
	for _, r := range strings.TrimSpace(text) {
		switch {
		case unicode.IsLetter(r) || unicode.IsNumber(r) || r == '_':
			if hyphen && b.Len() > 0 {
				b.WriteByte('-')
			}
			hyphen = false
			b.WriteRune(r)
		case unicode.IsSpace(r) || r == '-' || r == '\u2010' || r == '\u2011' || r == '\u2013':
			hyphen = true
		}
	}
	return b.String()
}

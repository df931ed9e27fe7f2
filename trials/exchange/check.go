package exchange

import (
	"fmt"
	"reflect"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// checkTheirs puts every record that comes in through the checks of typed input.
func (m *merger) checkTheirs() error {
	t := m.theirs
	tastings := map[string]trials.Tasting{}
	for _, list := range [][]trials.Tasting{m.ours.Tastings, t.Tastings} {
		for _, x := range list {
			tastings[x.ID] = x
		}
	}
	materials, err := m.ours.Catalogue()
	if err != nil {
		return err
	}
	for _, err := range []error{
		checkEach("material", t.Materials, func(r trials.OwnMaterial) (trials.Record, error) {
			if err := r.Validate(); err != nil {
				return r.Record, err
			}
			return r.Record, materials.CheckStopList(r)
		}),
		checkEach("meter", t.Meters, func(r trials.Meter) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("calibration", t.Calibrations, func(r trials.Calibration) (trials.Record, error) {
			return r.Record, r.Validate()
		}),
		checkEach("batch", t.Batches, func(r trials.Batch) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("loss", t.Losses, func(r trials.Loss) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("packaging", t.Packagings, func(r trials.Packaging) (trials.Record, error) {
			return r.Record,
				r.Validate()
		}),
		checkEach("batch note", t.BatchNotes, func(r trials.BatchNote) (trials.Record, error) {
			return r.Record,
				r.Validate()
		}),
		checkEach("extract", t.Extracts, func(r trials.Extract) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("addition", t.Additions, func(r trials.Addition) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("reading", t.Readings, func(r trials.Reading) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("claim", t.Claims, func(r trials.Claim) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("taster", t.Tasters, checkTaster),
		checkEach("tasting", t.Tastings, func(r trials.Tasting) (trials.Record, error) { return r.Record, r.Validate() }),
		checkEach("plan", t.Plans, func(r trials.Plan) (trials.Record, error) { return r.Record, r.Validate() }),
		checkPlain("serving", t.Servings, func(r trials.Serving) (string, error) { return r.ID, checkCode(r) }),
		checkPlain("place", t.Places, func(r trials.Place) (string, error) { return r.ID, checkPlace(r) }),
		checkPlain("score", t.Scores, func(r trials.Score) (string, error) { return r.ID, checkScore(r, tastings) }),
		checkPlain("taster note", t.TasterNotes, func(r trials.TasterNote) (string, error) { return r.ID, nil }),
		checkPlain("dosing to taste", t.ToTastes, func(r trials.ToTaste) (string, error) { return r.ID, r.Validate() }),
		checkPlain("dropper", t.Droppers, func(r trials.Dropper) (string, error) { return r.ID, r.Validate() }),
		checkPlain("glass dosed to taste", t.Dosings, func(r trials.Dosing) (string, error) {
			return r.ID, m.checkDosing(r)
		}),
		checkPlain("suggestion", t.Suggestions, checkSuggestion),
		checkPlain("mark", t.Marks, func(r trials.Mark) (string, error) { return r.ID, nil }),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// checkDosing checks the steps of a glass against those that its evening has.
func (m *merger) checkDosing(d trials.Dosing) error {
	s, known := m.theirs.ToTasteOf(d.TastingID)
	if !known {
		s, known = m.ours.ToTasteOf(d.TastingID)
	}
	if !known {
		return trials.Refuse("ask for the whole notebook, or leave it out",
			"its evening (%s) is in neither notebook", d.TastingID)
	}
	return d.Validate(s)
}

// checkEach checks the records of a kind that have names and times.
func checkEach[T any](kind string, list []T, check func(T) (trials.Record, error)) error {
	ids, taken := map[string]bool{}, map[string]bool{}
	for _, r := range list {
		rec, err := check(r)
		if err == nil {
			err = checkRecord(rec, ids, taken)
		}
		if err == nil {
			err = checkTimes(reflect.ValueOf(r))
		}
		if err != nil {
			return about(fmt.Sprintf("%s %q (%s)", kind, rec.Name, rec.ID), err)
		}
	}
	return nil
}

// checkPlain checks the records of a kind that have an id alone.
func checkPlain[T any](kind string, list []T, check func(T) (string, error)) error {
	ids := map[string]bool{}
	for _, r := range list {
		id, err := check(r)
		if err == nil {
			err = checkID(id, ids)
		}
		if err == nil {
			err = checkTimes(reflect.ValueOf(r))
		}
		if err != nil {
			return about(kind+" "+id, err)
		}
	}
	return nil
}

// The years in which something can have been brewed, as a typed time has them.
const firstYear, lastYear = 1900, 2199

// checkTimes refuses a time of a record, or of a part of it, that could not be typed. One
// that is not set is no time.
func checkTimes(v reflect.Value) error {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			return checkTimes(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			if err := checkTimes(v.Index(i)); err != nil {
				return err
			}
		}
	case reflect.Struct:
		return checkFields(v)
	}
	return nil
}

// checkFields is checkTimes of a struct.
func checkFields(v reflect.Value) error {
	for i := range v.NumField() {
		field := v.Field(i)
		if !field.CanInterface() {
			continue // no part of the file
		}
		at, is := field.Interface().(time.Time)
		if p, pointed := field.Interface().(*time.Time); pointed && p != nil {
			at, is = *p, true
		}
		switch year := at.UTC().Year(); {
		case is && !at.IsZero() && (year < firstYear || year > lastYear):
			return trials.Refuse("correct the time where it comes from", "%s is in the year %d",
				v.Type().Field(i).Tag.Get("json"), year)
		case is:
			continue
		}
		if err := checkTimes(field); err != nil {
			return err
		}
	}
	return nil
}

// about says which record an error is of.
func about(what string, err error) error {
	p, ok := trials.ProblemOf(err).(*trials.Problem)
	if !ok {
		return err
	}
	hint := p.Hint
	if hint == "" {
		hint = "correct the record where it comes from"
	}
	return &trials.Problem{Code: trials.Invalid, Message: what + ": " + p.Message, Hint: hint}
}

// longestID is how long an id may be; ours have 26 letters and digits.
const longestID = 64

// checkID refuses an id that is missing, strange or there twice.
func checkID(id string, seen map[string]bool) error {
	strange := strings.ContainsFunc(id, func(r rune) bool {
		return r > unicode.MaxASCII || !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != '_'
	})
	switch {
	case id == "" || len(id) > longestID || strange:
		return trials.Refuse("ask for a fresh export", "the id %q cannot be used", id)
	case seen[id]:
		return trials.Refuse("ask for a fresh export", "the id stands there twice")
	}
	seen[id] = true
	return nil
}

// longestEventName is how many letters the name of an event may have: that of its
// batch, a dot and a number.
const longestEventName = 80

// checkRecord refuses a record whose id, name or times cannot be.
func checkRecord(r trials.Record, ids, taken map[string]bool) error {
	if err := checkID(r.ID, ids); err != nil {
		return err
	}
	switch {
	case strings.TrimSpace(r.Name) == "" || utf8.RuneCountInString(r.Name) > longestEventName ||
		strings.ContainsFunc(r.Name, trials.Hidden):
		return trials.Refuse("correct the name where it comes from", "the name cannot be used")
	case taken[r.Name]:
		return trials.Refuse("ask for a fresh export", "the name stands there twice")
	case r.CreatedAt.IsZero() || r.ChangedAt.IsZero():
		return trials.Refuse("ask for a fresh export", "created_at or changed_at is missing")
	}
	taken[r.Name] = true
	return nil
}

// checkSuggestion refuses a suggestion that could not have been given.
func checkSuggestion(r trials.Suggestion) (string, error) {
	for _, text := range []string{r.MaterialKey, r.Text, r.Verdict, r.Method} {
		if strings.ContainsFunc(text, trials.Hidden) {
			return r.ID, trials.Refuse("ask for a fresh export", "a text of it has signs that cannot be seen")
		}
	}
	for _, v := range []*float64{r.DoseGPerL, r.VolumeL} {
		if v != nil && !(*v > 0 && figure.Finite(*v)) {
			return r.ID, trials.Refuse("ask for a fresh export", "%g is no dose and no volume", *v)
		}
	}
	if r.MaterialKey == "" || r.At.IsZero() {
		return r.ID, trials.Refuse("ask for a fresh export", "material or time is missing")
	}
	return r.ID, nil
}

// checkTaster refuses a name that a table would take for something else.
func checkTaster(r trials.Taster) (trials.Record, error) {
	name, err := trials.TasterName(r.Name)
	if err == nil && name != r.Name {
		err = trials.Refuse("correct the name where it comes from", "the name has spaces too many")
	}
	return r.Record, err
}

// checkCode refuses a code that could not be typed.
func checkCode(s trials.Serving) error {
	const longest = 8
	if s.Code == "" || len(s.Code) > longest || strings.ContainsAny(s.Code, ",;=\" \n") ||
		strings.ContainsFunc(s.Code, trials.Hidden) {
		return trials.Refuse("use three digits", "the code %q cannot be used", s.Code)
	}
	return nil
}

// checkPlace refuses a place before the first.
func checkPlace(p trials.Place) error {
	if p.Position < 1 {
		return trials.Refuse("count the servings from 1", "position %d is not above zero", p.Position)
	}
	return nil
}

// checkScore refuses a score of a tasting that is not there, and answers out of scale.
func checkScore(s trials.Score, tastings map[string]trials.Tasting) error {
	t, ok := tastings[s.TastingID]
	if !ok {
		return trials.Refuse("ask for the whole notebook", "its tasting is in neither notebook")
	}
	if s.Position != nil && *s.Position < 1 {
		return trials.Refuse("count the servings from 1", "position %d is not above zero", *s.Position)
	}
	return s.Validate(t)
}

// known holds the ids of the joined notebook by kind.
type known map[string]bool

// idsOf collects ids.
func idsOf[T any](list []T, id func(T) string) known {
	k := known{}
	for _, r := range list {
		k[id(r)] = true
	}
	return k
}

// checkWhole refuses a record that refers to one that is in neither notebook, and
// parents in a circle.
func (m *merger) checkWhole() error {
	w := m.out.Whole
	r := referencesOf(w)
	for _, b := range w.Batches {
		if b.ParentID != nil && !r.batches[*b.ParentID] {
			return trials.Refuse("ask for the whole notebook, or leave "+b.Name+" out",
				"batch %s (%s) was split from a batch that is in neither notebook", b.Name, b.ID)
		}
		if err := missing("batch "+b.Name, "hydrometer", r.meters, b.OGMeterID); err != nil {
			return err
		}
	}
	if err := circles(w.Batches); err != nil {
		return err
	}
	catalogue, err := w.Catalogue()
	if err != nil {
		return err
	}
	a := m.out.Add
	for _, x := range a.Additions {
		r.material(catalogue, "addition "+x.Name, x.MaterialKey)
	}
	for _, x := range a.Extracts {
		r.material(catalogue, "extract "+x.Name, x.MaterialKey)
	}
	for _, x := range a.Claims {
		r.material(catalogue, "claim "+x.Name, x.MaterialKey)
	}
	r.checkBrews(a)
	r.checkEvenings(a)
	return r.fault
}

// references are the ids that the records of a whole notebook may refer to, and the
// first that refers to none of them.
type references struct {
	batches, meters, extracts, tasters, tastings, servings, droppers known
	fault                                                            error
}

// referencesOf gathers the ids of a notebook.
func referencesOf(w *trials.Notebook) *references {
	return &references{
		batches:  idsOf(w.Batches, func(r trials.Batch) string { return r.ID }),
		meters:   idsOf(w.Meters, func(r trials.Meter) string { return r.ID }),
		extracts: idsOf(w.Extracts, func(r trials.Extract) string { return r.ID }),
		tasters:  idsOf(w.Tasters, func(r trials.Taster) string { return r.ID }),
		tastings: idsOf(w.Tastings, func(r trials.Tasting) string { return r.ID }),
		servings: idsOf(w.Servings, func(r trials.Serving) string { return r.ID }),
		droppers: idsOf(w.Droppers, func(r trials.Dropper) string { return r.ID }),
	}
}

// check keeps the first reference to nothing.
func (r *references) check(what, kind string, k known, ids ...*string) {
	if r.fault == nil {
		r.fault = missing(what, kind, k, ids...)
	}
}

// material keeps the first material that is in neither notebook.
func (r *references) material(catalogue trials.Materials, what, key string) {
	if _, ok := catalogue.Get(key); key != "" && !ok && r.fault == nil {
		r.fault = trials.Refuse("ask for the whole notebook, or say which is meant with --material "+key+"=OURS",
			"%s is of a material %q that is in neither notebook", what, key)
	}
}

// checkBrews checks what happened to batches.
func (r *references) checkBrews(a *trials.Notebook) {
	for _, x := range a.Additions {
		r.check("addition "+x.Name, "batch", r.batches, &x.BatchID)
		r.check("addition "+x.Name, "extract", r.extracts, x.ExtractID)
	}
	for _, x := range a.Readings {
		r.check("reading "+x.Name, "batch", r.batches, &x.BatchID)
		r.check("reading "+x.Name, "meter", r.meters, x.MeterID)
	}
	for _, x := range a.Losses {
		r.check("loss "+x.Name, "batch", r.batches, &x.BatchID)
	}
	for _, x := range a.Packagings {
		r.check("packaging "+x.Name, "batch", r.batches, &x.BatchID)
	}
	for _, x := range a.BatchNotes {
		r.check("note "+x.Name, "batch", r.batches, &x.BatchID)
	}
	for _, x := range a.Calibrations {
		r.check("calibration "+x.Name, "meter", r.meters, &x.MeterID)
	}
	for _, x := range a.Plans {
		r.check("plan "+x.Name, "batch", r.batches, &x.BatchID)
		r.check("plan "+x.Name, "extract", r.extracts, x.ExtractID)
		r.check("plan "+x.Name, "tasting", r.tastings, x.TastingID)
	}
}

// checkEvenings checks what belongs to tastings.
func (r *references) checkEvenings(a *trials.Notebook) {
	for _, x := range a.Servings {
		r.check("serving "+x.ID, "batch", r.batches, &x.BatchID)
		r.check("serving "+x.ID, "tasting", r.tastings, &x.TastingID)
	}
	for _, x := range a.Places {
		r.check("place "+x.ID, "tasting", r.tastings, &x.TastingID)
		r.check("place "+x.ID, "serving", r.servings, &x.ServingID)
		r.check("place "+x.ID, "taster", r.tasters, &x.TasterID)
	}
	for _, x := range a.Scores {
		r.check("score "+x.ID, "serving", r.servings, &x.ServingID)
		r.check("score "+x.ID, "taster", r.tasters, &x.TasterID)
	}
	for _, x := range a.TasterNotes {
		r.check("taster note "+x.ID, "tasting", r.tastings, &x.TastingID)
		r.check("taster note "+x.ID, "serving", r.servings, &x.ServingID)
		r.check("taster note "+x.ID, "taster", r.tasters, &x.TasterID)
	}
	for _, x := range a.ToTastes {
		r.check("dosing to taste "+x.ID, "tasting", r.tastings, &x.TastingID)
		r.check("dosing to taste "+x.ID, "batch", r.batches, &x.BatchID)
		r.check("dosing to taste "+x.ID, "extract", r.extracts, &x.ExtractID)
	}
	for _, x := range a.Droppers {
		r.check("dropper "+x.ID, "tasting", r.tastings, &x.TastingID)
	}
	for _, x := range a.Dosings {
		r.check("glass "+x.ID, "tasting", r.tastings, &x.TastingID)
		r.check("glass "+x.ID, "taster", r.tasters, &x.TasterID)
		r.check("glass "+x.ID, "dropper", r.droppers, &x.DropperID)
	}
	for _, x := range a.Marks {
		r.check("mark "+x.ID, "tasting", r.tastings, &x.TastingID)
	}
}

// missing refuses a reference to a record that is in neither notebook.
func missing(what, kind string, k known, ids ...*string) error {
	for _, id := range ids {
		if id != nil && !k[*id] {
			return trials.Refuse("ask for the whole notebook, or leave it out",
				"%s refers to a %s (%s) that is in neither notebook",
				what, kind, *id)
		}
	}
	return nil
}

// circles refuses batches that were split from each other in a circle.
func circles(list []trials.Batch) error {
	parent := map[string]string{}
	for _, b := range list {
		if b.ParentID != nil {
			parent[b.ID] = *b.ParentID
		}
	}
	for _, b := range list {
		at, steps := b.ID, 0
		for parent[at] != "" && steps <= len(list) {
			at, steps = parent[at], steps+1
		}
		if steps > len(list) {
			return trials.Refuse("ask for a fresh export", "batch %s (%s) was split from itself, in a circle", b.Name, b.ID)
		}
	}
	return nil
}

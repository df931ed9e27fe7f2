package exchange

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"hedgerow/trials"
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
		checkEach("calibration", t.Calibrations, func(r trials.Calibration) (trials.Record, error) { return r.Record, nil }),
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
		checkEach("plan", t.Plans, func(r trials.Plan) (trials.Record, error) { return r.Record, nil }),
		checkPlain("serving", t.Servings, func(r trials.Serving) (string, error) { return r.ID, checkCode(r) }),
		checkPlain("place", t.Places, func(r trials.Place) (string, error) { return r.ID, checkPlace(r) }),
		checkPlain("score", t.Scores, func(r trials.Score) (string, error) { return r.ID, checkScore(r, tastings) }),
		checkPlain("taster note", t.TasterNotes, func(r trials.TasterNote) (string, error) { return r.ID, nil }),
		checkPlain("mark", t.Marks, func(r trials.Mark) (string, error) { return r.ID, nil }),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// checkEach checks the records of a kind that have names and times.
func checkEach[T any](kind string, list []T, check func(T) (trials.Record, error)) error {
	ids, taken := map[string]bool{}, map[string]bool{}
	for _, r := range list {
		rec, err := check(r)
		if err == nil {
			err = checkRecord(rec, ids, taken)
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
		if err != nil {
			return about(kind+" "+id, err)
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
		strings.ContainsFunc(r.Name, hidden):
		return trials.Refuse("correct the name where it comes from", "the name cannot be used")
	case taken[r.Name]:
		return trials.Refuse("ask for a fresh export", "the name stands there twice")
	case r.CreatedAt.IsZero() || r.ChangedAt.IsZero():
		return trials.Refuse("ask for a fresh export", "created_at or changed_at is missing")
	}
	taken[r.Name] = true
	return nil
}

// hidden reports whether a sign cannot be seen in a name.
func hidden(r rune) bool { return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) }

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
		strings.ContainsFunc(s.Code, hidden) {
		return trials.Refuse("use three digits", "the code %q cannot be used", s.Code)
	}
	return nil
}

// checkPlace refuses a place before the first.
func checkPlace(p trials.Place) error {
	if p.Position < 1 {
		return trials.Refuse("count the glasses from 1", "position %d is not above zero", p.Position)
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
		return trials.Refuse("count the glasses from 1", "position %d is not above zero", *s.Position)
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
	a, w := m.out.Add, m.out.Whole
	batches := idsOf(w.Batches, func(r trials.Batch) string { return r.ID })
	meters := idsOf(w.Meters, func(r trials.Meter) string { return r.ID })
	extracts := idsOf(w.Extracts, func(r trials.Extract) string { return r.ID })
	tasters := idsOf(w.Tasters, func(r trials.Taster) string { return r.ID })
	tastings := idsOf(w.Tastings, func(r trials.Tasting) string { return r.ID })
	servings := idsOf(w.Servings, func(r trials.Serving) string { return r.ID })
	for _, b := range w.Batches {
		if b.ParentID != nil && !batches[*b.ParentID] {
			return trials.Refuse("ask for the whole notebook, or leave "+b.Name+" out",
				"batch %s (%s) was split from a batch that is in neither notebook", b.Name, b.ID)
		}
		if err := missing("batch "+b.Name, "hydrometer", meters, b.OGMeterID); err != nil {
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
	var checks []error
	check := func(what, kind string, k known, ids ...*string) {
		checks = append(checks, missing(what, kind, k, ids...))
	}
	material := func(what, key string) {
		if _, ok := catalogue.Get(key); key != "" && !ok {
			checks = append(checks, trials.Refuse("ask for the whole notebook, or say which is meant with --material "+
				key+"=OURS",
				"%s is of a material %q that is in neither notebook", what, key))
		}
	}
	for _, r := range a.Additions {
		check("addition "+r.Name, "batch", batches, &r.BatchID)
		check("addition "+r.Name, "extract", extracts, r.ExtractID)
		material("addition "+r.Name, r.MaterialKey)
	}
	for _, r := range a.Extracts {
		material("extract "+r.Name, r.MaterialKey)
	}
	for _, r := range a.Claims {
		material("claim "+r.Name, r.MaterialKey)
	}
	for _, r := range a.Readings {
		check("reading "+r.Name, "batch", batches, &r.BatchID)
		check("reading "+r.Name, "meter", meters, r.MeterID)
	}
	for _, r := range a.Losses {
		check("loss "+r.Name, "batch", batches, &r.BatchID)
	}
	for _, r := range a.Packagings {
		check("packaging "+r.Name, "batch", batches, &r.BatchID)
	}
	for _, r := range a.BatchNotes {
		check("note "+r.Name, "batch", batches, &r.BatchID)
	}
	for _, r := range a.Calibrations {
		check("calibration "+r.Name, "meter", meters, &r.MeterID)
	}
	for _, r := range a.Plans {
		check("plan "+r.Name, "batch", batches, &r.BatchID)
		check("plan "+r.Name, "extract", extracts, r.ExtractID)
		check("plan "+r.Name, "tasting", tastings, r.TastingID)
	}
	for _, r := range a.Servings {
		check("serving "+r.ID, "batch", batches, &r.BatchID)
		check("serving "+r.ID, "tasting", tastings, &r.TastingID)
	}
	for _, r := range a.Places {
		check("place "+r.ID, "tasting", tastings, &r.TastingID)
		check("place "+r.ID, "serving", servings, &r.ServingID)
		check("place "+r.ID, "taster", tasters, &r.TasterID)
	}
	for _, r := range a.Scores {
		check("score "+r.ID, "serving", servings, &r.ServingID)
		check("score "+r.ID, "taster", tasters, &r.TasterID)
	}
	for _, r := range a.TasterNotes {
		check("taster note "+r.ID, "tasting", tastings, &r.TastingID)
		check("taster note "+r.ID, "serving", servings, &r.ServingID)
		check("taster note "+r.ID, "taster", tasters, &r.TasterID)
	}
	for _, r := range a.Marks {
		check("mark "+r.ID, "tasting", tastings, &r.TastingID)
	}
	for _, err := range checks {
		if err != nil {
			return err
		}
	}
	return nil
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

package exchange

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"hedgerow/trials"
)

// join puts each kind of theirs into ours.
func (m *merger) join() {
	o, t, a, w := m.ours, m.theirs, m.out.Add, m.out.Whole
	joinNamed(m, "material", o.Materials, t.Materials, &a.Materials, &w.Materials,
		func(r *trials.OwnMaterial) *trials.Record { return &r.Record })
	joinNamed(m, "meter", o.Meters, t.Meters, &a.Meters, &w.Meters,
		func(r *trials.Meter) *trials.Record { return &r.Record })
	joinNamed(m, "calibration", o.Calibrations, t.Calibrations, &a.Calibrations, &w.Calibrations,
		func(r *trials.Calibration) *trials.Record { return &r.Record })
	joinNamed(m, "batch", o.Batches, t.Batches, &a.Batches, &w.Batches,
		func(r *trials.Batch) *trials.Record { return &r.Record })
	joinNamed(m, "loss", o.Losses, t.Losses, &a.Losses, &w.Losses,
		func(r *trials.Loss) *trials.Record { return &r.Record })
	joinNamed(m, "packaging", o.Packagings, t.Packagings, &a.Packagings, &w.Packagings,
		func(r *trials.Packaging) *trials.Record { return &r.Record })
	joinNamed(m, "batch_note", o.BatchNotes, t.BatchNotes, &a.BatchNotes, &w.BatchNotes,
		func(r *trials.BatchNote) *trials.Record { return &r.Record })
	joinNamed(m, "extract", o.Extracts, t.Extracts, &a.Extracts, &w.Extracts,
		func(r *trials.Extract) *trials.Record { return &r.Record })
	joinNamed(m, "addition", o.Additions, t.Additions, &a.Additions, &w.Additions,
		func(r *trials.Addition) *trials.Record { return &r.Record })
	joinNamed(m, "reading", o.Readings, t.Readings, &a.Readings, &w.Readings,
		func(r *trials.Reading) *trials.Record { return &r.Record })
	joinNamed(m, "claim", o.Claims, t.Claims, &a.Claims, &w.Claims,
		func(r *trials.Claim) *trials.Record { return &r.Record })
	joinNamed(m, "taster", o.Tasters, t.Tasters, &a.Tasters, &w.Tasters,
		func(r *trials.Taster) *trials.Record { return &r.Record })
	joinNamed(m, "tasting", o.Tastings, t.Tastings, &a.Tastings, &w.Tastings,
		func(r *trials.Tasting) *trials.Record { return &r.Record })
	joinNamed(m, "plan", o.Plans, t.Plans, &a.Plans, &w.Plans, func(r *trials.Plan) *trials.Record { return &r.Record })
	joinPlain(m, "serving", o.Servings, t.Servings, &a.Servings, &w.Servings,
		func(r *trials.Serving) string { return r.ID })
	joinPlain(m, "place", o.Places, t.Places, &a.Places, &w.Places, func(r *trials.Place) string { return r.ID })
	joinPlain(m, "score", o.Scores, t.Scores, &a.Scores, &w.Scores, func(r *trials.Score) string { return r.ID })
	joinPlain(m, "taster_note", o.TasterNotes, t.TasterNotes, &a.TasterNotes, &w.TasterNotes,
		func(r *trials.TasterNote) string { return r.ID })
	joinPlain(m, "to_taste", o.ToTastes, t.ToTastes, &a.ToTastes, &w.ToTastes,
		func(r *trials.ToTaste) string { return r.ID })
	joinPlain(m, "dropper", o.Droppers, t.Droppers, &a.Droppers, &w.Droppers,
		func(r *trials.Dropper) string { return r.ID })
	joinPlain(m, "dosing", o.Dosings, t.Dosings, &a.Dosings, &w.Dosings, func(r *trials.Dosing) string { return r.ID })
	joinPlain(m, "suggestion", o.Suggestions, t.Suggestions, &a.Suggestions, &w.Suggestions,
		func(r *trials.Suggestion) string { return r.ID })
	joinPlain(m, "mark", o.Marks, t.Marks, &a.Marks, &w.Marks, func(r *trials.Mark) string { return r.ID })
}

// joinNamed joins the records of a kind that have names and times.
func joinNamed[T any](m *merger, kind string, ours, theirs []T, add, whole *[]T, record func(*T) *trials.Record) {
	place := map[string]int{}
	for i := range ours {
		place[record(&ours[i]).ID] = i
	}
	for i := range theirs {
		t := record(&theirs[i])
		at, known := place[t.ID]
		if !known {
			addOne(m, kind, theirs[i], add, whole)
			continue
		}
		o := record(&ours[at])
		differ := fieldsThatDiffer(ours[at], theirs[i])
		if len(differ) == 0 {
			m.out.Same++
			continue
		}
		name := strings.ReplaceAll(kind, "_", " ") + " " + o.Name
		oursChanged, theirsChanged := o.ChangedAt.After(o.CreatedAt), t.ChangedAt.After(t.CreatedAt)
		switch {
		case theirsChanged && !oursChanged:
			m.remark("changed_theirs", "%s was changed by them: theirs is taken (%s)", name, fieldNames(differ))
			updateOne(m, theirs[i], whole, at)
		case oursChanged && !theirsChanged:
			m.remark("changed_ours", "%s was changed here: ours stays (%s)", name, fieldNames(differ))
		default:
			settle(m, Ask{Kind: kind, ID: t.ID, Name: o.Name, Key: name, Fields: differ}, theirs[i], whole, at)
		}
	}
}

// joinPlain joins the records of a kind that have an id alone: nothing says which of
// two that differ is the later one.
func joinPlain[T any](m *merger, kind string, ours, theirs []T, add, whole *[]T, id func(*T) string) {
	place := map[string]int{}
	for i := range ours {
		place[id(&ours[i])] = i
	}
	for i := range theirs {
		at, known := place[id(&theirs[i])]
		if !known {
			addOne(m, kind, theirs[i], add, whole)
			continue
		}
		differ := fieldsThatDiffer(ours[at], theirs[i])
		if len(differ) == 0 {
			m.out.Same++
			continue
		}
		name := id(&theirs[i])
		settle(m, Ask{Kind: kind, ID: name, Name: name, Key: strings.ReplaceAll(kind, "_", " ") + " " + name, Fields: differ},
			theirs[i], whole, at)
	}
}

// addOne takes a new record.
func addOne[T any](m *merger, kind string, r T, add, whole *[]T) {
	*add, *whole = append(*add, r), append(*whole, r)
	m.out.Counts[kind]++
}

// updateOne takes their record for one that is there.
func updateOne[T any](m *merger, r T, whole *[]T, at int) {
	(*whole)[at] = r
	m.out.Update = append(m.out.Update, &r)
}

// settle asks which of two records counts, unless that was answered. An answer may
// name the record by its key or by its id.
func settle[T any](m *merger, q Ask, theirs T, whole *[]T, at int) {
	answer, given := m.told.Answers[q.Key]
	if !given {
		answer, given = m.told.Answers[q.ID]
	}
	switch {
	case given && answer == "theirs":
		updateOne(m, theirs, whole, at)
		m.used(q)
	case given && answer == "ours":
		m.used(q)
	default:
		m.out.Asks = append(m.out.Asks, q)
	}
}

// used notes that an answer was to a question.
func (m *merger) used(q Ask) {
	delete(m.told.Answers, q.Key)
	delete(m.told.Answers, q.ID)
}

// unasked refuses answers to which there is no question.
func (m *merger) unasked() error {
	for key, answer := range m.told.Answers {
		known := slices.ContainsFunc(m.out.Asks, func(a Ask) bool { return a.Key == key || a.ID == key })
		if known {
			return trials.Refuse("answer ours or theirs", "%q is no answer to %s", answer, key)
		}
		return trials.Refuse("leave the answer out", "nothing is asked about %q", key)
	}
	return nil
}

// fieldNames lists the names of fields.
func fieldNames(list []field) string {
	var names []string
	for _, f := range list {
		names = append(names, f.Name)
	}
	return strings.Join(names, ", ")
}

// fieldsThatDiffer compares two records by their figures as they are written, times
// of writing and those named aside.
func fieldsThatDiffer[T any](ours, theirs T, aside ...string) []field {
	a, b := figuresOf(ours), figuresOf(theirs)
	aside = append(aside, "created_at", "changed_at")
	var list []field
	for key, v := range a {
		if !slices.Contains(aside, key) && !reflect.DeepEqual(v, b[key]) {
			list = append(list, field{key, v, b[key]})
		}
	}
	slices.SortFunc(list, func(x, y field) int { return strings.Compare(x.Name, y.Name) })
	return list
}

// figuresOf is a record as the values of its JSON.
func figuresOf(r any) map[string]any {
	text, err := json.Marshal(r)
	if err != nil {
		return nil
	}
	var m map[string]any
	if json.Unmarshal(text, &m) != nil {
		return nil
	}
	for key, v := range m {
		// one moment, however it is written
		if s, ok := v.(string); ok && strings.HasSuffix(key, "_at") || key == "at" {
			if at, err := time.Parse(time.RFC3339Nano, fmt.Sprint(s)); err == nil {
				m[key] = at.UTC().Format(time.RFC3339Nano)
			}
		}
	}
	return m
}

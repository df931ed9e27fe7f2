package sheets

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strings"

	"hedgerow/trials"
)

// evenings turns the scores into what each tasting gets. Scores that the notebook
// has are counted; one that it has otherwise is a fault.
func (r *reader) evenings() {
	if len(r.sheet.Faults) > 0 || len(r.sheet.Asks) > 0 {
		return
	}
	var names []string
	by := map[string][]Score{}
	for _, s := range r.sheet.Scores {
		if by[s.Tasting] == nil {
			names = append(names, s.Tasting)
		}
		by[s.Tasting] = append(by[s.Tasting], s)
	}
	people := map[string]trials.Taster{}
	for _, t := range r.n.Tasters {
		people[fold(t.Name)] = t
	}
	kept := r.keptScores()
	var fresh []Score
	for _, name := range names {
		e := r.table(name, by[name], people, kept)
		for _, s := range by[name] {
			if e.put(s) {
				fresh = append(fresh, s)
			}
		}
		if len(e.Scores)+len(e.Notes) > 0 {
			r.sheet.New.Evenings = append(r.sheet.New.Evenings, e.Evening)
		}
	}
	r.sheet.Scores = fresh
}

// scoreKey names what is scored once.
type scoreKey struct{ serving, taster, attribute string }

// keptScores are the scores and notes of the notebook by what they are of.
func (r *reader) keptScores() map[scoreKey]trials.Score {
	kept := make(map[scoreKey]trials.Score, len(r.n.Scores))
	for _, s := range r.n.Scores {
		kept[scoreKey{s.ServingID, s.TasterID, s.Attribute}] = s
	}
	for _, t := range r.n.TasterNotes {
		kept[scoreKey{t.ServingID, t.TasterID, "\x00" + t.Text}] = trials.Score{}
	}
	return kept
}

// table is a tasting while it takes scores.
type table struct {
	Evening
	r       *reader
	people  map[string]trials.Taster
	kept    map[scoreKey]trials.Score
	byCode  map[string]trials.Serving
	byBatch map[string]trials.Serving // the first glass of each batch
	sealed  bool
}

// table sets out a tasting, the one of the notebook or a new one.
func (r *reader) table(name string, scores []Score, people map[string]trials.Taster,
	kept map[scoreKey]trials.Score) *table {
	e := &table{r: r, people: people, kept: kept, byCode: map[string]trials.Serving{},
		byBatch: map[string]trials.Serving{}}
	t, known := r.tastingKept(name)
	if !known {
		t = trials.Tasting{Record: trials.Record{ID: trials.NewID(), Name: name}, At: scores[0].At, Blind: r.o.Blind,
			FlightSize: trials.DefaultFlight}
		for _, s := range scores {
			if s.At.Before(t.At) {
				t.At = s.At
			}
		}
		// it is over: nothing is hidden that a list of beers and scores has told
		if at := t.At; r.o.Blind {
			t.ClosedAt = &at
		} else {
			r.remark("blind_unknown", 0, nil, "whether %s was blind is not known: it is kept as not blind; --blind "+
				"says it was", name)
		}
	}
	e.Tasting, e.Fresh, e.sealed = t, !known, known && t.Sealed()
	for _, s := range r.n.ServingsOf(t.ID) {
		e.byCode[s.Code] = s
		if _, taken := e.byBatch[s.BatchID]; !taken && !s.Repeat {
			e.byBatch[s.BatchID] = s
		}
	}
	for _, s := range scores {
		if s.Attribute != "" && s.Attribute != trials.Overall && !slices.Contains(t.Attributes, s.Attribute) {
			e.Tasting.Attributes = append(slices.Clone(e.Tasting.Attributes), s.Attribute)
			t.Attributes = e.Tasting.Attributes
			e.Extended = known
		}
	}
	// a tasting scores something besides liking
	if len(e.Tasting.Attributes) == 0 {
		e.Tasting.Attributes = []string{"character"}
	}
	if err := e.Tasting.Validate(); err != nil {
		why, do := faultOf(err)
		r.fault(r.headerLine, nil, name, why, do)
	}
	return e
}

// put takes one score and reports whether it is new.
func (e *table) put(s Score) bool {
	serving, ok := e.serving(s)
	if !ok {
		return false
	}
	taster, ok := e.taster(s)
	if !ok {
		return false
	}
	if s.Attribute == "" {
		return e.putNote(s, serving, taster)
	}
	record := trials.Score{ID: trials.NewID(), TastingID: e.Tasting.ID, ServingID: serving.ID, TasterID: taster.ID,
		Attribute: s.Attribute, Intensity: s.Intensity, Vote: s.Vote, Liking: s.Liking, Position: s.Position, At: s.At}
	key := scoreKey{serving.ID, taster.ID, s.Attribute}
	if old, known := e.kept[key]; known {
		if sameNumber(old.Intensity, s.Intensity) && sameNumber(old.Liking, s.Liking) && sameVote(old.Vote, s.Vote) {
			e.r.sheet.Already++
			return false
		}
		e.fault(s, fmt.Sprintf("%s has scored %s of %s otherwise in the notebook", taster.Name, wordFor(s.Attribute),
			s.Sample),
			"correct the cell, or the notebook: hedgerow tasting score "+e.Tasting.Name+" ... --replace")
		return false
	}
	if !e.Fresh && e.Tasting.Blind && e.Tasting.ClosedAt != nil {
		e.fault(s, "tasting "+e.Tasting.Name+" is closed", "a late correction: hedgerow tasting score "+e.Tasting.Name+
			" ... --replace")
		return false
	}
	if err := record.Validate(e.Tasting); err != nil {
		why, do := faultOf(err)
		e.fault(s, why, do)
		return false
	}
	e.kept[key] = record
	e.Scores = append(e.Scores, record)
	return true
}

// putNote takes a note on a glass.
func (e *table) putNote(s Score, serving trials.Serving, taster trials.Taster) bool {
	key := scoreKey{serving.ID, taster.ID, "\x00" + s.Note}
	if _, known := e.kept[key]; known {
		e.r.sheet.Already++
		return false
	}
	e.kept[key] = trials.Score{}
	e.Notes = append(e.Notes, trials.TasterNote{ID: trials.NewID(), TastingID: e.Tasting.ID, ServingID: serving.ID,
		TasterID: taster.ID, At: s.At, Text: s.Note})
	return true
}

// fault keeps a fault of one score.
func (e *table) fault(s Score, why, do string) {
	e.r.sheet.Faults = append(e.r.sheet.Faults, Fault{Line: s.Line, Column: s.Column, Why: why, Do: do})
}

// taster finds who scored, or adds them.
func (e *table) taster(s Score) (trials.Taster, bool) {
	if t, ok := e.people[fold(s.Taster)]; ok {
		return t, true
	}
	name, err := trials.TasterName(s.Taster)
	if err != nil {
		why, do := faultOf(err)
		e.fault(s, why, do)
		return trials.Taster{}, false
	}
	t := trials.Taster{Record: trials.Record{ID: trials.NewID(), Name: name}}
	e.people[fold(name)] = t
	e.Tasters = append(e.Tasters, t)
	e.r.remark("new_taster", s.Line, nil, "new taster: %s", name)
	return t, true
}

// serving finds the glass of a score by its code, else by its beer; a new one is
// added where the tasting may still get one.
func (e *table) serving(s Score) (trials.Serving, bool) {
	if s.Code != "" {
		kept, ok := e.byCode[s.Code]
		switch {
		case ok && kept.BatchID == s.batchID:
			return kept, true
		case ok:
			e.fault(s, fmt.Sprintf("code %s of %s is another beer", s.Code, e.Tasting.Name), "correct the code or the beer")
			return kept, false
		}
	} else if kept, ok := e.byBatch[s.batchID]; ok && !e.sealed {
		return kept, true
	}
	if !e.Fresh && e.Tasting.Blind {
		why := fmt.Sprintf("tasting %s has no such glass", e.Tasting.Name)
		if e.sealed && s.Code == "" {
			why = fmt.Sprintf("tasting %s is blind and not closed; its glasses go by their codes", e.Tasting.Name)
		}
		e.fault(s, why, "write the codes of the servings, or close the tasting first")
		return trials.Serving{}, false
	}
	return e.pour(s)
}

// longestCode is how many letters a code may have.
const longestCode = 8

// pour adds a glass.
func (e *table) pour(s Score) (trials.Serving, bool) {
	g := trials.Serving{ID: trials.NewID(), TastingID: e.Tasting.ID, BatchID: s.batchID, Code: s.Code}
	if len(g.Code) > longestCode || strings.ContainsAny(g.Code, ",;=\" \n") {
		e.fault(s, fmt.Sprintf("code %q cannot be used", shorten(s.Code)), "use three digits, such as 417")
		return g, false
	}
	if g.Code == "" {
		g.Code = e.freeCode(s.Sample)
	}
	_, g.Repeat = e.byBatch[s.batchID]
	e.byCode[g.Code] = g
	if !g.Repeat {
		e.byBatch[s.batchID] = g
	}
	e.Servings = append(e.Servings, g)
	return g, true
}

// freeCode makes a code of three digits for a glass that had none: the same for the
// same tasting and beer, so that a sheet reads alike each time.
func (e *table) freeCode(sample string) string {
	h := fnv.New32a()
	fmt.Fprintf(h, "%s\x00%s", e.Tasting.Name, sample)
	const codes = 900
	for i := range uint32(codes) {
		code := fmt.Sprint(100 + (h.Sum32()+i)%codes)
		if _, taken := e.byCode[code]; !taken {
			return code
		}
	}
	return sample
}

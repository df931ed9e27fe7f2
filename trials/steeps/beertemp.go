package steeps

import (
	"cmp"
	"slices"
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// loggedTempC is the even temperature of the beer, C, that stands for those read while a
// plant was in it up to a moment, each holding until the next; the last one before the
// plant went in holds from there on. A jar has the temperature of the beer that it was
// filled from until then. Nil where none was read by then.
func loggedTempC(x *trials.Index, a trials.Addition, until time.Time) *float64 {
	read := temperaturesRead(x, a.BatchID, until)
	slices.SortFunc(read, func(r, s trials.Reading) int {
		return cmp.Or(r.At.Compare(s.At), r.CreatedAt.Compare(s.CreatedAt), cmp.Compare(r.Name, s.Name))
	})
	var spans []extraction.TempSpan
	for i, r := range read {
		from, to := r.At, until
		// the first stands for the time before it too
		if i == 0 || from.Before(a.At) {
			from = a.At
		}
		if i+1 < len(read) {
			to = read[i+1].At
		}
		if to.After(from) {
			spans = append(spans, extraction.TempSpan{Days: to.Sub(from).Hours() / 24, TempC: *r.BeerTempC})
		}
	}
	if len(spans) == 0 {
		return nil
	}
	return new(extraction.EvenTempC(spans))
}

// temperaturesRead are the readings of the temperature of a batch up to a moment, those
// of what it was split from up to the split among them.
func temperaturesRead(x *trials.Index, batchID string, until time.Time) []trials.Reading {
	var read []trials.Reading
	for {
		for _, r := range x.ReadingsOf(batchID) {
			if r.BeerTempC != nil && !r.At.After(until) {
				read = append(read, r)
			}
		}
		b, ok := x.BatchByID(batchID)
		if !ok || b.ParentID == nil {
			return read
		}
		batchID = *b.ParentID
		if b.StartedAt.Before(until) {
			until = b.StartedAt
		}
	}
}

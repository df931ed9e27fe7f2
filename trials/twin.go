package trials

import (
	"reflect"
	"time"
)

// twinWindow is how long after a record one that says the same is taken for a slip of
// the hand: a command run again from the history of the shell.
const twinWindow = 10 * time.Minute

// Twin returns the record of the last ten minutes that says the same as a new one, the
// latest of them: an event of a batch, a claim or a calibration. What has a name of its
// own has no twin, for that name is taken. Among the records, which are written
// together, an extract belongs to the addition that pours it.
func (n *Notebook) Twin(records ...any) (twin Record, ok bool) {
	var made *Extract
	for _, r := range records {
		if x, is := r.(*Extract); is {
			made = x
		}
	}
	for _, r := range records {
		switch r := r.(type) {
		case *Addition:
			twin, ok = n.twinAddition(*r, made)
		case *Reading:
			twin, ok = twinOf(n.Readings, *r, n.Now, func(r *Reading) (*Record, *time.Time) { return &r.Record, &r.At })
		case *Loss:
			twin, ok = twinOf(n.Losses, *r, n.Now, func(r *Loss) (*Record, *time.Time) { return &r.Record, &r.At })
		case *BatchNote:
			twin, ok = twinOf(n.BatchNotes, *r, n.Now, func(r *BatchNote) (*Record, *time.Time) { return &r.Record, &r.At })
		case *Calibration:
			twin, ok = twinOf(n.Calibrations, *r, n.Now,
				func(r *Calibration) (*Record, *time.Time) { return &r.Record, &r.At })
		case *Claim:
			twin, ok = twinOf(n.Claims, *r, n.Now, func(r *Claim) (*Record, *time.Time) { return &r.Record, new(time.Time) })
		}
		if ok {
			return twin, true
		}
	}
	return Record{}, false
}

// twinOf looks for the twin of r in a list; parts gives what does not tell two apart:
// the record, and a time, unless it is more than the window away.
func twinOf[T any](list []T, r T, now time.Time, parts func(*T) (*Record, *time.Time)) (twin Record, ok bool) {
	own, at := parts(&r)
	if !own.CreatedAt.IsZero() {
		return Record{}, false // not new
	}
	when, id := *at, own.ID
	*own, *at = Record{}, time.Time{}
	for _, x := range list {
		its, then := parts(&x)
		rec, apart := *its, then.Sub(when).Abs()
		*its, *then = Record{}, time.Time{}
		lately := now.Sub(rec.CreatedAt) <= twinWindow && !rec.CreatedAt.Before(twin.CreatedAt)
		if id != "" && rec.ID == id {
			continue // itself, tried out before it is written
		}
		if lately && apart <= twinWindow && reflect.DeepEqual(x, r) {
			twin, ok = rec, true
		}
	}
	return twin, ok
}

// twinAddition looks for the twin of an addition, made of an extract of its own if made
// is not nil: then the extracts must say the same, too.
func (n *Notebook) twinAddition(a Addition, made *Extract) (Record, bool) {
	list := n.Additions
	if made != nil {
		list = nil
		for _, x := range n.Additions {
			if x.ExtractID == nil {
				continue
			}
			if e, ok := n.ExtractByID(*x.ExtractID); ok && reflect.DeepEqual(steeped(e), steeped(*made)) {
				x.ExtractID = a.ExtractID
				list = append(list, x)
			}
		}
	}
	return twinOf(list, a, n.Now, func(r *Addition) (*Record, *time.Time) { return &r.Record, &r.At })
}

// steeped is an extract without what tells two of the same kind apart.
func steeped(e Extract) Extract {
	e.Record, e.MadeAt = Record{}, time.Time{}
	var list []Pass
	for _, p := range e.Passes {
		p.ID, p.EndedAt, p.LoggedAt = "", nil, time.Time{}
		list = append(list, p)
	}
	e.Passes = list
	if len(e.TopUps) == 0 {
		e.TopUps = nil
	}
	return e
}

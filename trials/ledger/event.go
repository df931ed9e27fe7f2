package ledger

import (
	"cmp"
	"slices"
	"time"

	"hedgerow/trials"
)

// EventKind says what an event of a batch is.
type EventKind string

// The kinds of event.
const (
	EventStart    EventKind = "start"
	EventReading  EventKind = "reading"
	EventAddition EventKind = "addition"
	EventRemoval  EventKind = "removal" // the solids of an addition were taken out
	EventLoss     EventKind = "loss"
	EventSplit    EventKind = "split"      // beer was split off into a child
	EventChild    EventKind = "split-from" // this batch was split off from its parent
	EventPackage  EventKind = "package"
	EventNote     EventKind = "note"
)

// Event is one thing that happened to a batch, with the record behind it.
type Event struct {
	Kind  EventKind
	Name  string       // of the record
	Batch trials.Batch // whose event it is: the batch itself or an ancestor
	At    time.Time

	Reading  *trials.Reading
	Addition *trials.Addition
	Loss     *trials.Loss
	Child    *trials.Batch
	Package  *trials.Packaging
	Note     *trials.BatchNote

	written time.Time // when the record was made, to order events of one moment
	rank    int       // the start comes before all else of its moment
}

// Events returns what happened to a batch in time order, its ancestors' history
// up to the split included. Additions to hot wort come right after the start,
// since the original gravity was read after them.
func Events(n *trials.Notebook, b trials.Batch) []Event {
	events := ownEvents(n, b)
	for b.ParentID != nil {
		parent, ok := n.BatchByID(*b.ParentID)
		if !ok {
			break
		}
		for _, e := range ownEvents(n, parent) {
			before := e.At.Before(b.StartedAt) || e.At.Equal(b.StartedAt) && e.written.Before(b.CreatedAt)
			if before && e.Kind != EventPackage && (e.Child == nil || e.Child.ID != b.ID) {
				events = append(events, e)
			}
		}
		b = parent
	}
	slices.SortStableFunc(events, func(x, y Event) int {
		return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.rank, y.rank), x.written.Compare(y.written))
	})
	return events
}

// ownEvents returns the events of one batch alone, unsorted.
func ownEvents(n *trials.Notebook, b trials.Batch) []Event {
	start := Event{Kind: EventStart, Name: b.Name, Batch: b, At: b.StartedAt, written: b.CreatedAt, rank: -2}
	if b.ParentID != nil {
		// It comes after what was done to the parent at the same moment.
		start.Kind, start.rank = EventChild, 0
	}
	events := append([]Event{start}, additionEvents(n, b)...)
	for _, r := range n.Readings {
		if r.BatchID == b.ID {
			events = append(events, Event{Kind: EventReading, Name: r.Name, Batch: b, At: r.At, Reading: &r, written: r.CreatedAt})
		}
	}
	for _, l := range n.Losses {
		if l.BatchID == b.ID {
			events = append(events, Event{Kind: EventLoss, Name: l.Name, Batch: b, At: l.At, Loss: &l, written: l.CreatedAt})
		}
	}
	for _, c := range n.Children(b.ID) {
		events = append(events, Event{Kind: EventSplit, Name: c.Name, Batch: b, At: c.StartedAt, Child: &c, written: c.CreatedAt})
	}
	for _, t := range n.BatchNotes {
		if t.BatchID == b.ID {
			events = append(events, Event{Kind: EventNote, Name: t.Name, Batch: b, At: t.At, Note: &t, written: t.CreatedAt})
		}
	}
	if p, ok := n.Packaged(b.ID); ok {
		events = append(events, Event{Kind: EventPackage, Name: p.Name, Batch: b, At: p.At, Package: &p, written: p.CreatedAt})
	}
	return events
}

// additionEvents returns the additions of a batch and the moments their solids
// came out again.
func additionEvents(n *trials.Notebook, b trials.Batch) []Event {
	var events []Event
	for _, a := range n.Additions {
		if a.BatchID != b.ID {
			continue
		}
		e := Event{Kind: EventAddition, Name: a.Name, Batch: b, At: a.At, Addition: &a, written: a.CreatedAt}
		if a.InWort() {
			e.At, e.rank = b.StartedAt, -1
		}
		events = append(events, e)
		if out, ok := removedAt(a); ok && !out.After(n.Now) {
			e.Kind, e.At = EventRemoval, out
			events = append(events, e)
		}
	}
	return events
}

// removedAt returns when the solids of a direct addition to the fermenter came
// out, if a time in the beer was given.
func removedAt(a trials.Addition) (time.Time, bool) {
	if a.Minutes == nil || a.InWort() || a.MaterialKey == "" || a.ExtractID != nil {
		return time.Time{}, false
	}
	return a.At.Add(time.Duration(*a.Minutes * float64(time.Minute))), true
}

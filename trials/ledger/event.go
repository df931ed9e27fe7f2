package ledger

import (
	"cmp"
	"iter"
	"slices"
	"time"

	"hedgerow/trials"
)

// eventKind says what an event of a batch is.
type eventKind string

// The kinds of event.
const (
	EventStart    eventKind = "start"
	EventReading  eventKind = "reading"
	EventAddition eventKind = "addition"
	EventRemoval  eventKind = "removal" // the solids of an addition were taken out
	EventLoss     eventKind = "loss"
	EventSplit    eventKind = "split"      // beer was split off into a child
	EventChild    eventKind = "split-from" // this batch was split off from its parent
	EventPackage  eventKind = "package"
	EventNote     eventKind = "note"
	EventTasting  eventKind = "tasting" // it was served; it changes nothing
	// EventConditioned ends a ledger: the beer as it is expected after fermentation in
	// the package. No record is behind it.
	EventConditioned eventKind = "conditioned"
)

// Event is one thing that happened to a batch, with the record behind it.
type Event struct {
	Kind  eventKind    // what happened
	Name  string       // of the record
	Batch trials.Batch // whose event it is: the batch itself or an ancestor
	At    time.Time    // when it happened

	Reading  *trials.Reading   // nil for other kinds
	Addition *trials.Addition  // nil for other kinds
	Loss     *trials.Loss      // nil for other kinds
	Child    *trials.Batch     // the batch split off
	Package  *trials.Packaging // nil for other kinds
	Note     *trials.BatchNote // nil for other kinds
	Tasting  *trials.Tasting   // nil for other kinds

	written time.Time // when the record was made, to order events of one moment
	rank    int       // the start comes before all else of its moment
	place   int       // of the kind, among events of one moment written together
}

// Events returns what happened to a batch in time order, its ancestors' history
// up to the split included. Additions to hot wort come right after the start.
func Events(n *trials.Notebook, b trials.Batch) []Event { return newHistory(n.Index()).events(b) }

// history is the events of the batches of a notebook, those of each batch read
// once.
type history struct {
	*trials.Index
	own    map[string][]Event          // by id of the batch
	tasted map[string][]trials.Tasting // by id of the batch; nil until one is asked for
}

// newHistory returns the history of a notebook.
func newHistory(x *trials.Index) *history { return &history{Index: x, own: map[string][]Event{}} }

// events is Events.
func (h *history) events(b trials.Batch) []Event {
	events := slices.Clone(h.ownEvents(b))
	for depth := 1; b.ParentID != nil; depth++ {
		// bounded, so that parents in a circle end all the same
		parent, ok := h.BatchByID(*b.ParentID)
		if !ok || depth > len(h.Batches) {
			break
		}
		for _, e := range h.ownEvents(parent) {
			before := e.At.Before(b.StartedAt) || e.At.Equal(b.StartedAt) && e.written.Before(b.CreatedAt)
			// bottling the rest of the parent is not bottling this one, and this split is its own start
			if before && e.Kind != EventPackage && (e.Child == nil || e.Child.ID != b.ID) {
				e.place += depth * kinds
				events = append(events, e)
			}
		}
		b = parent
	}
	slices.SortFunc(events, compareEvents)
	return events
}

// line yields a batch and its ancestors, youngest first; a circle ends it.
func (h *history) line(b trials.Batch) iter.Seq[trials.Batch] {
	return func(yield func(trials.Batch) bool) {
		for range len(h.Batches) + 1 {
			if !yield(b) || b.ParentID == nil {
				return
			}
			parent, ok := h.BatchByID(*b.ParentID)
			if !ok {
				return
			}
			b = parent
		}
	}
}

// compareEvents orders events by time; of one moment by rank and by when they were
// written; of one writing by kind, then by name, so that the order of records
// decides nothing.
func compareEvents(x, y Event) int {
	return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.rank, y.rank), x.written.Compare(y.written),
		cmp.Compare(x.place, y.place), cmp.Compare(len(x.Name), len(y.Name)), cmp.Compare(x.Name, y.Name))
}

// The places of the kinds among events of one moment that were written together.
const (
	placeStart = iota
	placeAddition
	placeRemoval
	placeReading
	placeLoss
	placeSplit
	placeNote
	placePackage
	kinds
)

// ownEvents returns the events of one batch alone, unsorted.
func (h *history) ownEvents(b trials.Batch) []Event {
	if events, known := h.own[b.ID]; known {
		return events
	}
	start := Event{Kind: EventStart, Name: b.Name, Batch: b, At: b.StartedAt, written: b.CreatedAt, rank: -2,
		place: placeStart}
	if b.ParentID != nil {
		// It comes after what was done to the parent at the same moment.
		start.Kind, start.rank = EventChild, 0
	}
	events := append([]Event{start}, h.additionEvents(b)...)
	for _, r := range h.ReadingsOf(b.ID) {
		events = append(events, Event{Kind: EventReading, Name: r.Name, Batch: b, At: r.At, Reading: &r,
			written: r.CreatedAt, place: placeReading})
	}
	for _, l := range h.LossesOf(b.ID) {
		events = append(events, Event{Kind: EventLoss, Name: l.Name, Batch: b, At: l.At, Loss: &l, written: l.CreatedAt,
			place: placeLoss})
	}
	for _, c := range h.Children(b.ID) {
		events = append(events, Event{Kind: EventSplit, Name: c.Name, Batch: b, At: c.StartedAt, Child: &c,
			written: c.CreatedAt, place: placeSplit})
	}
	for _, t := range h.NotesOf(b.ID) {
		events = append(events, Event{Kind: EventNote, Name: t.Name, Batch: b, At: t.At, Note: &t, written: t.CreatedAt,
			place: placeNote})
	}
	if p, ok := h.Packaged(b.ID); ok {
		events = append(events, Event{Kind: EventPackage, Name: p.Name, Batch: b, At: p.At, Package: &p,
			written: p.CreatedAt, place: placePackage})
	}
	h.own[b.ID] = events
	return events
}

// additionEvents returns the additions of a batch and the moments their solids
// came out again.
func (h *history) additionEvents(b trials.Batch) []Event {
	var events []Event
	for _, a := range h.AdditionsTo(b.ID) {
		e := Event{Kind: EventAddition, Name: a.Name, Batch: b, At: a.At, Addition: &a, written: a.CreatedAt,
			place: placeAddition}
		if a.InWort() {
			// whatever its time: the account begins with the wort that came out of it, or that it went into
			e.At, e.rank = b.StartedAt, -1
		}
		events = append(events, e)
		if a.InWort() {
			if a.IsPlant() && !a.InReadings() {
				e.Kind, e.place = EventRemoval, placeRemoval
				events = append(events, e)
			}
			continue
		}
		out, ok := a.TakenOut()
		if p, packaged := h.Packaged(b.ID); packaged && a.IsPlant() && (!ok || out.After(p.At)) {
			// What is left in stays behind when the beer is drawn off.
			out, ok, e.written = p.At, true, p.CreatedAt
		} else {
			// with a time still to come it is in, as far as anybody knows
			ok = ok && !out.After(h.Now)
		}
		if ok {
			e.Kind, e.At, e.place = EventRemoval, out, placeRemoval
			events = append(events, e)
		}
	}
	return events
}

package trials

import (
	"cmp"
	"slices"
)

// Index finds the records of a notebook by what they belong to, each in one
// step, however many there are. It holds for the notebook as it was when the
// index was made.
type Index struct {
	*Notebook // the records themselves

	batches    map[string]int // place in Batches, by id
	extracts   map[string]int
	tasters    map[string]string  // name by id
	children   map[string][]Batch // by id of the parent, in time order
	additions  map[string][]Addition
	pours      map[string][]Addition // by id of the extract
	readings   map[string][]Reading
	losses     map[string][]Loss
	notes      map[string][]BatchNote
	packagings map[string]Packaging
	served     map[string]bool // by id of the batch
}

// Index makes an index of the notebook as it is now.
func (n *Notebook) Index() *Index {
	x := &Index{Notebook: n,
		batches:  placed(n.Batches, func(b Batch) string { return b.ID }),
		extracts: placed(n.Extracts, func(e Extract) string { return e.ID }),
		tasters:  map[string]string{}, packagings: map[string]Packaging{}, served: map[string]bool{},
		additions: grouped(n.Additions, func(a Addition) *string { return &a.BatchID }),
		pours:     grouped(n.Additions, func(a Addition) *string { return a.ExtractID }),
		readings:  grouped(n.Readings, func(r Reading) *string { return &r.BatchID }),
		losses:    grouped(n.Losses, func(l Loss) *string { return &l.BatchID }),
		notes:     grouped(n.BatchNotes, func(t BatchNote) *string { return &t.BatchID }),
		children:  grouped(n.Batches, func(b Batch) *string { return b.ParentID }),
	}
	for _, kids := range x.children {
		slices.SortStableFunc(kids, compareStart)
	}
	for _, t := range n.Tasters {
		x.tasters[t.ID] = t.Name
	}
	for _, p := range n.Packagings {
		// the first, as Notebook.Packaged finds it: an answer must not hang on which of the two was asked
		if _, known := x.packagings[p.BatchID]; !known {
			x.packagings[p.BatchID] = p
		}
	}
	for _, s := range n.Servings {
		x.served[s.BatchID] = true
	}
	return x
}

// placed returns the place of each record in the list, by id; of two with one id
// the first.
func placed[T any](list []T, id func(T) string) map[string]int {
	at := make(map[string]int, len(list))
	// backwards, so that the first of two with one id is the one that stays
	for i := len(list) - 1; i >= 0; i-- {
		at[id(list[i])] = i
	}
	return at
}

// grouped returns the records by key, in the order of the list; those without a
// key are left out.
func grouped[T any](list []T, key func(T) *string) map[string][]T {
	by := map[string][]T{}
	for _, r := range list {
		if k := key(r); k != nil {
			by[*k] = append(by[*k], r)
		}
	}
	return by
}

// compareStart orders batches by when they began, then by name.
func compareStart(a, b Batch) int {
	return cmp.Or(a.StartedAt.Compare(b.StartedAt), cmp.Compare(a.Name, b.Name))
}

// at returns the record at a place that a map gives, if there is one.
func at[T any](list []T, places map[string]int, id string) (T, bool) {
	i, ok := places[id]
	if !ok {
		var none T
		return none, false
	}
	return list[i], true
}

// BatchByID returns the batch with that id.
func (x *Index) BatchByID(id string) (Batch, bool) { return at(x.Batches, x.batches, id) }

// ExtractByID returns the extract with that id.
func (x *Index) ExtractByID(id string) (Extract, bool) { return at(x.Extracts, x.extracts, id) }

// TasterName returns the name of the taster with that id.
func (x *Index) TasterName(id string) string {
	if name, ok := x.tasters[id]; ok {
		return name
	}
	return unknownTaster
}

// Children returns the batches split from a batch, in time order.
func (x *Index) Children(batchID string) []Batch { return x.children[batchID] }

// AdditionsTo returns the additions to a batch.
func (x *Index) AdditionsTo(batchID string) []Addition { return x.additions[batchID] }

// PoursOf returns the additions that poured from an extract.
func (x *Index) PoursOf(extractID string) []Addition { return x.pours[extractID] }

// ReadingsOf returns the readings of a batch.
func (x *Index) ReadingsOf(batchID string) []Reading { return x.readings[batchID] }

// LossesOf returns the losses of a batch.
func (x *Index) LossesOf(batchID string) []Loss { return x.losses[batchID] }

// NotesOf returns the notes on a batch.
func (x *Index) NotesOf(batchID string) []BatchNote { return x.notes[batchID] }

// Packaged returns the packaging of a batch, if it has been packaged.
func (x *Index) Packaged(batchID string) (Packaging, bool) {
	p, ok := x.packagings[batchID]
	return p, ok
}

// WasServed reports whether a batch was ever poured at a tasting.
func (x *Index) WasServed(batchID string) bool { return x.served[batchID] }

// Root returns the oldest ancestor of a batch.
func (x *Index) Root(b Batch) Batch {
	// bounded, so that parents in a circle, in a damaged file, end all the same
	for range len(x.Batches) {
		if b.ParentID == nil {
			break
		}
		parent, ok := x.BatchByID(*b.ParentID)
		if !ok {
			break
		}
		b = parent
	}
	return b
}

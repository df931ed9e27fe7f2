package ledger

import (
	"cmp"
	"slices"
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// withTastings puts the tastings of a batch up to today into its ledger, each in its
// place in time, with the beer and the doses of its moment.
func (k *book) withTastings(l Ledger) (Ledger, error) {
	steps := slices.Clone(l.Steps)
	for _, t := range slices.Backward(k.tastingsOf(l.Batch.ID)) {
		place := l.placeOf(t.At)
		if place < 0 || t.At.After(k.Now) {
			continue
		}
		doses, err := k.dosesAt(l, place, t.At)
		if err != nil {
			return l, err
		}
		step := ledgerStep{Event: Event{Kind: EventTasting, Name: t.Name, Batch: l.Batch, At: t.At, Tasting: &t},
			Result: l.Steps[l.beerAt(t.At)].Result, Doses: doses}
		step.Result.Changes = [dilution.NumQuantities]figure.Estimate{}
		// Of two tastings in one place the earlier is put in last, before the other.
		steps = slices.Insert(steps, place+1, step)
	}
	l.Steps = steps
	return l, nil
}

// tastingsOf are the tastings at which a batch was served, the first first.
func (h *history) tastingsOf(batchID string) []trials.Tasting {
	if h.tasted == nil {
		h.tasted = map[string][]trials.Tasting{}
		byID := map[string]trials.Tasting{}
		for _, t := range h.Tastings {
			byID[t.ID] = t
		}
		for _, v := range h.Servings {
			known := h.tasted[v.BatchID]
			if !slices.ContainsFunc(known, func(t trials.Tasting) bool { return t.ID == v.TastingID }) {
				h.tasted[v.BatchID] = append(known, byID[v.TastingID])
			}
		}
		for _, list := range h.tasted {
			slices.SortFunc(list, compareTastings)
		}
	}
	return h.tasted[batchID]
}

// compareTastings orders tastings by time, then by name.
func compareTastings(a, b trials.Tasting) int {
	return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Name, b.Name))
}

// placeOf is the last step by a moment, -1 for none. The beer after conditioning is a
// step of the moment in which it was closed in, but later than all else of it.
func (l Ledger) placeOf(at time.Time) int {
	place := -1
	for i, s := range l.Steps {
		if s.At.After(at) || s.Kind == EventConditioned && !at.After(s.At) {
			break
		}
		place = i
	}
	return place
}

// beerAt is the step that tells what the beer was at a moment: beer that was closed in
// before is taken as it is after conditioning.
func (l Ledger) beerAt(at time.Time) int {
	if l.Conditioning != nil && at.After(l.Conditioning.Since) {
		return len(l.Steps) - 1
	}
	return l.placeOf(at)
}

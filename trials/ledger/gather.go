package ledger

import (
	"cmp"
	"fmt"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
	"slices"
	"time"
)

// gatherer gathers the trials of the materials of one notebook. What they share
// is worked out once.
type gatherer struct {
	*book
	detail   steeps.Detail
	close    *book                       // the same in closer detail: with intervals
	closely  map[[2]string]Trial         // worked out so far, by id of the batch and material
	evenings map[string][]trials.Serving // by id of the tasting, in the order of their codes
	scores   map[string][]int            // places in the notebook's scores, by id of the serving
}

// newGatherer returns a Gatherer whose ledgers are in a detail.
func newGatherer(n *trials.Notebook, d steeps.Detail) (*gatherer, error) {
	k, err := newBook(n, d)
	if err != nil {
		return nil, err
	}
	g := &gatherer{book: k, detail: d, close: k.in(steeps.OneClass), evenings: map[string][]trials.Serving{},
		scores:  map[string][]int{},
		closely: map[[2]string]Trial{}}
	for _, v := range n.Servings {
		g.evenings[v.TastingID] = append(g.evenings[v.TastingID], v)
	}
	for _, list := range g.evenings {
		slices.SortFunc(list, func(a, b trials.Serving) int { return cmp.Compare(a.Code, b.Code) })
	}
	for i, sc := range n.Scores {
		g.scores[sc.ServingID] = append(g.scores[sc.ServingID], i)
	}
	for _, list := range g.scores {
		// in an order of their own: sums hang on it in their last digits, and the order of records must not
		slices.SortFunc(list, func(i, j int) int {
			a, b := &n.Scores[i], &n.Scores[j]
			return cmp.Or(cmp.Compare(a.TasterID, b.TasterID), cmp.Compare(a.Attribute, b.Attribute), cmp.Compare(a.ID, b.ID))
		})
	}
	return g, nil
}

// Gather gathers the trials of a material: every batch that got it, and as
// controls the batches without it that were served beside them. Doses and
// strengths have their intervals, to first order.
func Gather(n *trials.Notebook, m trials.Material) (TrialSet, error) {
	g, err := newGatherer(n, steeps.OneClass)
	if err != nil {
		return TrialSet{}, err
	}
	return g.gather(m)
}

// GatherBest is Gather without intervals but those that TrialSet.SpreadLn works
// out when asked.
func GatherBest(n *trials.Notebook, m trials.Material) (TrialSet, error) {
	g, err := newGatherer(n, steeps.BestValues)
	if err != nil {
		return TrialSet{}, err
	}
	return g.gather(m)
}

// gather gathers one's own trials of a material, with the claims.
func (g *gatherer) gather(m trials.Material) (TrialSet, error) {
	s, err := g.gatherOf(m, "")
	for _, c := range g.Claims {
		if c.MaterialKey == m.Key {
			s.Claims = append(s.Claims, c)
		}
	}
	return s, err
}

// gatherOf gathers the trials of a material that one brewer made, by id; one's own is "".
func (g *gatherer) gatherOf(m trials.Material, brewer string) (TrialSet, error) {
	s := TrialSet{Material: m, Class: trials.ClassIndex(m), brewer: brewer, from: g}
	for _, b := range g.Batches {
		if !g.got(b, m.Key) || g.onlyParent(b) {
			continue
		}
		if b.Brewer != brewer {
			s.Others = append(s.Others, b.Name)
			continue
		}
		// a dose needs no gravity, but a strength beside it does
		if g.Root(b).OG == nil {
			s.NoLedger = append(s.NoLedger, b.Name)
			continue
		}
		list, err := g.trialsOf(b, m, g.closedOf(b))
		if err != nil {
			return TrialSet{}, err
		}
		s.Trials = append(s.Trials, list...)
	}
	g.tastings(&s)
	if err := g.dosed(&s); err != nil {
		return TrialSet{}, err
	}
	return s, g.controls(&s)
}

// closedOf are the tastings of a batch that are no longer sealed, the first first.
func (g *gatherer) closedOf(b trials.Batch) []trials.Tasting {
	return slices.DeleteFunc(slices.Clone(g.tastingsOf(b.ID)), trials.Tasting.Sealed)
}

// onlyParent reports whether a batch was wholly handed on to its children or
// was never tasted while they were: then the children are the trials.
func (k *book) onlyParent(b trials.Batch) bool {
	return len(k.Children(b.ID)) > 0 && !k.WasServed(b.ID)
}

// MaterialsOf lists the materials that went into a batch, its ancestors' history
// up to the split included.
func MaterialsOf(n *trials.Notebook, b trials.Batch) []string {
	return newHistory(n.Index()).materialsOf(b)
}

// materialsOf is MaterialsOf.
func (h *history) materialsOf(b trials.Batch) []string {
	var keys []string
	for _, e := range h.events(b) {
		if e.Kind != EventAddition {
			continue
		}
		if key := h.materialIn(*e.Addition); key != "" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}

// materialIn is the material of an addition or of the extract that it poured,
// empty for a plain liquid.
func (h *history) materialIn(a trials.Addition) string {
	if a.ExtractID == nil {
		return a.MaterialKey
	}
	x, _ := h.ExtractByID(*a.ExtractID)
	return x.MaterialKey
}

// got reports whether a material went into a batch. Most batches never met it,
// which the additions of their line tell without putting events in order.
func (h *history) got(b trials.Batch, key string) bool {
	for line := range h.line(b) {
		if slices.ContainsFunc(h.AdditionsTo(line.ID), func(a trials.Addition) bool { return h.materialIn(a) == key }) {
			return slices.Contains(h.materialsOf(b), key)
		}
	}
	return false
}

// tastings adds the closed tastings in which the trials were served, and names
// those still sealed.
func (g *gatherer) tastings(s *TrialSet) {
	ours := map[string]bool{}
	for _, t := range s.Trials {
		ours[t.Batch.ID] = true
	}
	for _, t := range g.Tastings {
		servings := g.evenings[t.ID]
		if !slices.ContainsFunc(servings, func(v trials.Serving) bool { return ours[v.BatchID] }) {
			continue
		}
		if g.told(s, t) {
			s.Servings = append(s.Servings, servings...)
		}
	}
}

// told adds a tasting to the set, with what is to be said of how blind it was; of one that
// is sealed only its name, and false.
func (g *gatherer) told(s *TrialSet, t trials.Tasting) bool {
	if t.Sealed() {
		s.Sealed = append(s.Sealed, t.Name)
		return false
	}
	if t.Alone {
		s.Alone = append(s.Alone, t.Name)
	}
	if t.PeekedAt != nil {
		s.Peeked = append(s.Peeked, t.Name)
	}
	if count, _ := g.Marked(t.ID, trials.MarkScored); count > 0 {
		s.Changed = append(s.Changed, fmt.Sprintf("%s (%d)", t.Name, count))
	}
	if !t.Blind {
		s.Open = append(s.Open, t.Name)
	}
	s.Tastings = append(s.Tastings, t)
	return true
}

// controls adds the batches without the material that were served beside the
// trials, and the scores of all. A batch with a material that no trial has is no
// control: neither it nor its servings belong to the set.
func (g *gatherer) controls(s *TrialSet) error {
	known, common := map[string]bool{}, map[string]bool{}
	for _, t := range s.Trials {
		known[t.Batch.ID] = true
		for _, key := range g.materialsOf(t.Batch) {
			common[key] = true
		}
	}
	beside := func(key string) bool { return key == s.Material.Key || !common[key] }
	for _, v := range s.Servings {
		b, ok := g.BatchByID(v.BatchID)
		if !ok || known[v.BatchID] || b.Brewer != s.brewer || slices.ContainsFunc(g.materialsOf(b), beside) {
			continue
		}
		list, err := g.trialsOf(b, s.Material, nil)
		if err != nil {
			return err
		}
		known[v.BatchID] = true
		s.Trials = append(s.Trials, list...)
	}
	s.Servings = slices.DeleteFunc(s.Servings, func(v trials.Serving) bool { return !known[v.BatchID] })
	slices.SortFunc(s.Trials, compareDose)
	s.stamp()
	// after the sort, for scores refer to trials by their place
	g.join(s)
	return nil
}

// join adds the scores, each with its trial and taster.
func (g *gatherer) join(s *TrialSet) {
	place, count := s.places(), 0
	for _, v := range s.Servings {
		count += len(g.scores[v.ID])
	}
	s.Scores = make([]Scored, 0, count)
	for _, v := range s.Servings {
		for _, i := range g.scores[v.ID] {
			sc := g.Scores[i]
			s.Scores = append(s.Scores, Scored{Score: sc, Trial: place.of(v), Taster: g.TasterName(sc.TasterID)})
		}
	}
}

// places are the indexes of the trials by the ids of their batch and of a tasting, with
// that of the first trial of a batch under the batch alone.
type places map[[2]string]int

// of is the index of the trial that a serving is of.
func (p places) of(v trials.Serving) int {
	if i, ok := p[[2]string{v.BatchID, v.TastingID}]; ok {
		return i
	}
	return p[[2]string{v.BatchID}]
}

// places returns the indexes of the trials.
func (s *TrialSet) places() places {
	p := make(places, len(s.Trials))
	for i, t := range s.Trials {
		if t.Day == nil {
			p[[2]string{t.Batch.ID}] = i
		}
		for _, id := range t.tastings {
			p[[2]string{t.Batch.ID, id}] = i
		}
	}
	return p
}

// compareDose orders trials by effective dose, then by name.
func compareDose(a, b Trial) int {
	return cmp.Or(cmp.Compare(a.Effective.Value, b.Effective.Value), cmp.Compare(a.Batch.Name, b.Batch.Name),
		cmp.Compare(a.Name(), b.Name()))
}

// stamp notes for each trial when it was tasted, the first time first.
func (s *TrialSet) stamp() {
	at, place := map[string]time.Time{}, s.places()
	for _, t := range s.Tastings {
		at[t.ID] = t.At
	}
	for _, v := range s.Servings {
		t := &s.Trials[place.of(v)]
		if when := at[v.TastingID]; !slices.Contains(t.TastedAt, when) {
			t.TastedAt = append(t.TastedAt, when)
		}
	}
	for _, t := range s.Trials {
		slices.SortFunc(t.TastedAt, time.Time.Compare)
	}
}

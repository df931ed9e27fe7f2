package ledger

import (
	"cmp"
	"slices"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/steeps"
)

// Standing is where a batch stands now.
type Standing struct {
	Batch    trials.Batch      // the beer itself
	Day      float64           // of its brew, as the ledger counts
	LeftL    figure.Estimate   // litres that are left of it; not OK where that cannot be worked out
	ABVPct   figure.Estimate   // % vol; not OK without an original gravity
	In       []content         // what went in, in the order of their first additions
	Packaged *time.Time        // when it was closed in; nil for never
	Tasted   int               // tastings in which it was served
	LastAt   time.Time         // of its last event
	Gravity  []trials.Reading  // gravities read so far, the oldest first
	StillIn  []trials.Addition // plants that lie in the beer
}

// content is a material that is in a beer.
type content struct {
	MaterialKey string          // key of the material
	Method      string          // of the largest addition
	Since       time.Time       // of the first
	GPerL       figure.Estimate // effective dose so far, of the class that counts
	StillIn     bool            // a plant of it lies in the beer and gives more
}

// spentShare is the share of a batch below which it counts as split off or poured out:
// what a racking leaves behind.
const spentShare = 0.02

// Spent reports whether nothing to speak of is left of the batch.
func (s Standing) Spent() bool { return s.LeftL.OK && Spent(s.Batch, s.LeftL.Value) }

// Spent reports whether so little of a batch is left that it counts as gone.
func Spent(b trials.Batch, leftL float64) bool { return leftL < spentShare*b.VolumeL }

// LastEvents returns when something last happened to each batch, by its id, as far as
// the notebook's moment.
func LastEvents(n *trials.Notebook) map[string]time.Time {
	h := newHistory(n.Index())
	last := make(map[string]time.Time, len(n.Batches))
	for _, b := range n.Batches {
		at := b.StartedAt
		for _, e := range h.ownEvents(b) {
			if !e.At.After(n.Now) {
				at = later(at, e.At)
			}
		}
		for _, t := range h.tastingsOf(b.ID) {
			if !t.At.After(n.Now) {
				at = later(at, t.At)
			}
		}
		last[b.ID] = at
	}
	return last
}

// Standings tells where batches stand, with first-order intervals.
func Standings(n *trials.Notebook, list []trials.Batch) ([]Standing, error) {
	k, err := newBook(n, steeps.OneClass)
	if err != nil {
		return nil, err
	}
	last := LastEvents(n)
	standings := make([]Standing, len(list))
	for i, b := range list {
		standings[i] = k.standing(b)
		standings[i].LastAt = last[b.ID]
	}
	return standings, nil
}

// standing is where one batch stands.
func (k *book) standing(b trials.Batch) Standing {
	s := Standing{Batch: b, Day: k.Now.Sub(k.Root(b).StartedAt).Hours() / 24, Tasted: len(k.tastingsOf(b.ID))}
	if p, ok := k.Packaged(b.ID); ok {
		s.Packaged = &p.At
	}
	for line := range k.line(b) {
		for _, r := range k.ReadingsOf(line.ID) {
			if r.SG != nil && (line.ID == b.ID || r.At.Before(b.StartedAt)) {
				s.Gravity = append(s.Gravity, r)
			}
		}
	}
	slices.SortFunc(s.Gravity, func(x, y trials.Reading) int {
		return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.Name, y.Name))
	})
	l, err := k.ledger(b)
	if err != nil {
		s.LeftL = k.leftL(b)
		return s
	}
	state := l.Last().State()
	s.LeftL, s.ABVPct = state.VolumeL, state.ABVPct
	s.contents(l)
	return s
}

// contents gathers what went in by material.
func (s *Standing) contents(l Ledger) {
	out := map[string]bool{}
	additions := map[string]trials.Addition{}
	for _, step := range l.Steps {
		switch step.Kind {
		case EventAddition:
			additions[step.Name] = *step.Addition
		case EventRemoval:
			out[step.Name] = true
		}
	}
	largest := map[string]float64{}
	for _, d := range l.Doses {
		a := additions[d.Addition]
		in := a.IsPlant() && !a.InWort() && !out[d.Addition]
		if in {
			s.StillIn = append(s.StillIn, a)
		}
		i := slices.IndexFunc(s.In, func(c content) bool { return c.MaterialKey == d.MaterialKey })
		if i < 0 {
			i = len(s.In)
			s.In = append(s.In, content{MaterialKey: d.MaterialKey, Since: a.At})
		}
		c := &s.In[i]
		c.GPerL = plus(c.GPerL, d.GPerL[d.Class])
		c.StillIn = c.StillIn || in
		if a.At.Before(c.Since) {
			c.Since = a.At
		}
		if d.MassG >= largest[d.MaterialKey] {
			largest[d.MaterialKey], c.Method = d.MassG, d.Method
		}
	}
}

// LeftL returns the litres that are left of every batch, by its id, without intervals;
// none for a batch whose account cannot be.
func LeftL(n *trials.Notebook) (map[string]float64, error) {
	k, err := newBook(n, steeps.BestValues)
	if err != nil {
		return nil, err
	}
	left := make(map[string]float64, len(n.Batches))
	for _, b := range n.Batches {
		if l := k.leftL(b); l.OK {
			left[b.ID] = l.Value
		}
	}
	return left, nil
}

// plainOG stands for an original gravity that was not read, where the volume alone is
// asked for: mixing and fermentation move it by less than the beer that clings to a
// hose.
const plainOG = 1.050

// leftL is the best value of the litres left, which needs no dose.
func (k *book) leftL(b trials.Batch) figure.Estimate {
	if k.Root(b).OG == nil {
		k = k.withPlainOG()
		b, _ = k.BatchByID(b.ID)
	}
	builder, err := k.laidOut(b)
	if err != nil {
		return figure.Estimate{}
	}
	snaps, err := builder.account.Run()
	if err != nil {
		return figure.Estimate{}
	}
	return figure.Estimate{Value: snaps[len(snaps)-1].State.VolumeL(), OK: true}
}

// withPlainOG is the book of the same notebook with plainOG for every original gravity
// that was not read. It is made once: a notebook of years can have hundreds of those.
func (k *book) withPlainOG() *book {
	if k.plain == nil {
		n := *k.Notebook
		n.Batches = slices.Clone(n.Batches)
		og := plainOG
		for i := range n.Batches {
			if b := &n.Batches[i]; b.ParentID == nil && b.OG == nil {
				b.OG = &og
			}
		}
		assumed := *k
		assumed.history = newHistory(n.Index())
		k.plain = &assumed
	}
	return k.plain
}

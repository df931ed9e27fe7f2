package steeps

import (
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// Steeper works out the extracts and plants of one notebook, each once. It holds
// for the notebook as it was when its index was made.
type Steeper struct {
	index     *trials.Index
	materials trials.Materials
	detail    Detail
	lessons   *lessons
	jugs      map[string]course // by id of the extract
	direct    map[directKey]reckoned
}

// lessons are what measured extracts of a notebook taught, worked out when first
// asked for.
type lessons struct {
	held   map[string][]heldThen // measured held liquid by material, in time order
	taught map[bag][]taughtThen  // soluble share by bag of a material, in time order
	// what the readings of a tea said, by id of the extract
	read map[string]*extraction.SolidsUpdate
}

// course is an extract with what became of it.
type course struct {
	reckoned
	jug Jug
}

// reckoned is a yield, or why there is none.
type reckoned struct {
	yield Yield
	err   error
}

// Detail says how much of a yield is worked out.
type Detail int

// The details, the most first.
const (
	Full       Detail = iota // every class with intervals, and the origin of each figure
	OneClass                 // the class that counts for the material, with its interval
	BestValues               // the class that counts, without an interval
)

// NewSteeper returns a Steeper that works out yields in a detail.
func NewSteeper(x *trials.Index, materials trials.Materials, d Detail) *Steeper {
	return &Steeper{index: x, materials: materials, detail: d, lessons: &lessons{}, jugs: map[string]course{},
		direct: map[directKey]reckoned{}}
}

// In returns a Steeper of the same notebook for another detail, or for materials that
// differ in nothing but the class that counts. What the notebook teaches is worked out
// once for both.
func (s *Steeper) In(materials trials.Materials, d Detail) *Steeper {
	other := NewSteeper(s.index, materials, d)
	other.lessons = s.lessons
	return other
}

// OfExtract works out what an extract gives.
func OfExtract(n *trials.Notebook, materials trials.Materials, x trials.Extract) (Yield, error) {
	return NewSteeper(n.Index(), materials, Full).Extract(x)
}

// JugOf follows an extract through its passes, top-ups and pours, without
// intervals; see FollowJug. A pour without a volume takes all that is left. One of
// more than there was has a Problem; see Check.
func JugOf(n *trials.Notebook, materials trials.Materials, x trials.Extract) (Jug, error) {
	_, jug, err := NewSteeper(n.Index(), materials, BestValues).Follow(x)
	return jug, err
}

// Follow returns what a logged extract gives and what became of it.
func (s *Steeper) Follow(x trials.Extract) (Yield, Jug, error) {
	f, known := s.jugs[x.ID]
	if !known {
		f.yield, f.err = s.Extract(x)
		if f.err == nil {
			f.jug, f.err = s.jug(x, f.yield)
		}
		// a refusal is kept too: every pour of the extract meets it
		s.jugs[x.ID] = f
	}
	return f.yield, f.jug, f.err
}

// Direct returns what a logged material put in itself gives up: all the while that
// it is in, up to now if it has not come out.
func (s *Steeper) Direct(a trials.Addition) (Yield, error) {
	if a.Minutes != nil && a.OutAt == nil {
		// The time that was given counts in full, also for one that is only planned.
		return s.DirectBy(a, a.At.Add(time.Duration(*a.Minutes*float64(time.Minute))))
	}
	return s.DirectBy(a, s.index.Now)
}

// DirectBy is Direct up to a moment: what the beer has of it then.
func (s *Steeper) DirectBy(a trials.Addition, by time.Time) (Yield, error) {
	minutes := contactMinutes(s.index, a, by)
	key := directKey{a.ID, minutes}
	r, known := s.direct[key]
	if !known {
		r.yield, r.err = s.ofDirect(a, by)
		s.direct[key] = r
	}
	return r.yield, r.err
}

// DaysIn is how long a plant had been in the beer by a moment, in days.
func (s *Steeper) DaysIn(a trials.Addition, by time.Time) float64 {
	return contactMinutes(s.index, a, by) / (24 * 60)
}

// directKey is a material put in itself, by its id, for so many minutes.
type directKey struct {
	id      string
	minutes float64
}

// yieldOf runs a steep and names what comes out.
func (s *Steeper) yieldOf(steep extraction.Steep, m trials.Material, method string) (Yield, error) {
	switch s.detail {
	case OneClass:
		return oneClassYield(steep, m, method)
	case BestValues:
		return bestYield(steep, m, method)
	}
	return fullYield(steep, m, method)
}

package steeps

import (
	"hedgerow/extraction"
	"hedgerow/trials"
)

// Steeper works out the extracts and plants of one notebook, each once. It holds
// for the notebook as it was when its index was made.
type Steeper struct {
	index     *trials.Index
	materials trials.Materials
	quick     bool
	held      map[string][]heldThen // measured held liquid by material, in time order
	jugs      map[string]course     // by id of the extract
	direct    map[string]reckoned   // by id of the addition
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

// NewSteeper returns a Steeper for what is shown in full: yields of every class,
// with the origin of each figure.
func NewSteeper(x *trials.Index, materials trials.Materials) *Steeper {
	return &Steeper{index: x, materials: materials, jugs: map[string]course{}, direct: map[string]reckoned{}}
}

// NewQuickSteeper returns a Steeper for trials by the hundred: yields of the class
// that counts for the material alone, without the origins of their figures.
func NewQuickSteeper(x *trials.Index, materials trials.Materials) *Steeper {
	s := NewSteeper(x, materials)
	s.quick = true
	return s
}

// OfExtract works out what an extract gives.
func OfExtract(n *trials.Notebook, materials trials.Materials, x trials.Extract) (Yield, error) {
	return NewSteeper(n.Index(), materials).ofExtract(x)
}

// OfDirect works out what a material put in itself gives up. A material that
// is still in is reckoned up to now.
func OfDirect(n *trials.Notebook, materials trials.Materials, a trials.Addition) (Yield, error) {
	return NewSteeper(n.Index(), materials).ofDirect(a)
}

// JugOf follows an extract that gives y: pours and top-ups in time order. Volumes
// are taken to add. A pour without a volume takes all that is left. One that takes
// more than there is, beyond what the held liquid leaves in doubt, has a Problem;
// see Check.
func JugOf(n *trials.Notebook, x trials.Extract, y Yield) Jug { return follow(n.Index(), x, y) }

// Follow returns what a logged extract gives and what became of it.
func (s *Steeper) Follow(x trials.Extract) (Yield, Jug, error) {
	f, known := s.jugs[x.ID]
	if !known {
		f.yield, f.err = s.ofExtract(x)
		if f.err == nil {
			f.jug = follow(s.index, x, f.yield)
		}
		s.jugs[x.ID] = f
	}
	return f.yield, f.jug, f.err
}

// Direct returns what a logged material put in itself gives up.
func (s *Steeper) Direct(a trials.Addition) (Yield, error) {
	r, known := s.direct[a.ID]
	if !known {
		r.yield, r.err = s.ofDirect(a)
		s.direct[a.ID] = r
	}
	return r.yield, r.err
}

// yieldOf runs a steep and names what comes out.
func (s *Steeper) yieldOf(steep extraction.Steep, m trials.Material, method string) (Yield, error) {
	if s.quick {
		return quickYield(steep, m, method)
	}
	return fullYield(steep, m, method)
}

package steeps

import (
	"cmp"
	"slices"
	"sort"
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// heldThen is what was known of the held liquid of a material after an extract
// in which some of it was measured.
type heldThen struct {
	madeAt time.Time
	held   extraction.HeldFigures
}

// remembered is the held liquid last measured for a material in an extract made
// before a moment, by separation.
func (s *Steeper) remembered(material string, before time.Time) extraction.HeldFigures {
	if s.lessons.held == nil {
		s.lessons.held = s.measuredHeld()
	}
	known := s.lessons.held[material]
	// strictly before: an extract does not remember itself
	i := sort.Search(len(known), func(i int) bool { return !known[i].madeAt.Before(before) })
	if i == 0 {
		return extraction.HeldFigures{}
	}
	return known[i-1].held
}

// measuredHeld goes through the extracts in which held liquid was measured, in
// time order; of several made at one moment the last by name counts.
func (s *Steeper) measuredHeld() map[string][]heldThen {
	known := map[string][]heldThen{}
	measured := slices.DeleteFunc(slices.Clone(s.index.Extracts), func(x trials.Extract) bool { return !measuresHeld(x) })
	slices.SortFunc(measured, func(a, b trials.Extract) int {
		return cmp.Or(a.MadeAt.Compare(b.MadeAt), cmp.Compare(a.Name, b.Name))
	})
	for _, x := range measured {
		steep, _, err := steepOf(s.materials, x)
		// what cannot be worked out teaches nothing; whoever asks for that extract is told why
		if err != nil {
			continue
		}
		for i := range steep.Passes {
			steep.Passes[i].Solids = nil // the strength says nothing of the liquid held
		}
		r, err := steep.Run()
		if err != nil {
			continue
		}
		then := heldThen{madeAt: x.MadeAt}
		// what was measured of the other separations still holds
		if before := known[x.MaterialKey]; len(before) > 0 {
			then.held = before[len(before)-1].held
		}
		for i, p := range r.Passes {
			if p.HeldOrigin == extraction.Measured {
				remember(&then.held, steep.Passes[i].Separation, p.HeldMLPerG)
			}
		}
		known[x.MaterialKey] = append(known[x.MaterialKey], then)
	}
	return known
}

// measuresHeld reports whether any pass of an extract has its held liquid
// measured, in one way or another.
func measuresHeld(x trials.Extract) bool {
	return slices.ContainsFunc(x.Passes, func(p trials.Pass) bool {
		return p.RecoveredL != nil || p.HeldL != nil ||
			p.SpentG != nil
	})
}

// remember keeps the held liquid of one separation.
func remember(held *extraction.HeldFigures, s extraction.Separation, mlPerG float64) {
	switch s {
	case extraction.Drained:
		held.Drained = &mlPerG
	case extraction.Squeezed:
		held.Squeezed = &mlPerG
	case extraction.ScrewPressed:
		held.ScrewPressed = &mlPerG
	}
}

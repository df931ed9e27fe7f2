package steeps

import (
	"hedgerow/extraction"
	"hedgerow/trials"
	"slices"
)

// remembered is the held liquid last measured for the material of x in an
// earlier extract, by separation.
func remembered(n *trials.Notebook, materials trials.Materials, x trials.Extract) extraction.HeldFigures {
	var held extraction.HeldFigures
	earlier := slices.Clone(n.Extracts)
	slices.SortStableFunc(earlier, func(a, b trials.Extract) int { return a.MadeAt.Compare(b.MadeAt) })
	for _, e := range earlier {
		if e.MaterialKey != x.MaterialKey || e.ID == x.ID || !e.MadeAt.Before(x.MadeAt) || len(e.Passes) == 0 {
			continue
		}
		s, _, err := steepOf(n, materials, e)
		if err != nil {
			continue
		}
		r, err := s.Run()
		if err != nil {
			continue
		}
		for i, p := range r.Passes {
			if p.HeldOrigin == extraction.Measured {
				remember(&held, s.Passes[i].Separation, p.HeldMLPerG)
			}
		}
	}
	return held
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

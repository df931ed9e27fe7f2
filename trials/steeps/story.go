package steeps

import (
	"slices"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// ExtractStory is all that is known of a logged extract.
type ExtractStory struct {
	Extract trials.Extract // as logged
	Yield   Yield          // what it gave
	Jug     Jug            // what became of it
	// Plain is the yield had nothing of the liquid been measured, now or before;
	// nil where nothing was.
	Plain *Yield
	// Unread is the yield had no strength of the liquid been read; nil where none was.
	Unread *Yield
}

// StoryOf works out an extract, what became of it, and what the defaults would have
// made of it.
func StoryOf(n *trials.Notebook, materials trials.Materials, x trials.Extract) (ExtractStory, error) {
	y, jug, err := NewSteeper(n.Index(), materials, Full).Follow(x)
	if err != nil {
		return ExtractStory{}, err
	}
	story := ExtractStory{Extract: x, Yield: y, Jug: jug}
	m, err := materials.Find(x.MaterialKey)
	if err != nil {
		return story, err
	}
	without := func(s extraction.Steep) (*Yield, error) {
		plain, err := fullYield(s, m, x.Method)
		return &plain, err
	}
	if y.Result.Update != nil {
		if story.Unread, err = without(unread(y.Result.Steep)); err != nil {
			return story, err
		}
	}
	// without a measurement both stories would be the same
	if heldIsKnown(y) {
		story.Plain, err = without(unmeasured(y.Result.Steep))
	}
	return story, err
}

// unread is a steep without what was read of the strength of its liquid.
func unread(s extraction.Steep) extraction.Steep {
	s.Passes = slices.Clone(s.Passes)
	for i := range s.Passes {
		s.Passes[i].Solids = nil
	}
	return s
}

// heldIsKnown reports whether the held liquid of any pass was measured, in this
// steep or an earlier one.
func heldIsKnown(y Yield) bool {
	for _, p := range y.Result.Passes {
		if p.HeldOrigin == extraction.Measured || p.HeldOrigin == extraction.Remembered {
			return true
		}
	}
	return false
}

// unmeasured is a steep without what is known of its held liquid.
func unmeasured(s extraction.Steep) extraction.Steep {
	passes := make([]extraction.Pass, len(s.Passes))
	for i, p := range s.Passes {
		p.RecoveredML, p.RecoveredTempC, p.HeldML, p.SpentG = nil, nil, nil, nil
		passes[i] = p
	}
	s.Passes, s.Remembered = passes, extraction.HeldFigures{}
	return s
}

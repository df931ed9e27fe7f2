package steeps

import (
	"time"

	"hedgerow/trials"
)

// passEnds returns when the liquid of each pass of an extract came out: when that
// was said, else directly after the pass before it, the first after the extract was
// begun. A pass without a time is where those who logged what was taken knew it: not
// after the first pour or filling of droppers that was logged later, and, but for the
// first pass, not before one that was logged earlier.
func passEnds(x trials.Extract, list []taking) []time.Time {
	ends := make([]time.Time, len(x.Passes))
	before, bound := x.MadeAt, isDated(x)
	for i, p := range x.Passes {
		end := before.Add(time.Duration(p.Minutes * float64(time.Minute)))
		if p.EndedAt != nil {
			end = *p.EndedAt
		} else {
			end = amongTakings(end, p, list, i > 0)
			if bound && end.Before(before) {
				end = before
			}
		}
		ends[i], before, bound = end, end, true
	}
	return ends
}

// taking is a moment at which some of an extract was poured or filled into droppers.
type taking struct{ at, logged time.Time }

// takings are the moments of an extract's pours, and of its evenings of dosing to taste
// that are over.
func takings(pours []trials.Addition, filled []trials.DroppersFilled) []taking {
	var list []taking
	for _, a := range pours {
		list = append(list, taking{a.At, a.CreatedAt})
	}
	for _, f := range filled {
		list = append(list, taking{f.Tasting.At, *f.Tasting.ClosedAt})
	}
	return list
}

// amongTakings moves the end of a pass without a time to where the takings that were
// logged before and after it leave it.
func amongTakings(end time.Time, p trials.Pass, list []taking, later bool) time.Time {
	for _, t := range list {
		if later && t.logged.Before(p.LoggedAt) && !end.After(t.at) {
			// The least step behind: at one moment a pass comes before a pour.
			end = t.at.Add(1)
		}
	}
	for _, t := range list {
		if !t.logged.Before(p.LoggedAt) && t.at.Before(end) {
			end = t.at
		}
	}
	return end
}

// isDated reports whether an extract was said to have been begun earlier than it
// was logged: else the moment of logging stands there, which says nothing about
// pours that are told from memory.
func isDated(x trials.Extract) bool { return x.MadeAt.Before(x.CreatedAt.Add(-time.Minute)) }

// AsPoured is an extract with the passes that had ended when an addition poured it;
// with all of them if none had, which cannot be.
func AsPoured(n *trials.Notebook, x trials.Extract, a trials.Addition) trials.Extract {
	if len(x.Passes) < 2 {
		return x
	}
	for i, end := range passEnds(x, takings(poursOf(n.Index(), x), n.FilledFrom(x.ID))) {
		if end.After(a.At) && i > 0 {
			x.Passes = x.Passes[:i]
			break
		}
	}
	return x
}

package steeps

import (
	"time"

	"hedgerow/trials"
)

// passEnds returns when the liquid of each pass of an extract came out: when that
// was said, else directly after the pass before it, the first after the extract was
// begun. A pass without a time is where those who logged the pours knew it: not
// after the first pour that was logged later, and, but for the first pass, not
// before one that was logged earlier.
func passEnds(x trials.Extract, pours []trials.Addition) []time.Time {
	ends := make([]time.Time, len(x.Passes))
	before, bound := x.MadeAt, isDated(x)
	for i, p := range x.Passes {
		end := before.Add(time.Duration(p.Minutes * float64(time.Minute)))
		if p.EndedAt != nil {
			end = *p.EndedAt
		} else {
			end = amongPours(end, p, pours, i > 0)
			if bound && end.Before(before) {
				end = before
			}
		}
		ends[i], before, bound = end, end, true
	}
	return ends
}

// amongPours moves the end of a pass without a time to where the pours that were
// logged before and after it leave it.
func amongPours(end time.Time, p trials.Pass, pours []trials.Addition, later bool) time.Time {
	for _, a := range pours {
		if later && a.CreatedAt.Before(p.LoggedAt) && !end.After(a.At) {
			// The least step behind: at one moment a pass comes before a pour.
			end = a.At.Add(1)
		}
	}
	for _, a := range pours {
		if !a.CreatedAt.Before(p.LoggedAt) && a.At.Before(end) {
			end = a.At
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
	for i, end := range passEnds(x, withDroppers(poursOf(n.Index(), x), n.FilledFrom(x.ID))) {
		if end.After(a.At) && i > 0 {
			x.Passes = x.Passes[:i]
			break
		}
	}
	return x
}

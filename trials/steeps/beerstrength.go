package steeps

import (
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// strength is the strength of a beer, % vol, nil where it is not known or the
// gravities are not those of beer.
func (b Beer) strength() *float64 {
	switch {
	case b.ABVPct != nil:
		return b.ABVPct
	case b.OG == nil || b.FG == nil || *b.FG > *b.OG:
		return nil
	}
	steps, err := dilution.Account{Start: b.start(1)}.Run()
	if err != nil {
		return nil // the account says so itself
	}
	abv := steps[0].State.ABVPct()
	return &abv
}

// beerPct is the strength that a plant in a batch lies in, % vol: by the original
// gravity and the last one read by a moment, else the one expected; nil where neither
// is known. What additions do to it is left out, for they rest on this: it is good to
// half a per cent, which moves a rate by a tenth.
func (s *Steeper) beerPct(batchID string, by time.Time) *float64 {
	b, ok := s.index.BatchByID(batchID)
	if !ok {
		return nil
	}
	root := s.index.Root(b)
	beer := Beer{OG: root.OG, FG: root.FG}
	var read time.Time
	// bounded, so that parents in a circle, in a damaged file, end all the same
	for range len(s.index.Batches) {
		for _, r := range s.index.ReadingsOf(b.ID) {
			if r.SG != nil && !r.At.After(by) && r.At.After(read) {
				read, beer.FG = r.At, r.SG
			}
		}
		if b.ParentID == nil {
			break
		}
		// what is read of the parent later is of other beer
		if b.StartedAt.Before(by) {
			by = b.StartedAt
		}
		if b, ok = s.index.BatchByID(*b.ParentID); !ok {
			break
		}
	}
	return beer.strength()
}

// lies reports whether a method puts the plant into beer, whose strength then counts.
func lies(method string) bool { return method == trials.MethodContact || method == trials.MethodPuree }

package steeps

import (
	"cmp"
	"slices"
	"sort"
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// bag is one lot of a material. Where no lot was written all count as one.
type bag struct{ material, lot string }

// taughtThen is what was known of the soluble share of a bag after a tea whose
// strength was read.
type taughtThen struct {
	madeAt  time.Time
	soluble extraction.SolubleFigure
}

// learned is the soluble share that teas of a bag made before a moment taught, nil
// without any.
func (s *Steeper) learned(of bag, at time.Time) *extraction.SolubleFigure {
	if s.lessons.taught == nil {
		s.teach()
	}
	known := s.lessons.taught[of]
	i := sort.Search(len(known), func(i int) bool { return !known[i].madeAt.Before(at) })
	if i == 0 {
		return nil
	}
	return &known[i-1].soluble
}

// teach goes through the extracts whose strength was read, in time order: what one
// taught is what the next of its bag expects. Of several made at one moment none
// knows of the others.
func (s *Steeper) teach() {
	s.lessons.taught, s.lessons.read = map[bag][]taughtThen{}, map[string]*extraction.SolidsUpdate{}
	read := slices.DeleteFunc(slices.Clone(s.index.Extracts), func(x trials.Extract) bool {
		return !slices.ContainsFunc(x.Passes, trials.Pass.IsRead)
	})
	slices.SortFunc(read, func(a, b trials.Extract) int {
		return cmp.Or(a.MadeAt.Compare(b.MadeAt), cmp.Compare(a.Name, b.Name))
	})
	for _, x := range read {
		steep, _, err := steepOf(s.materials, x)
		if err != nil {
			continue // that extract says so itself
		}
		steep.Remembered = s.remembered(x.MaterialKey, x.MadeAt)
		of := bag{x.MaterialKey, x.Lot}
		if before := s.learned(of, x.MadeAt); before != nil {
			steep.Soluble = before
		}
		r, err := steep.Run()
		if err != nil || r.Update == nil {
			continue
		}
		s.lessons.read[x.ID] = r.Update
		s.lessons.taught[of] = append(s.lessons.taught[of], taughtThen{x.MadeAt,
			extraction.SolubleFigure{Share: r.Update.NewShare, SDLn: r.Update.NewShareSDLn, Learned: true}})
	}
}

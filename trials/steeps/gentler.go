package steeps

import (
	"hedgerow/extraction"
	"hedgerow/extraction/ways"
	"hedgerow/trials"
)

// GentleWay is a change that gives less astringency at the same dose of the wanted
// family.
type GentleWay = ways.GentleWay

// Unsupported is advice against astringency for which nothing was found.
const Unsupported = ways.Unsupported

// Gentler returns what would give less astringency at the same dose of a family, the
// best place first. Class -1 stands for what the material is used for, acid or aroma;
// the family in use is returned. Errors: tannin, resin or the undivided water class as
// the wanted family, and those of the steep.
func (q SteepRequest) Gentler(materials trials.Materials, class int) (list []GentleWay, wanted string, err error) {
	s, err := q.steep(materials)
	if err != nil {
		return nil, "", err
	}
	family := extraction.Class(class)
	if class < 0 {
		family = extraction.Acid
		if m, err := materials.Find(q.Material); err == nil && m.DominantSolute == "volatile-aroma" && q.Material != "" {
			family = extraction.Aroma
		}
	}
	if family == extraction.Tannin || family == extraction.Water || family == extraction.Resin {
		return nil, "", trials.Refuse("add --class acid or --class aroma",
			"less astringency is sought at the same acid or aroma, not at the same %s", family)
	}
	list, err = ways.Gentler(&s, family)
	return list, family.String(), trials.ProblemOf(err)
}

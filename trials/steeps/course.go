package steeps

import (
	"time"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// roomC is the temperature taken for a plant in beer of which none was noted, C.
const roomC = 20

// Course is how a plant that was put into the beer has given its solutes.
type Course struct {
	extraction.Course
	Addition trials.Addition
	Pull     extraction.Pull // of the wanted family, up to now or until it came out
	Days     float64         // days in the beer, up to now or until it came out
	Until    time.Time       // when it came out or stayed behind, zero while it is in
	Assumed  bool            // the temperature is taken, not noted
	Logged   bool            // it stands for those of the beer that were read in the meantime
}

// CourseOf follows a plant in beer of a strength, % vol. An empty word stands for the
// family of the material's dominant solute. Errors: an addition that is no plant in
// beer, an unknown family, a material that is not in the catalogue.
func CourseOf(n *trials.Notebook, materials trials.Materials, a trials.Addition, wanted string,
	abvPct float64) (Course, error) {
	if !a.IsPlant() || a.InWort() {
		return Course{}, trials.Refuse("only a plant put straight into the fermenter is followed day by day", "%s is not",
			a.Name)
	}
	steep, m, err := materialSteep(materials, materialUse{key: a.MaterialKey, form: a.Form, method: a.Method,
		massG: *a.MassG, moisturePct: a.MoisturePct})
	if err != nil {
		return Course{}, err
	}
	if wanted == "" {
		wanted = wantedFamily(m.DominantSolute)
	}
	family, err := extraction.ParseClass(wanted)
	if err != nil {
		return Course{}, trials.ProblemOf(err)
	}
	c := Course{Course: extraction.Course{Form: steep.Form, TempC: roomC, ABVPct: abvPct, InBag: a.InBag}, Addition: a,
		Days: contactMinutes(n.Index(), a, n.Now) / (24 * 60)}
	logged := loggedTempC(n.Index(), a, a.At.Add(time.Duration(c.Days*24*float64(time.Hour))))
	switch {
	case a.StartC == nil && logged != nil:
		c.TempC, c.Logged = *logged, true
	case a.StartC == nil:
		c.Assumed = true
	default:
		c.TempC = *a.StartC
		if a.EndC != nil {
			// a fermenter drifts a few degrees in days, over which the rate is nearly straight
			c.TempC = (*a.StartC + *a.EndC) / 2
		}
	}
	// a time to come is no end yet
	if out, is := a.TakenOut(); is && !out.After(n.Index().Now) {
		c.Until = out
	} else if p, is := n.Index().Packaged(a.BatchID); is && !p.At.After(n.Index().Now) {
		c.Until = p.At
	}
	c.Pull, err = c.Course.Pull(family, c.Days)
	return c, trials.ProblemOf(err)
}

// wantedFamily is what a material is used for, by its dominant solute.
func wantedFamily(solute string) string {
	switch solute {
	case "volatile-aroma":
		return extraction.Aroma.String()
	case "bitter-resin":
		return extraction.Resin.String()
	}
	return extraction.Acid.String()
}

// Advice is what to do with a plant that lies in beer.
type Advice = extraction.Advice

// The advice that needs a reason of its own.
const (
	Wait    = extraction.Wait
	PullNow = extraction.PullNow
	Done    = extraction.Done
)

// FamilyShares are the shares of a family that have come out, one for each day ahead.
type FamilyShares struct {
	Family string    `json:"family"`
	Given  []float64 `json:"given"` // shares
}

// Shares returns what has come out of each family so many days ahead. Errors are those
// of extraction.Course.Given.
func (c Course) Shares(ahead []float64) ([]FamilyShares, error) {
	var all []FamilyShares
	for _, f := range []extraction.Class{extraction.Acid, extraction.Colour, extraction.Aroma,
		extraction.Tannin, extraction.Resin} {
		row := FamilyShares{Family: f.String()}
		for _, d := range ahead {
			given, err := c.Given(f, c.Days+d, 0)
			if err != nil {
				return nil, trials.ProblemOf(err)
			}
			row.Given = append(row.Given, given)
		}
		all = append(all, row)
	}
	return all, nil
}

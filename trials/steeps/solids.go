package steeps

import (
	"math"
	"slices"

	"hedgerow/dilution"
	"hedgerow/extraction"
	"hedgerow/trials"
)

// TeaGravity is the gravity of a tea as read.
type TeaGravity struct {
	SG      float64 // of the tea
	WaterSG float64 // of plain water by the same hydrometer, 1 if that was not read
	Factor  float64 // F, plant solids over sugar of the same gravity
}

// The factors from a reading to plant solids, and how sure they are: 0.88 to 1.15 for
// apparent volumes of 0.55 to 0.66 mL/g beside 0.615 of sugar; citric acid is 5 %
// denser than sugar. Those of the refractometer are judged by coffee, 0.85.
const (
	solidsFactor     = 1.00
	acidSolidsFactor = 0.95
	brixFactor       = 0.90
	factorSD         = 0.08
)

// How far off a reading may be that says no limit: common practice, no source.
const (
	teaSGLimit   = 0.001
	teaBrixLimit = 0.2
)

// acidPlants are the plants whose solids are mostly acid.
var acidPlants = []string{"hibiscus", "tamarind", "rhubarb", "sea-buckthorn"}

// solidsPerSG is the slope of solids on gravity at SG 1: rho_w^2/385.1761 g/L, from
// the density of water at 20 C and the first coefficient of sugar solutions.
const solidsPerSG = 2586.88349

// Solids returns the dissolved solids of the tea, g/L:
//
//	SG' = SG - (SG_water - 1),  c = F w rho(w)
//
// with w the mass fraction of sugar at SG' and rho its density at 20 C; 0 where SG'
// is below 1. Errors: a gravity outside the sugar tables.
func (g TeaGravity) Solids() (gPerL float64, err error) {
	sg := g.SG - (g.WaterSG - 1)
	if sg < 1 {
		return 0, nil
	}
	plato, err := dilution.PlatoFromSG(sg)
	if err != nil {
		return 0, err
	}
	density, err := dilution.SucroseDensity(plato, 20)
	return g.Factor * plato / 100 * density, err
}

// SolidsDoubt returns the standard uncertainty of the solids of a tea, g/L:
// sqrt((2586.88349 F u_SG)^2 + (u_F c/F)^2).
func (g TeaGravity) SolidsDoubt(gPerL, uSG, uFactor float64) float64 {
	return math.Hypot(solidsPerSG*g.Factor*uSG, uFactor*gPerL/g.Factor)
}

// readingOf is what was read of the liquid of a pass, nil where nothing was, or where
// a reading says nothing. A refractometer gives c = 0.90 Brix 10 SG, with SG that of
// a sugar solution of so much.
func readingOf(p trials.Pass, material string, spiritPct *float64) (*extraction.SolidsReading, error) {
	if !p.IsRead() || !trials.CanBeRead(spiritPct) {
		return nil, nil
	}
	if p.TeaBrix != nil {
		sg, err := dilution.SGFromPlato(*p.TeaBrix * brixFactor)
		c := brixFactor * *p.TeaBrix * 10 * sg
		return &extraction.SolidsReading{GPerL: c,
			U: math.Hypot(brixFactor*10*sg*teaBrixLimit/math.Sqrt(3), factorSD/brixFactor*c)}, trials.ProblemOf(err)
	}
	g, limit := TeaGravity{SG: *p.TeaSG, WaterSG: 1, Factor: solidsFactor}, teaSGLimit
	if slices.Contains(acidPlants, material) {
		g.Factor = acidSolidsFactor
	}
	if p.WaterSG != nil {
		g.WaterSG = *p.WaterSG
	}
	if p.TeaSGLimit != nil {
		limit = *p.TeaSGLimit
	}
	c, err := g.Solids()
	return &extraction.SolidsReading{GPerL: c, U: g.SolidsDoubt(c, limit/math.Sqrt(3), factorSD)}, trials.ProblemOf(err)
}

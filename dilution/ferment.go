package dilution

import "math"

// Balling's figures [4][5], g per g of ethanol formed. The split of the loss
// into CO2 and yeast is from memory.
const (
	extractPerEthanol = 2.0665 // extract consumed
	co2PerEthanol     = 0.9565 // CO2 given off
	lossPerEthanol    = 1.0665 // CO2 and yeast together
	ethanolPerExtract = 1 / extractPerEthanol
)

// CO2PerExtract is the CO2 in g expected from 1 g of extract fermented,
// 0.9565/2.0665 [4].
const CO2PerExtract = co2PerEthanol / extractPerEthanol

// ferment is Ferment without the check; a negative mass goes backwards.
func (s State) ferment(extractKg float64) State {
	s.EthanolKg += extractKg * ethanolPerExtract
	s.yieldKg += extractKg * ethanolPerExtract
	s.ExtractKg -= extractKg
	return s
}

// Finish returns the state after all that can ferment has: X falls to the part
// known not to ferment. This is the expected final state: its SG is the
// expected final gravity of the base and of what was added. False when the
// final gravity of the base was never given; the state is then unchanged.
func (s State) Finish() (State, bool) {
	left, ok := s.fermentableKg()
	if !ok {
		return s, false
	}
	return s.ferment(left), true
}

// settle lowers the unfermentable part to the extract when fermentation went
// further than was expected.
func (s State) settle() State {
	s.UnfermentableKg = min(s.UnfermentableKg, s.ExtractKg)
	return s
}

// fermentedTo returns the extract f in kg that must ferment for the density to
// be rho (kg/m3) on the isotherm: the root of
//
//	(W + E + X - f (1 - 1/2.0665)) - rho V(W, E + f/2.0665, X - f) = 0
//
// which is nearly straight in f. Negative when rho is above the present
// density. Newton steps are held between -0.05 of the mass and a little past
// the last of the extract, so that draws of an error just beyond the possible
// stay finite. An empty state gives 0.
func (s *State) fermentedTo(iso *isotherm, rho float64) float64 {
	return s.fermentedAtYield(iso, rho, ethanolPerExtract)
}

// fermentedAtYield is fermentedTo for a yeast that makes perExtract grams of
// ethanol of a gram of extract.
func (s *State) fermentedAtYield(iso *isotherm, rho, perExtract float64) float64 {
	// limits wide enough draw a batch without water; nothing ferments in it
	if s.WaterKg <= 0 {
		return 0
	}
	mass := s.MassKg()
	// past both ends on purpose: a gravity that rose and one below all extract are for the caller to
	// judge
	lo, hi := -0.05*mass, s.ExtractKg+0.02*mass
	f := 0.0
	for range 30 {
		e, x := s.EthanolKg+f*perExtract, s.ExtractKg-f
		v, dvde, dvdx := iso.volumeSlopesM3(s.WaterKg, e, x)
		h := s.WaterKg + e + x - rho*v
		slope := perExtract - 1 - rho*(dvde*perExtract-dvdx)
		next := min(max(f-h/slope, lo), hi)
		step := next - f
		f = next
		if math.Abs(step) < newtonStep*mass {
			break
		}
	}
	return f
}

// lowestSG returns the gravity at which no extract would be left.
func (s State) lowestSG() float64 { return s.ferment(s.ExtractKg).SG() }

// tooLow is the error for a gravity that no fermentation of s can reach.
func tooLow(sg float64, s State) error {
	return &inputError{
		What:    "gravity",
		Value:   sg,
		Allowed: "is below " + number(s.lowestSG()) + ", where no extract would be left",
		Hint:    "check both readings, the temperature of the samples and the hydrometer's zero in plain water",
	}
}

package extraction

import (
	"fmt"
	"slices"
)

// Limits at which a result is no longer to be taken at its word.
const (
	nearEquilibrium = 0.9      // below this share a pass is called unfinished
	thickMLPerG     = 8.0      // mL of liquid per gram as dried; thicker teas drain badly
	longContactMin  = 7 * 1440 // a week; beyond it age and oxidation act too
	spiritWarmC     = 40.0     // spirit vapour catches fire well below its boil
	longHotMin      = 12 * 60  // a warm steep that long grows microbes
	thinTeaGPerL    = 5.0      // less than that is lost in the doubt of a common hydrometer
)

// warnings returns what a reader of the result must know, pass by pass.
func (r *Result) warnings() []string {
	var list []string
	for i := range r.Passes {
		prefix := passName(i, len(r.Passes))
		list = append(list, r.passWarnings(prefix, i)...)
	}
	s := &r.Steep
	if s.Method == Contact || s.Method == PureeIn {
		if r.Minutes > longContactMin {
			list = append(list, fmt.Sprintf("%.0f days of contact: beyond a week ageing, oxidation and tannin loss "+
				"act as well", r.Minutes/1440))
		}
	}
	if s.Method == PureeIn && len(s.Passes) == 0 {
		list = append(list, "no time given: taken as a week at 20 C in the beer")
	}
	return append(list, r.kindWarnings()...)
}

// kindWarnings returns what must be known about how the material holds liquid: all
// the more of a kind that is not known, unless it was measured.
func (r *Result) kindWarnings() []string {
	s := &r.Steep
	if s.Method.IsDirect() {
		return nil
	}
	var list []string
	if s.swells() {
		list = append(list, "swelling material drains badly: measure the liquid recovered")
	}
	if s.Kind == UnknownKind && slices.ContainsFunc(r.Passes, func(p passResult) bool { return p.HeldOrigin == assumed }) {
		list = append(list, "kind of material not known: it is taken to hold liquid as leaves and flowers do, good to a "+
			"factor of 1.9; say its kind, or measure the liquid recovered")
	}
	return list
}

// passWarnings returns what must be known about one pass: for an extract whether
// it was left before its time, for stages of direct contact only at the last.
func (r *Result) passWarnings(prefix string, i int) []string {
	s, p := &r.Steep, &r.Passes[i]
	in := &s.Stages()[i]
	var list []string
	if !s.Method.IsDirect() {
		list = r.liquidWarnings(prefix, p, in)
	}
	if share := p.ShareOfEquilibrium[Water]; share < nearEquilibrium && p.LiquidOutML > 0 ||
		s.Method.IsDirect() && share < nearEquilibrium {
		// Stages of one plant in one beer go on where the last stopped: only the end tells whether time
		// was short
		last := i == len(r.Passes)-1
		if !s.Method.IsDirect() || last {
			list = append(list, fmt.Sprintf("%sreached %.0f %% of equilibrium for the water class", prefix, share*100))
		}
	}
	if abv, _ := s.abvPct(in); abv > 20 && p.HottestC > spiritWarmC {
		list = append(list, fmt.Sprintf("%sspirit at %.0f C: keep it away from flame and sparks", prefix, p.HottestC))
	}
	if s.Method == FlameOut && in.StartC == nil && len(in.Curve) == 0 {
		list = append(list, fmt.Sprintf("%sno temperature given: taken as %.0f C throughout", prefix, flameOutC))
	}
	return list
}

// liquidWarnings returns what must be known about the liquid of a pass. Where
// nothing came out, the rest would only repeat it.
func (r *Result) liquidWarnings(prefix string, p *passResult, in *Pass) []string {
	var list []string
	if p.LiquidOutML <= 0 {
		return append(list, prefix+r.emptyWarning(p, in))
	}
	if p.HeldOrigin != Measured && p.LiquidHeldML > in.VolumeML/2 {
		list = append(list, fmt.Sprintf("%sthe material keeps about %.0f mL, more than half of what is poured on: "+
			"squeeze it, or measure the liquid recovered", prefix, p.LiquidHeldML))
	}
	list = append(list, readingWarnings(prefix, in.Solids)...)
	if r.AsDriedG > 0 && p.LiquidML/r.AsDriedG < thickMLPerG {
		list = append(list, fmt.Sprintf("%svery thick: %.1f mL per gram as dried, below %.0f the model is not tested",
			prefix, p.LiquidML/r.AsDriedG, thickMLPerG))
	}
	// spirit keeps microbes down, cold slows them and heat kills them
	if p.Minutes > longHotMin && p.HottestC > 8 && p.HottestC < 60 && r.Steep.Method != Tincture {
		list = append(list, fmt.Sprintf("%s%.0f h in water between 8 and 60 C: microbes grow", prefix, p.Minutes/60))
	}
	return list
}

// emptyWarning says how much liquid is needed where nothing runs off, and how much
// squeezing or pressing would give.
func (r *Result) emptyWarning(p *passResult, in *Pass) string {
	s := &r.Steep
	holdsML := s.assumedHeld(in.Separation).perG * r.DryG
	// what dissolved and what the pass before left in the material is in the pot already
	leastML := holdsML - (p.LiquidML - in.VolumeML)
	text := fmt.Sprintf("nothing runs off: %s g hold about %.0f mL; pour on at least 1.5 times that (%.0f mL)",
		number(s.MassG), leastML, 1.5*leastML)
	for _, way := range []struct {
		by   Separation
		word string
	}{{Squeezed, "squeeze"}, {ScrewPressed, "press"}} {
		// less than a millilitre is not worth the press
		if ml := p.LiquidML - s.assumedHeld(way.by).perG*r.DryG; ml >= 1 && way.by > in.Separation {
			text += fmt.Sprintf(", or %s (about %.0f mL)", way.word, ml)
		}
	}
	return text
}

// readingWarnings returns what must be known about a measured strength.
func readingWarnings(prefix string, c *SolidsReading) []string {
	switch {
	case c == nil:
		return nil
	case c.GPerL <= 0:
		return []string{prefix + "the liquid reads as no more than water: nothing follows from it; read plain water " +
			"with the same instrument"}
	case c.GPerL < thinTeaGPerL && c.U > 0.2*c.GPerL:
		return []string{fmt.Sprintf("%sthe liquid reads as %.1f g/L, good to %.1f: too thin for this instrument", prefix,
			c.GPerL, normal95*c.U)}
	}
	return nil
}

package extraction

// Steep is one material and what was done with it: the passes of a tea or
// tincture, or the stages (boil, stand, days in the fermenter) of material put
// into the beer itself. A nil pointer is "not known"; a default then takes its
// place, and Provenance says so.
type Steep struct {
	Method Method
	Form   Form
	MassG  float64
	// Moisture is the mass fraction of water; nil means 10 % for dried forms and
	// is refused for fresh ones.
	Moisture       *float64
	MoistureOrigin Origin // Typed unless said otherwise
	// KappaMLPerG is sorption, an expert option that replaces neither held
	// liquid nor the ceiling; 0 is the default.
	KappaMLPerG float64
	// Remembered is the held liquid once measured for this material.
	Remembered HeldFigures
	// Fermenting says that yeast is at work during contact.
	Fermenting bool
	// Swells marks mucilage, pectin and the like, where draining fails.
	Swells bool
	// Reacts marks solutes that change into others when heated, such as hop
	// acids or gingerol.
	Reacts bool
	// OwnTrials are relative potencies of this method for this material, from
	// the brewer's own scores, already combined with their prior; nil = none.
	OwnTrials [ClassCount]*LnNormal
	// Measured solids of the extract, g per litre, from its gravity; nil means
	// 0.30 of the dry matter times the water-class yield.
	SolidsGPerL *float64
	Passes      []Pass
}

// Pass is one steep of the material, or one stage of direct contact.
type Pass struct {
	// VolumeML is the liquid poured on; direct methods need none.
	VolumeML    float64
	VolumeTempC *float64 // temperature at which VolumeML was measured; nil = 20 C
	// StartC to EndC follow Newton's law towards AmbientC; EndC nil = constant.
	// A rise away from ambient is taken as a straight line: something heats.
	StartC   *float64
	EndC     *float64
	AmbientC *float64 // nil = 20 C
	// CoolingPerMin is Newton's constant h, given in place of EndC.
	CoolingPerMin *float64
	// Curve replaces StartC, EndC and Minutes by readings, straight between.
	Curve     []CurvePoint
	Minutes   float64
	Boiling   bool // a rolling boil
	Agitation Agitation
	InBag     bool // in a bag or sock
	// ABVPct is the strength of the liquid, % vol; nil means no alcohol counted
	// for water, wort and beer, and 40 % for a tincture.
	ABVPct     *float64
	Separation Separation
	// BoiledOffML is what evaporated during the pass.
	BoiledOffML float64
	// Efficiency replaces rate, time and heat by the share of the way to
	// equilibrium, 1 for a pass at equilibrium.
	Efficiency *float64
	// Measured at the end of the pass; the first one given is used.
	RecoveredML    *float64 // liquid that came out
	RecoveredTempC *float64 // its temperature; nil = the end of the pass
	HeldML         *float64 // all liquid in the spent material
	SpentG         *float64 // weight of the wet spent material
}

// HeldFigures are held liquids in mL per gram of dry matter by separation; nil
// where none was ever measured.
type HeldFigures struct{ Drained, Squeezed, ScrewPressed *float64 }

// of returns the figure for a separation, nil if there is none.
func (h HeldFigures) of(s Separation) *float64 {
	switch s {
	case Drained:
		return h.Drained
	case Squeezed:
		return h.Squeezed
	case ScrewPressed:
		return h.ScrewPressed
	}
	return nil
}

// Held liquid in mL per gram of original dry matter [20]: coffee drained by
// gravity 2 to 2.5, whole hops 4.9, spent tea 2.7 to 3.8, screw-pressed tea 1.0
// to 1.1 (the last two with a third of the leaf dissolved).
const (
	heldDrained      = 4.5 // 2 to 6
	heldSqueezed     = 2.0 // 1 to 3
	heldScrewPressed = 1.1 // 1 to 1.6
)

// HeldMLPerG returns the default held liquid of a separation, mL per gram of dry
// matter; 0 when the material is left in.
func (s Separation) HeldMLPerG() float64 {
	switch s {
	case Drained:
		return heldDrained
	case Squeezed:
		return heldSqueezed
	case ScrewPressed:
		return heldScrewPressed
	}
	return 0
}

// Assumptions where a pass does not say.
const (
	roomC          = 20.0  // ambient, contact and tincture
	flameOutC      = 95.0  // a judgement: wort in the first minutes after the boil
	pureeMinutes   = 10080 // a week; long enough to be complete
	tinctureABVPct = 40.0
	driedMoisture  = RefMoisture

	// openVesselC is the hottest that an open vessel gets, with half a degree
	// for the thermometer.
	openVesselC = BoilingC + 0.5
)

// moisture returns the moisture used and whether it was given.
func (s *Steep) moisture() (float64, bool) {
	if s.Moisture != nil {
		return *s.Moisture, true
	}
	return driedMoisture, false
}

// wet returns the mass with the moisture used.
func (s *Steep) wet() WetMass {
	m, _ := s.moisture()
	return WetMass{s.MassG, m}
}

// stages returns the passes, with the one that a puree or juice implies when
// none was logged.
func (s *Steep) stages() []Pass {
	if len(s.Passes) > 0 {
		return s.Passes
	}
	switch s.Method {
	case JuiceIn:
		return []Pass{{Separation: LeftIn, Efficiency: new(1.0)}}
	case PureeIn:
		return []Pass{{Separation: LeftIn, Minutes: pureeMinutes}}
	}
	return nil
}

// startC returns the temperature at which a pass starts, whether it was given,
// and false when it is neither given nor implied by the method.
func (s *Steep) startC(p *Pass) (tempC float64, given, ok bool) {
	switch {
	case len(p.Curve) > 0:
		return p.Curve[0].TempC, true, true
	case p.StartC != nil:
		return *p.StartC, true, true
	case p.Boiling || s.Method == Boil:
		return BoilingC, false, true
	case s.Method == FlameOut:
		return flameOutC, false, true
	case s.Method == Contact || s.Method == Tincture || s.Method == PureeIn || s.Method == JuiceIn:
		return roomC, false, true
	}
	return 0, false, false
}

// abvPct returns the strength of the liquid of a pass and whether it was given.
func (s *Steep) abvPct(p *Pass) (float64, bool) {
	switch {
	case p.ABVPct != nil:
		return *p.ABVPct, true
	case s.Method == Tincture:
		return tinctureABVPct, false
	}
	return 0, false
}

// rollingC is the least temperature at which material in the boil is taken to
// boil without being told; a stage of a boil below it is a stand. A judgement,
// for thermometers and altitude.
const rollingC = 97.0

// isBoiling reports whether a pass is a rolling boil: logged as one, or a stage
// of Boil that is as hot as a boil.
func (s *Steep) isBoiling(p *Pass) bool {
	if p.Boiling || p.Agitation == RollingBoil {
		return true
	}
	start, _, _ := s.startC(p)
	return s.Method == Boil && start >= rollingC
}

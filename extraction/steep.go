package extraction

import (
	"slices"

	"hedgerow/trials/figure"
)

// Steep is one material and what was done with it: the passes of a tea or
// tincture, or the stages (boil, stand, days in the fermenter) of material put
// into the beer itself. A nil pointer is "not known"; a default then takes its
// place, and Provenance says so.
type Steep struct {
	// Method is how the material meets the beer.
	Method Method
	// Form is the row of the table of forms, see FormFor.
	Form Form
	// MassG is the mass weighed in, as it is (fresh or dried), g.
	MassG float64
	// Moisture is the mass fraction of water; nil means 10 % for dried forms and
	// is refused for fresh ones.
	Moisture *float64
	// MoistureOrigin says where a given Moisture comes from: Typed unless it was
	// measured, remembered or looked up.
	MoistureOrigin origin
	// KappaMLPerG is sorption, an expert option that replaces neither held
	// liquid nor the ceiling; 0 is the default.
	KappaMLPerG float64
	// Kind is how the material holds liquid and how much of it dissolves.
	Kind Kind
	// Remembered is the held liquid once measured for this material.
	Remembered HeldFigures
	// Fermenting says that yeast is at work during contact.
	Fermenting bool
	// Reacts marks solutes that change into others when heated, such as hop
	// acids or gingerol.
	Reacts bool
	// OwnTrials are relative potencies of this method for this material, from
	// the brewer's own scores, already combined with their prior (see
	// TrialEvidence.Potency); nil = none.
	OwnTrials [classCount]*LnNormal
	// SolidsGPerL are the dissolved solids of the extract, g per litre, from its
	// measured gravity; nil means the soluble share of the dry matter times the
	// water-class yield.
	SolidsGPerL *float64
	// Soluble is the share of the dry matter that boiling water dissolves, where this
	// material is known better than its kind; nil takes that of the kind.
	Soluble *SolubleFigure
	// Known is what the readings of this very steep taught, where it was worked out
	// before (see Result.Update); nil works it out. It must not be kept in a changed
	// steep.
	Known *SolidsUpdate
	// Passes are in order of time. Juice and puree may go without: juice is then
	// all there at once, puree stays in for a week at 20 C.
	Passes []Pass
}

// Pass is one steep of the material, or one stage of direct contact.
type Pass struct {
	// VolumeML is the liquid poured on, mL; direct methods need none.
	VolumeML float64
	// VolumeTempC is the temperature at which VolumeML was measured; nil = 20 C.
	VolumeTempC *float64
	// StartC is the temperature at the start; nil takes what the method implies:
	// 100 C for a boil, 95 C at flame-out, 20 C for contact and tinctures.
	StartC *float64
	// EndC is the temperature at the end, by Newton's law towards AmbientC; nil =
	// constant. A rise away from ambient is a straight line: something heats.
	EndC *float64
	// AmbientC is the temperature around; nil = 20 C.
	AmbientC *float64
	// CoolingPerMin is Newton's constant h in 1/min, given in place of EndC.
	CoolingPerMin *float64
	// Curve replaces StartC, EndC and Minutes by readings, straight between.
	Curve []figure.CurvePoint
	// Minutes is how long the pass took.
	Minutes float64
	// Boiling says that it was a rolling boil.
	Boiling bool
	// Agitation is how the liquid was moved.
	Agitation Agitation
	// InBag says that the material was in a bag or sock.
	InBag bool
	// ABVPct is the strength of the liquid, % vol; nil means none for water and
	// wort, 5 % for beer and 40 % for a tincture.
	ABVPct *float64
	// Separation is how the liquid left the material.
	Separation Separation
	// BoiledOffML is what evaporated during the pass, mL.
	BoiledOffML float64
	// Efficiency replaces rate, time and heat by the share of the way to
	// equilibrium, 1 for a pass at equilibrium; nil = not given.
	Efficiency *float64
	// RecoveredML is the liquid measured as it came out, mL; it comes before
	// HeldML, and that before SpentG, where several are given.
	RecoveredML *float64
	// RecoveredTempC is its temperature when measured; nil = the end of the pass.
	RecoveredTempC *float64
	// HeldML is all the liquid in the spent material after the pass, mL at 20 C.
	HeldML *float64
	// SpentG is the weight of the wet spent material, g.
	SpentG *float64
	// Solids is the strength of the liquid that came out, from its gravity or a
	// refractometer; nil where it was not measured.
	Solids *SolidsReading
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

// SolubleFigure is a soluble share of the dry matter with the sd of its logarithm.
type SolubleFigure struct {
	Share, SDLn float64
	// Learned says that earlier teas of this bag taught it.
	Learned bool
}

// soluble returns the soluble share of the dry matter.
func (s *Steep) soluble() SolubleFigure {
	if s.Soluble != nil {
		return *s.Soluble
	}
	share, sd := s.Kind.SolubleShare()
	return SolubleFigure{Share: share, SDLn: sd}
}

// swells reports whether the material is of the kind that drains badly.
func (s *Steep) swells() bool { return s.Kind == Swelling }

// Assumptions where a pass does not say.
const (
	roomC          = 20.0  // ambient, contact and tincture
	flameOutC      = 95.0  // a judgement: wort in the first minutes after the boil
	pureeMinutes   = 10080 // a week; long enough to be complete
	tinctureABVPct = 40.0
	beerABVPct     = 5.0
	driedMoisture  = RefMoisture

	// openVesselC is the hottest that an open vessel gets, with half a degree
	// for the thermometer.
	openVesselC = boilingC + 0.5
)

// moisture returns the moisture used and whether it was given.
func (s *Steep) moisture() (float64, bool) {
	if s.Moisture != nil {
		return *s.Moisture, true
	}
	return driedMoisture, false
}

// wet returns the mass with the moisture used.
func (s *Steep) wet() wetMass {
	m, _ := s.moisture()
	return wetMass{s.MassG, m}
}

// Stages returns the passes, with the one that a puree or juice implies when
// none was logged.
func (s *Steep) Stages() []Pass {
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

// StartC returns the temperature at which a pass starts, whether it was given,
// and false when it is neither given nor implied by the method.
func (s *Steep) StartC(p *Pass) (tempC float64, given, ok bool) {
	switch {
	// what was read comes before what the method implies
	case len(p.Curve) > 0:
		return p.Curve[0].TempC, true, true
	case p.StartC != nil:
		return *p.StartC, true, true
	case p.Boiling || s.Method == Boil:
		return boilingC, false, true
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
	case s.Method == Contact || s.Method == PureeIn || s.Method == JuiceIn:
		return beerABVPct, false
	}
	return 0, false
}

// rollingC is the least temperature at which material in the boil is taken to
// boil without being told; a stage of a boil below it is a stand. A judgement,
// for thermometers and altitude.
const rollingC = 97.0

// IsBoiling reports whether a pass is a rolling boil: logged as one, or a stage
// of Boil that is as hot as a boil.
func (s *Steep) IsBoiling(p *Pass) bool {
	if p.Boiling || p.Agitation == rollingBoil {
		return true
	}
	start, _, _ := s.StartC(p)
	return s.Method == Boil && start >= rollingC
}

// Copied returns a copy whose passes may be changed.
func (s *Steep) Copied() Steep {
	c := *s
	c.Passes = slices.Clone(s.Stages())
	return c
}

// LnNormal is a normal distribution of a logarithm.
type LnNormal struct{ Ln, SDLn float64 }

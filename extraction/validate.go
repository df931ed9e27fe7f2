package extraction

import "fmt"

// check refuses a steep that cannot be computed, with an inputError that names
// the value, the pass it is in and what to type instead:
//
//   - a mass, time or volume that is zero, negative or not a number
//   - moisture of 100 % or more, or unknown for fresh material
//   - a form or method outside its table
//   - a temperature outside -20 to 110 C, or hotter than boiling
//   - two ends of a pass on both sides of ambient, or one exactly at it
//   - a share or efficiency outside 0 to 1, a strength outside 0 to 96 % vol
//   - more liquid out of a pass than was in it
//   - material left in before another pass
//
// Too little liquid is not an error: Result.Warnings says what it would hold.
func (s *Steep) check() error {
	err := firstError(checkPositive("mass", s.MassG, "g"), s.checkMaterial(),
		checkNotNegative("sorption", s.KappaMLPerG, "mL/g"), s.Remembered.check())
	if err != nil {
		return err
	}
	if s.SolidsGPerL != nil {
		if err := checkNotNegative("solids", *s.SolidsGPerL, "g/L"); err != nil {
			return err
		}
	}
	stages := s.Stages()
	if len(stages) == 0 {
		return Refuse(`give at least one pass, such as "400mL 96C>60C 30min drained"`, "a %s without a pass", s.Method)
	}
	for i := range stages {
		if err := s.checkPass(&stages[i], i == len(stages)-1); err != nil {
			return inPass(i+1, len(stages), err)
		}
	}
	return nil
}

// inPass says in which of several passes an error is.
func inPass(n, of int, err error) error {
	refused, ok := err.(*inputError)
	if !ok || of == 1 {
		return err
	}
	return &inputError{Message: fmt.Sprintf("pass %d: %s", n, refused.Message), Hint: refused.Hint}
}

// checkMaterial refuses a form, class of method or moisture that cannot be.
func (s *Steep) checkMaterial() error {
	if s.Form < 0 || s.Form >= formCount {
		return Refuse("choose one of the forms", "form %d is not in the table", int(s.Form))
	}
	if s.Method < 0 || int(s.Method) >= len(methodNames) {
		return Refuse("choose one of the methods", "method %d is not in the table", int(s.Method))
	}
	if s.Kind < 0 || s.Kind >= kindCount {
		return Refuse("choose one of the kinds", "kind %d is not in the table", int(s.Kind))
	}
	if err := checkShare("soluble share", s.soluble().Share); err != nil {
		return err
	}
	if s.Moisture != nil {
		return checkMoisture(*s.Moisture)
	}
	if s.Form.isFresh() {
		return Refuse("give its water content, such as 85% for fruit or 82% for leaves",
			"moisture of a %s material is not known", s.Form)
	}
	return nil
}

// mostABVPct is the strength of spirit that still has its water, % vol.
const mostABVPct = 96.0

// check refuses held liquids that no plant has.
func (h HeldFigures) check() error {
	for _, v := range []*float64{h.Drained, h.Squeezed, h.ScrewPressed} {
		if v == nil {
			continue
		}
		if err := checkHeld(*v); err != nil {
			return err
		}
	}
	return nil
}

// checkPass refuses a pass that cannot be computed.
func (s *Steep) checkPass(p *Pass, last bool) error {
	if err := firstError(s.checkVolume(p), s.checkHeat(p), checkMeasured(p)); err != nil {
		return err
	}
	if p.Efficiency != nil {
		if err := checkShare("stage efficiency", *p.Efficiency); err != nil {
			return err
		}
	}
	if abv, _ := s.abvPct(p); !(abv >= 0 && abv <= mostABVPct) {
		return Refuse("give % vol, such as 40%", "strength %s %% vol is outside 0 to 96", number(abv))
	}
	if p.Separation == LeftIn && !last && !s.Method.IsDirect() {
		return Refuse("drain or squeeze every pass but the last", "material left in before another pass")
	}
	return nil
}

// checkVolume refuses an extract pass without liquid. Zero is told apart from a
// negative volume: it nearly always means that the volume was not typed.
func (s *Steep) checkVolume(p *Pass) error {
	if s.Method.IsDirect() {
		return checkNotNegative("volume", p.VolumeML, "mL")
	}
	if p.VolumeML == 0 {
		return Refuse("give the liquid poured on, such as 400mL", "a pass without a volume")
	}
	err := firstError(checkPositive("volume", p.VolumeML, "mL"), checkNotNegative("boiled off", p.BoiledOffML, "mL"))
	if err == nil && p.BoiledOffML >= p.VolumeML {
		return Refuse("give what evaporated, less than was poured on",
			"%s mL boiled off is not below %s mL poured on", number(p.BoiledOffML), number(p.VolumeML))
	}
	return err
}

// checkHeat refuses temperatures and times that no formula accepts, and a steep
// hotter than boiling water. A pass with an efficiency needs neither heat nor
// time; if a temperature is given all the same, it is checked and used for the
// loss by heat.
func (s *Steep) checkHeat(p *Pass) error {
	// an efficiency replaces heat and time, so that neither has to be known
	if p.Efficiency != nil && p.StartC == nil && len(p.Curve) == 0 {
		return nil
	}
	if len(p.Curve) > 0 {
		if err := checkCurve(p.Curve); err != nil {
			return err
		}
		for _, r := range p.Curve {
			if err := checkOpenVessel(r.TempC); err != nil {
				return err
			}
		}
		return nil
	}
	start, _, ok := s.StartC(p)
	if !ok {
		return Refuse("give the temperature, such as 96C or 96C>60C", "a %s pass without a temperature", s.Method)
	}
	if err := firstError(checkOpenVessel(start), checkPositive("time", p.Minutes, "min")); err != nil {
		return err
	}
	if p.EndC != nil {
		return firstError(checkOpenVessel(*p.EndC), checkTemp("ambient temperature", ambientC(p)), p.checkEnds(start))
	}
	if p.CoolingPerMin != nil {
		return firstError(checkNotNegative("cooling constant", *p.CoolingPerMin, "/min"),
			checkTemp("ambient temperature", ambientC(p)))
	}
	return nil
}

// checkEnds refuses end temperatures that Newton's law cannot join.
func (p *Pass) checkEnds(startC float64) error {
	if p.isHeated(startC) {
		return nil
	}
	_, err := coolingSpan{StartC: startC, EndC: *p.EndC, AmbientC: ambientC(p), Minutes: p.Minutes}.cooling()
	return err
}

// isHeated reports whether the pass moves away from ambient, which Newton's law
// never does: a pot on the stove, or a cold steep put into a colder fridge than
// AmbientC says. A straight line is then the best that two readings allow.
func (p *Pass) isHeated(startC float64) bool {
	a := ambientC(p)
	from, to := startC-a, *p.EndC-a
	return from*to >= 0 && abs(to) > abs(from)
}

// abs returns the magnitude of v.
func abs(v float64) float64 { return max(v, -v) }

// ambientC returns the ambient temperature of a pass.
func ambientC(p *Pass) float64 {
	if p.AmbientC != nil {
		return *p.AmbientC
	}
	return roomC
}

// checkOpenVessel refuses temperatures beyond the boil. Readings of 100 C come
// out a little above after conversion from Fahrenheit, hence openVesselC.
func checkOpenVessel(tempC float64) error {
	if err := checkTemp("temperature", tempC); err != nil {
		return err
	}
	if tempC > openVesselC {
		return Refuse("give at most 100C (212F)", "%s C is hotter than boiling", number(tempC))
	}
	return nil
}

// checkMeasured refuses negative measurements.
func checkMeasured(p *Pass) error {
	measured := []struct {
		what, unit string
		v          *float64
	}{{"recovered liquid", "mL", p.RecoveredML}, {"held liquid", "mL", p.HeldML}, {"spent material", "g", p.SpentG}}
	for _, m := range measured {
		if m.v == nil {
			continue
		}
		if err := checkNotNegative(m.what, *m.v, m.unit); err != nil {
			return err
		}
	}
	for _, t := range []*float64{p.VolumeTempC, p.RecoveredTempC} {
		if t == nil {
			continue
		}
		if err := checkTemp("temperature of a volume", *t); err != nil {
			return err
		}
	}
	return nil
}

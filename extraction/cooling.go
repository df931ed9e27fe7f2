package extraction

import "math"

// cooling is Newton's law: T(t) = Ta + (T0 - Ta) exp(-h t), for warming too.
type cooling struct {
	// StartC is T0.
	StartC float64
	// AmbientC is Ta.
	AmbientC float64
	// PerMin is h, 1/min; 0 is constant temperature.
	PerMin float64
}

// coolingSpan is a steep known by two thermometer readings.
type coolingSpan struct{ StartC, EndC, AmbientC, Minutes float64 }

// cooling returns the law through both readings, h = ln((T0-Ta)/(T1-Ta))/t.
// Equal readings are isothermal (h = 0). It errs when the readings lie on both
// sides of ambient, when one of them is exactly ambient, and when no time
// passed between two different readings.
func (s coolingSpan) cooling() (cooling, error) {
	err := firstError(checkTemp("start temperature", s.StartC), checkTemp("end temperature", s.EndC),
		checkTemp("ambient temperature", s.AmbientC), checkNotNegative("time", s.Minutes, "min"))
	if err != nil {
		return cooling{}, err
	}
	c := cooling{StartC: s.StartC, AmbientC: s.AmbientC}
	if s.StartC == s.EndC {
		return c, nil
	}
	switch above0, above1 := s.StartC-s.AmbientC, s.EndC-s.AmbientC; {
	// the logarithm below would be of a negative number: Newton's law never crosses ambient
	case above0*above1 < 0:
		return c, Refuse("check the ambient temperature, or log a curve of readings",
			"%s C to %s C crosses the ambient %s C", number(s.StartC), number(s.EndC), number(s.AmbientC))
	case above0*above1 == 0:
		return c, Refuse("give an end one degree short of ambient, or log a curve of readings",
			"%s C to %s C reaches the ambient %s C, which takes for ever", number(s.StartC), number(s.EndC), number(s.AmbientC))
	case s.Minutes == 0:
		return c, Refuse("give the minutes between the two temperatures", "%s C to %s C in no time", number(s.StartC),
			number(s.EndC))
	default:
		c.PerMin = math.Log(above0/above1) / s.Minutes
	}
	return c, nil
}

// at returns the temperature after minutes, C.
func (c cooling) at(minutes float64) float64 {
	return c.AmbientC + (c.StartC-c.AmbientC)*math.Exp(-c.PerMin*minutes)
}

// leg is a stretch of a temperature curve, either Newton's law or a straight
// line.
type leg struct {
	law cooling
	// straight says that the leg is linear from law.StartC to endC.
	straight bool
	endC     float64
	minutes  float64
}

// newtonLeg returns minutes of Newton's law.
func newtonLeg(c cooling, minutes float64) leg {
	return leg{law: c, endC: c.at(minutes), minutes: minutes}
}

// straightLeg returns a linear stretch.
func straightLeg(startC, endC, minutes float64) leg {
	return leg{law: cooling{StartC: startC}, straight: true, endC: endC, minutes: minutes}
}

// at returns the temperature t minutes into the leg, C.
func (l leg) at(t float64) float64 {
	if !l.straight {
		return l.law.at(t)
	}
	// two readings at one moment: the later one holds
	if l.minutes == 0 {
		return l.endC
	}
	return l.law.StartC + (l.endC-l.law.StartC)*t/l.minutes
}

// crossing returns when the leg passes tempC, and whether it does so inside.
func (l leg) crossing(tempC float64) (float64, bool) {
	from, to := l.law.StartC-tempC, l.endC-tempC
	if from*to >= 0 {
		return 0, false
	}
	if l.straight {
		return l.minutes * from / (from - to), true
	}
	// a leg without cooling never gets here, its ends being equal: PerMin is not zero
	return math.Log((l.law.StartC-l.law.AmbientC)/(tempC-l.law.AmbientC)) / l.law.PerMin, true
}

// split cuts the leg at t minutes, where it is at tempC. The temperature is given,
// not computed anew, so that a cut at a border lies on the border exactly.
func (l leg) split(t, tempC float64) (leg, leg) {
	first, second := l, l
	first.endC, first.minutes = tempC, t
	// the crossing may lie past the end by a rounding, and a piece of negative time would give solute
	// back
	second.law.StartC, second.minutes = tempC, max(l.minutes-t, 0)
	return first, second
}

// KeepCooling replaces the end temperature by the cooling constant it implies.
func (p *Pass) KeepCooling(s *Steep) {
	start, _, _ := s.StartC(p)
	if p.EndC == nil || *p.EndC == start || p.isHeated(start) {
		return
	}
	law, err := coolingSpan{StartC: start, EndC: *p.EndC, AmbientC: ambientC(p), Minutes: p.Minutes}.cooling()
	if err == nil {
		p.EndC, p.CoolingPerMin = nil, new(law.PerMin)
	}
}

// Halfway is the temperature of a cooling pass at half its time, nil if it was kept.
func (s *Steep) Halfway(p *Pass) *float64 {
	if p.EndC == nil {
		return nil
	}
	start, _, _ := s.StartC(p)
	law, err := coolingSpan{StartC: start, EndC: *p.EndC, AmbientC: ambientC(p), Minutes: p.Minutes}.cooling()
	if err != nil {
		return new((start + *p.EndC) / 2) // it was heated: a straight line
	}
	return new(law.at(p.Minutes / 2))
}

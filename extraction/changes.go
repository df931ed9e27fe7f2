package extraction

import (
	"slices"

	"hedgerow/trials/figure"
)

// The bounds of what "hotter" may mean, C; judgements.
const (
	hotterByC     = 10.0
	teaMaxC       = 98.0 // an open pot off the boil
	beerMaxC      = 25.0 // yeast and beer
	spiritMaxC    = 30.0 // spirit, for the sake of its vapour
	leastWarmingC = 1.0
)

// addPass repeats the last pass and squeezes it. What was measured belongs to the
// pass that was, and is not copied.
func addPass(s *Steep) bool {
	last := len(s.Passes) - 1
	// a second pass is poured on material that the first one gave back: left in, there is none
	if s.Method.IsDirect() || s.Passes[last].Separation == LeftIn {
		return false
	}
	again := s.Passes[last]
	again.unmeasured()
	again.Separation = Squeezed
	s.Passes = append(s.Passes, again)
	return true
}

// squeezeAll squeezes what was only drained. Held liquid is then the remembered or
// default figure for squeezed material, also where the drained one was measured.
func squeezeAll(s *Steep) bool {
	if s.Method.IsDirect() {
		return false
	}
	any := false
	for i := range s.Passes {
		if p := &s.Passes[i]; p.Separation == Drained {
			p.Separation = Squeezed
			p.unmeasured()
			any = true
		}
	}
	return any
}

// crush takes the form that a rolling pin or knife makes of it. Powder is not
// offered: it clogs, and is hard to keep out of the beer.
func crush(s *Steep) bool {
	// a given efficiency already stands for rate and time: a finer cut would change nothing in it
	if s.Passes[0].Efficiency != nil {
		return false
	}
	switch s.Form {
	case Cut, WholeThin, WholeHard:
		s.Form = Crushed
	case freshWhole:
		s.Form = freshChopped
	default:
		return false
	}
	return true
}

// twiceAsLong lets every pass stand as long again; what cools goes on cooling.
func twiceAsLong(s *Steep) bool {
	any := false
	for i := range s.Passes {
		p := &s.Passes[i]
		// a given efficiency says how far the pass went, whatever its time
		if p.Efficiency != nil {
			continue
		}
		any = true
		if n := len(p.Curve); n > 0 {
			// where the curve would have gone on to is not known: the last reading is held. Cloned, because
			// the steep as it was shares the readings.
			end := p.Curve[n-1]
			p.Curve = append(slices.Clone(p.Curve), figure.CurvePoint{Minutes: end.Minutes + p.logged(), TempC: end.TempC})
			continue
		}
		// first, while Minutes still is the time after which EndC was read
		p.keepCooling(s)
		p.Minutes *= 2
	}
	return any
}

// keepCooling replaces the end temperature by the cooling constant it implies.
func (p *Pass) keepCooling(s *Steep) {
	start, _, _ := s.startC(p)
	if p.EndC == nil || *p.EndC == start || p.isHeated(start) {
		return
	}
	law, err := coolingSpan{StartC: start, EndC: *p.EndC, AmbientC: ambientC(p), Minutes: p.Minutes}.cooling()
	if err == nil {
		p.EndC, p.CoolingPerMin = nil, new(law.PerMin)
	}
}

// hotter raises every temperature by up to 10 C, within what the liquid allows. A
// boil cannot get hotter, and a rise of less than a degree is not worth saying.
func hotter(s *Steep) bool {
	limit := teaMaxC
	switch s.Method {
	case Boil:
		return false
	case contact, PureeIn, JuiceIn:
		limit = beerMaxC
	case Tincture:
		limit = spiritMaxC
	}
	any := false
	for i := range s.Passes {
		p := &s.Passes[i]
		if p.Efficiency != nil || s.isBoiling(p) {
			continue
		}
		hottest, _ := endsOf(s, p)
		by := min(hotterByC, limit-hottest)
		if by < leastWarmingC {
			continue
		}
		p.warm(s, by)
		any = true
	}
	return any
}

// warm raises the temperatures of a pass. What cools keeps its cooling constant:
// a hotter jug in the same room falls faster.
func (p *Pass) warm(s *Steep, by float64) {
	// cloned, because the steep as it was shares the readings
	p.Curve = slices.Clone(p.Curve)
	for i := range p.Curve {
		p.Curve[i].TempC += by
	}
	start, _, _ := s.startC(p)
	p.keepCooling(s)
	// still here only for what is heated or holds its temperature: such a pass moves as a whole
	if p.EndC != nil {
		p.EndC = new(*p.EndC + by)
	}
	if len(p.Curve) == 0 {
		p.StartC = new(start + by)
	}
}

// stir stirs what was not. Beer in a fermenter is left alone, for stirring it
// brings in air.
func stir(s *Steep) bool {
	any := false
	for i := range s.Passes {
		p := &s.Passes[i]
		if p.Efficiency == nil && !s.isBoiling(p) && p.Agitation != Stirred && s.Method != Boil && s.Method != contact {
			p.Agitation = Stirred
			any = true
		}
	}
	return any
}

// unbag lets the material swim.
func unbag(s *Steep) bool {
	any := false
	for i := range s.Passes {
		if s.Passes[i].InBag {
			s.Passes[i].InBag = false
			any = true
		}
	}
	return any
}

package ways

import (
	"slices"

	"hedgerow/extraction"
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
func addPass(s *extraction.Steep) bool {
	last := len(s.Passes) - 1
	// a second pass is poured on material that the first one gave back: left in, there is none
	if s.Method.IsDirect() || s.Passes[last].Separation == extraction.LeftIn {
		return false
	}
	again := s.Passes[last]
	unmeasured(&again)
	again.Separation = extraction.Squeezed
	s.Passes = append(s.Passes, again)
	return true
}

// squeezeAll squeezes what was only drained. Held liquid is then the remembered or
// default figure for squeezed material, also where the drained one was measured.
func squeezeAll(s *extraction.Steep) bool {
	if s.Method.IsDirect() {
		return false
	}
	any := false
	for i := range s.Passes {
		if p := &s.Passes[i]; p.Separation == extraction.Drained {
			p.Separation = extraction.Squeezed
			unmeasured(p)
			any = true
		}
	}
	return any
}

// crush takes the form that a rolling pin or knife makes of it. Powder is not
// offered: it clogs, and is hard to keep out of the beer.
func crush(s *extraction.Steep) bool {
	// a given efficiency already stands for rate and time: a finer cut would change nothing in it
	if s.Passes[0].Efficiency != nil {
		return false
	}
	switch s.Form {
	case extraction.Cut, extraction.WholeThin, extraction.WholeHard:
		s.Form = extraction.Crushed
	case extraction.FreshWhole:
		s.Form = extraction.FreshChopped
	default:
		return false
	}
	return true
}

// twiceAsLong lets every pass stand as long again; what cools goes on cooling.
func twiceAsLong(s *extraction.Steep) bool {
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
			p.Curve = append(
				slices.Clone(p.Curve),
				figure.CurvePoint{Minutes: end.Minutes + logged(p), TempC: end.TempC},
			)
			continue
		}
		// first, while Minutes still is the time after which EndC was read
		p.KeepCooling(s)
		p.Minutes *= 2
	}
	return any
}

// hotter raises every temperature by up to 10 C, within what the liquid allows. A
// boil cannot get hotter, and a rise of less than a degree is not worth saying.
func hotter(s *extraction.Steep) bool {
	limit := teaMaxC
	switch s.Method {
	case extraction.Boil:
		return false
	case extraction.Contact, extraction.PureeIn, extraction.JuiceIn:
		limit = beerMaxC
	case extraction.Tincture:
		limit = spiritMaxC
	}
	any := false
	for i := range s.Passes {
		p := &s.Passes[i]
		if p.Efficiency != nil || s.IsBoiling(p) {
			continue
		}
		hottest, _ := s.Ends(p)
		by := min(hotterByC, limit-hottest)
		if by < leastWarmingC {
			continue
		}
		warm(s, p, by)
		any = true
	}
	return any
}

// warm raises the temperatures of a pass. What cools keeps its cooling constant:
// a hotter jug in the same room falls faster.
func warm(s *extraction.Steep, p *extraction.Pass, by float64) {
	// cloned, because the steep as it was shares the readings
	p.Curve = slices.Clone(p.Curve)
	for i := range p.Curve {
		p.Curve[i].TempC += by
	}
	start, _, _ := s.StartC(p)
	p.KeepCooling(s)
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
func stir(s *extraction.Steep) bool {
	any := false
	for i := range s.Passes {
		p := &s.Passes[i]
		if p.Efficiency == nil && !s.IsBoiling(p) && p.Agitation != extraction.Stirred && s.Method != extraction.Boil &&
			s.Method != extraction.Contact {
			p.Agitation = extraction.Stirred
			any = true
		}
	}
	return any
}

// unbag lets the material swim.
func unbag(s *extraction.Steep) bool {
	any := false
	for i := range s.Passes {
		if s.Passes[i].InBag {
			s.Passes[i].InBag = false
			any = true
		}
	}
	return any
}

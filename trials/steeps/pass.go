package steeps

import (
	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// passOf turns a pass of a material as logged into one of package extraction.
func passOf(p trials.Pass, material string, spiritPct *float64) (extraction.Pass, error) {
	out := extraction.Pass{
		VolumeML: p.VolumeL * 1000, VolumeTempC: p.VolumeTempC, EndC: p.EndC,
		Minutes: p.Minutes, Boiling: p.Agitation == "boiling", InBag: p.InBag, ABVPct: spiritPct,
		RecoveredML: millilitres(p.RecoveredL), HeldML: millilitres(p.HeldL), SpentG: p.SpentG, Efficiency: p.Efficiency,
	}
	// a pass taken to equilibrium has no temperature: zero there is not 0 C
	if p.IsHeated() {
		out.StartC = &p.StartC
	}
	if p.Curve != "" {
		curve, err := trials.KeptCurve(p.Curve)
		if err != nil {
			return out, err
		}
		out.Curve = keptTo(curve, p.Minutes)
	}
	var err error
	if out.Solids, err = readingOf(p, material, spiritPct); err != nil {
		return out, err
	}
	if p.Agitation != "" {
		if out.Agitation, err = extraction.ParseAgitation(p.Agitation); err != nil {
			return out, trials.ProblemOf(err)
		}
	}
	out.Separation, err = extraction.ParseSeparation(p.Separation)
	// in a record this word is the screw press; ParseSeparation takes it as people say it, for by hand
	if p.Separation == trials.SeparationPressed {
		out.Separation = extraction.ScrewPressed
	}
	return out, trials.ProblemOf(err)
}

// millilitres turns optional litres into millilitres.
func millilitres(l *float64) *float64 {
	if l == nil {
		return nil
	}
	ml := *l * 1000
	return &ml
}

// keptTo is a curve that lasts for minutes: beyond its last reading the
// temperature is taken as kept.
func keptTo(curve []figure.CurvePoint, minutes float64) []figure.CurvePoint {
	last := curve[len(curve)-1]
	if minutes <= last.Minutes {
		return curve
	}
	return append(curve, figure.CurvePoint{Minutes: minutes, TempC: last.TempC})
}

// extraction turns a stage into a pass of package extraction.
func (t Treatment) extraction(method string) (extraction.Pass, error) {
	p := extraction.Pass{StartC: t.StartC, EndC: t.EndC, Curve: t.Curve, Minutes: t.Minutes, InBag: t.InBag,
		Boiling: method == trials.MethodBoil || t.Agitation == "boiling", Separation: extraction.LeftIn,
		Efficiency: t.Efficiency}
	if len(t.Curve) > 0 {
		p.Curve = keptTo(t.Curve, t.Minutes)
	}
	var err error
	if t.Agitation != "" {
		if p.Agitation, err = extraction.ParseAgitation(t.Agitation); err != nil {
			return p, trials.ProblemOf(err)
		}
	}
	return p, nil
}

package steeps

import (
	"math"

	"hedgerow/dilution"
	"hedgerow/extraction"
	"hedgerow/trials"
)

// steepDraws are the draws behind the intervals of a steep.
var steepDraws = extraction.Draws{N: 4000, Seed: 20260301}

// hugeL is a volume beside which any extract is nothing, in litres: the dose in
// it times it is what the extract carries.
const hugeL = 1e9

// Spreads of liquid volumes, as in package extraction: sd of the logarithm of
// an assumed held liquid, and of a measured volume as a share of it.
const heldSD, measuredSD = 0.25, 0.02

// yieldOf runs a steep and names what comes out.
func yieldOf(s extraction.Steep, m trials.Material, method string) (Yield, error) {
	r, err := s.Run()
	if err != nil {
		return Yield{}, trials.ProblemOf(err)
	}
	doubt, err := s.Doubt(extraction.Mix{IntoL: hugeL}, steepDraws)
	if err != nil {
		return Yield{}, trials.ProblemOf(err)
	}
	y := Yield{MaterialKey: m.Key, Method: method, Class: trials.ClassIndex(m), MassG: s.MassG, Result: r, Figures: s.Provenance(), Warnings: r.Warnings}
	for c := range y.Grams {
		y.Grams[c] = gramsOf(doubt.Dose[c])
	}
	if !s.Method.IsDirect() {
		y.LiquidL = r.ExtractML / 1000
		y.LiquidHalfL = min(liquidHalfL(r), y.LiquidL)
		y.SolidsGPerL, y.SolidsHalf = solidsOf(r.Extract())
	}
	return y, nil
}

// gramsOf turns the dose in a huge volume into what went into it.
func gramsOf(b extraction.Band) dilution.Estimate {
	at := b.At95
	return dilution.Estimate{
		Value: at.Value * hugeL, Low: at.Low * hugeL, High: at.High * hugeL, U: b.SDLn * at.Value * hugeL,
		Level: at.Level, HasBounds: at.Level > 0 && at.High > at.Low, OK: true,
	}
}

// liquidHalfL is the half-width of the liquid of an extract in litres: what was
// measured is sure to 2 %, what stayed in the material to a quarter. Measuring
// never leaves more doubt than not measuring.
func liquidHalfL(r extraction.Result) float64 {
	last := r.Passes[len(r.Passes)-1]
	sd := heldSD * last.LiquidHeldML
	if last.HeldOrigin == extraction.Measured {
		sd = min(sd, measuredSD*r.ExtractML)
	}
	return math.Sqrt(3) * sd / 1000
}

// solidsOf is the strength of an extract in dissolved solids, with its limit.
func solidsOf(e extraction.Extract) (gPerL, half float64) {
	if e.VolumeML <= 0 {
		return 0, 0
	}
	perL := 1000 / e.VolumeML
	return e.SolidsG.Value * perL, (e.SolidsG.High - e.SolidsG.Low) / 2 * perL
}

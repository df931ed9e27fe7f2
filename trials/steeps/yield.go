package steeps

import (
	"math"

	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// Yield is what a material gave up: the liquid to pour, what it carries, and
// how sure that is.
type Yield struct {
	MaterialKey string  // key of the material
	Method      string  // way in which it was used
	Class       int     // solute class that counts for the material
	MassG       float64 // material as weighed that stands behind it
	LiquidL     float64 // extract to pour, litres at 20 C; 0 for a material put in itself
	LiquidHalfL float64 // half-width of LiquidL
	SolidsGPerL float64 // dissolved solids of the liquid
	SolidsHalf  float64 // half-width of SolidsGPerL
	SugarShare  float64 // of the solids, what ferments; 0 but for fruit
	// Grams is fully extracted, as-dried material in the liquid (or in the
	// beer), by solute class, with its 95 % interval.
	Grams   [trials.ClassCount]figure.Estimate
	Result  extraction.Result       // the steep behind it
	Figures []extraction.Provenance // every input with where it comes from
	// Immersion is what a material put in itself brings and keeps; nil for an
	// extract.
	Immersion *immersion
	Warnings  []string // remarks, one sentence each
}

// Extract works out what an extract gives, one of the notebook or another.
func (s *Steeper) Extract(x trials.Extract) (Yield, error) {
	steep, m, err := steepOf(s.materials, x)
	if err != nil {
		return Yield{}, err
	}
	if len(x.Passes) == 0 {
		return Yield{}, &trials.Problem{Code: trials.NotEnough, Message: "extract " + x.Name + " has no pass yet",
			Hint: `hedgerow extract pass ` + x.Name + ` "400mL 96C>60C 30min drained"`}
	}
	// only what was known as it was made: a later measurement must not change an old extract
	steep.Remembered = s.remembered(x.MaterialKey, x.MadeAt)
	steep.SolidsGPerL = x.SolidsGPerL
	if learned := s.learned(bag{x.MaterialKey, x.Lot}, x.MadeAt); learned != nil {
		steep.Soluble = learned
	}
	if s.detail != Full && x.SolidsGPerL == nil {
		steep.Known = s.lessons.read[x.ID] // nil for a tea that is not of the notebook
	}
	y, err := s.yieldOf(steep, m, x.Method)
	if sweet, ok := sweetOf(s.materials, m, x.Form); ok && err == nil {
		// A tea that was read may hold less than the table says, but no more sugar.
		y.SugarShare = min(1, sweet.sugar/y.solublePerDry())
	}
	return y, err
}

// solublePerDry is the soluble share of the dry matter by which an extract was worked out.
func (y Yield) solublePerDry() float64 {
	if u := y.Result.Update; u != nil {
		return u.NewShare
	}
	return y.Result.Steep.Soluble.Share
}

// steepOf turns an extract into the steep of package extraction.
func steepOf(materials trials.Materials, x trials.Extract) (extraction.Steep, trials.Material, error) {
	s, m, err := materialSteep(materials, materialUse{key: x.MaterialKey, form: x.Form, method: x.Method,
		massG: x.MassG, moisturePct: x.MoisturePct, moistureMeasured: true})
	if err != nil {
		return s, m, err
	}
	for _, p := range x.Passes {
		pass, err := passOf(p, x.MaterialKey, x.SpiritPct)
		if err != nil {
			return s, m, err
		}
		s.Passes = append(s.Passes, pass)
	}
	return s, m, nil
}

// materialUse is a material, its form and method, and how much of it.
type materialUse struct {
	key, form, method string
	massG             float64
	moisturePct       *float64
	moistureMeasured  bool // moisturePct is of this very lot
}

// materialSteep fills in what does not depend on passes.
func materialSteep(materials trials.Materials, u materialUse) (extraction.Steep, trials.Material, error) {
	m, err := materials.Find(u.key)
	if err != nil {
		return extraction.Steep{}, m, err
	}
	form, err := extraction.FormFor(extraction.FormWords{Word: u.form, HardKind: m.HardWhole})
	if err != nil {
		return extraction.Steep{}, m, trials.ProblemOf(err)
	}
	method, err := extraction.ParseMethod(u.method)
	if err != nil {
		return extraction.Steep{}, m, trials.ProblemOf(err)
	}
	moisture, err := materials.Moisture(m, u.form, u.moisturePct)
	if err != nil {
		return extraction.Steep{}, m, err
	}
	s := extraction.Steep{Method: method, Form: form, Kind: kindOf(m, form, false), Soluble: solubleOf(m), MassG: u.massG,
		Moisture: &moisture.Value}
	if sweet, ok := sweetOf(materials, m, u.form); ok && !method.IsDirect() {
		_, sd := s.Kind.SolubleShare()
		s.Soluble = &extraction.SolubleFigure{Share: sweet.soluble, SDLn: sd}
	}
	switch {
	case moisture.Origin == trials.OriginCatalogue:
		s.MoistureOrigin = extraction.Catalogue
	case u.moistureMeasured:
		s.MoistureOrigin = extraction.Measured
	}
	return s, m, nil
}

// steepDraws are the draws behind the intervals of a steep.
var steepDraws = extraction.Draws{N: 4000, Seed: 20260301}

// hugeL is a volume beside which any extract is nothing, in litres: the dose in
// it times it is what the extract carries.
const hugeL = 1e9

// fullYield runs a steep and names what comes out, of every class.
func fullYield(s extraction.Steep, m trials.Material, method string) (Yield, error) {
	y, err := plainYield(s, m, method)
	if err != nil {
		return y, err
	}
	// in so much beer that the extract itself is no volume: the dose times the volume is what it carries
	doubt, err := s.Doubt(extraction.Mix{IntoL: hugeL}, steepDraws)
	if err != nil {
		return Yield{}, trials.ProblemOf(err)
	}
	y.Figures = s.Provenance()
	for c := range y.Grams {
		y.Grams[c] = gramsOf(doubt.Dose[c])
	}
	return y, nil
}

// oneClassYield is fullYield for the class of the material alone.
func oneClassYield(s extraction.Steep, m trials.Material, method string) (Yield, error) {
	y, err := plainYield(s, m, method)
	if err != nil {
		return y, err
	}
	band, err := s.DoseBand(extraction.Mix{IntoL: hugeL}, extraction.Class(y.Class))
	y.Grams[y.Class] = gramsOf(band)
	return y, trials.ProblemOf(err)
}

// bestYield is oneClassYield without the interval.
func bestYield(s extraction.Steep, m trials.Material, method string) (Yield, error) {
	y, err := plainYield(s, m, method)
	if err != nil {
		return y, err
	}
	dose, err := y.Result.Dose(extraction.Mix{IntoL: hugeL})
	// of every class: a dose may be asked for by another than the one that counts for the material
	for c := range y.Grams {
		y.Grams[c] = figure.Estimate{Value: dose.EffectiveGPerL[c] * hugeL, OK: true}
	}
	return y, trials.ProblemOf(err)
}

// plainYield is what comes out at the best values, its liquid with its limits.
func plainYield(s extraction.Steep, m trials.Material, method string) (Yield, error) {
	r, err := s.Run()
	if err != nil {
		return Yield{}, trials.ProblemOf(err)
	}
	y := Yield{MaterialKey: m.Key, Method: method, Class: trials.ClassIndex(m), MassG: s.MassG, Result: r,
		Warnings: r.Warnings}
	if !s.Method.IsDirect() {
		y.LiquidL = r.ExtractML / 1000
		y.LiquidHalfL = min(liquidHalfL(r), y.LiquidL)
		y.SolidsGPerL, y.SolidsHalf = solidsOf(r.Extract())
	}
	return y, nil
}

// gramsOf turns the dose in a huge volume into what went into it.
func gramsOf(b extraction.Band) figure.Estimate {
	at := b.At95
	return figure.Estimate{
		Value: at.Value * hugeL, Low: at.Low * hugeL, High: at.High * hugeL, U: b.SDLn * at.Value * hugeL,
		Level: at.Level, HasBounds: at.Level > 0 && at.High > at.Low, OK: true,
	}
}

// normal80 is the 90 % point of the normal distribution.
const normal80 = 1.2815515655446004

// liquidHalfL is the half-width of the liquid of an extract in litres: that of a
// rectangle with the sd that its 80 % limits stand for.
func liquidHalfL(r extraction.Result) float64 {
	return math.Sqrt(3) * (r.ExtractHighML - r.ExtractLowML) / 2 / normal80 / 1000
}

// solidsOf is the strength of an extract in dissolved solids, with its limit.
func solidsOf(e extraction.Extract) (gPerL, half float64) {
	if e.VolumeML <= 0 {
		return 0, 0
	}
	perL := 1000 / e.VolumeML
	return e.SolidsG.Value * perL, (e.SolidsG.High - e.SolidsG.Low) / 2 * perL
}

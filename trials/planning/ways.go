package planning

import (
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// The plain ways are how a material is put into beer that was never put in like that
// before; their amounts, times and temperatures are common practice, no source.

// plainWay is the plain way of a method; of none, the one that suits the material.
func plainWay(m trials.Material, method string) Pattern {
	switch method {
	case "":
		return plainPattern(m)
	case trials.MethodColdTea:
		return plainExtract(m, trials.MethodColdTea, nil, trials.Pass{VolumeL: 0.12, StartC: 4, Minutes: 12 * 60,
			Agitation: "still", Separation: trials.SeparationDrained})
	case trials.MethodTincture:
		return plainExtract(m, trials.MethodTincture, new(40.0), trials.Pass{VolumeL: 0.08, StartC: 20,
			Minutes: 5 * 24 * 60, Agitation: "still", Separation: trials.SeparationDrained})
	case trials.MethodBoil:
		return plainAddition(m, trials.Addition{Stage: trials.StageBoil, Method: method, Minutes: new(10.0)})
	case trials.MethodFlameOut:
		return plainAddition(m, trials.Addition{Stage: trials.StageFlameOut, Method: method, StartC: new(98.0),
			EndC: new(92.0), Minutes: new(10.0), Agitation: "now-and-then"})
	case trials.MethodContact:
		return plainAddition(m, trials.Addition{Stage: trials.StageSecondary, Method: method,
			Minutes: new(7.0 * 24 * 60)})
	case trials.MethodJuice, trials.MethodPuree:
		return plainAddition(m, trials.Addition{Stage: trials.StageSecondary, Method: method, Form: method})
	}
	return PlainTea(m)
}

// plainPattern is how a material never used before is steeped: fruit goes into
// the fermenter for a week, all else is made into tea.
func plainPattern(m trials.Material) Pattern {
	if isFreshFruit(m) {
		return plainWay(m, trials.MethodContact)
	}
	return PlainTea(m)
}

// isFreshFruit reports whether a material is fruit that is used fresh.
func isFreshFruit(m trials.Material) bool {
	return m.Category == "fruit" && (m.DoseBasis == trials.BasisFresh || m.DoseBasis == "")
}

// plainAddition fills in the material of an addition.
func plainAddition(m trials.Material, a trials.Addition) Pattern {
	a.MaterialKey, a.MassG = m.Key, new(100.0)
	if a.Form == "" {
		a.Form = plainForm(m)
	}
	if isFreshFruit(m) && a.Method == trials.MethodContact {
		a.Form, a.MassG = "frozen", new(1000.0)
	}
	return Pattern{Addition: &a}
}

// plainForm is how a material is broken up.
func plainForm(m trials.Material) string {
	if m.DoseBasis == trials.BasisFresh {
		return "fresh-cut"
	}
	return "cut"
}

// freshLiquid is how much liquid is poured on a fresh plant, as a share of that on as
// much of a dried one: it is mostly water itself, and has to be covered.
const freshLiquid = 0.3

// plainExtract is an extract of 10 g, with passes that are told for a dried plant.
func plainExtract(m trials.Material, method string, spiritPct *float64, passes ...trials.Pass) Pattern {
	if m.DoseBasis == trials.BasisFresh {
		for i := range passes {
			passes[i].VolumeL *= freshLiquid
		}
	}
	return Pattern{Extract: &trials.Extract{MaterialKey: m.Key, Method: method, Form: plainForm(m), MassG: 10,
		SpiritPct: spiritPct, Passes: passes}}
}

// PlainTea is a steep of a material in two passes of hot water, 12 mL for each
// gram, stirred now and then, drained and squeezed.
func PlainTea(m trials.Material) Pattern {
	pass := trials.Pass{VolumeL: 0.12, StartC: 95, EndC: new(70.0), Minutes: 20, Agitation: "now-and-then",
		Separation: trials.SeparationDrained}
	second := pass
	second.Separation = trials.SeparationSqueezed
	return plainExtract(m, trials.MethodTea, nil, pass, second)
}

// strongTea is a steep of a material in one pass of hot water, 8 mL for each
// gram, squeezed: about as strong as a tea gets.
func strongTea(m trials.Material) Pattern {
	p := PlainTea(m)
	p.Extract.Passes = p.Extract.Passes[1:]
	p.Extract.Passes[0].VolumeL *= 8.0 / 12
	return p
}

// muchLiquid is the added liquid, as a share of a vessel, past which the beer
// tastes thin (judgement).
const muchLiquid = 0.10

// TooThin reports whether so much liquid in so much beer is more than that.
func TooThin(liquidL, beerL float64) bool { return liquidL > muchLiquid*(beerL+liquidL) }

// WayFor is the way that a plan and a suggestion take for a dose of a class in intoL of
// beer: as the material was last used with the method, else the plain way. A plain tea
// is made as strong as it has to be.
func WayFor(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, method string, dose,
	intoL float64) Pattern {
	return Stronger(n, materials, s.Material, PatternUsed(s, method), dose, s.Class, intoL)
}

// Stronger is a pattern, or the strong tea in place of a plain one that would not reach
// the dose or would thin the beer.
func Stronger(n *trials.Notebook, materials trials.Materials, m trials.Material, p Pattern, dose float64, class int,
	intoL float64) Pattern {
	if p.Like != "" || p.Extract == nil || p.Extract.Method != trials.MethodTea {
		return p
	}
	if r, err := RecipeFor(n, materials, p, dose, class, intoL); err != nil || TooThin(r.LiquidL, intoL) {
		return strongTea(m)
	}
	return p
}

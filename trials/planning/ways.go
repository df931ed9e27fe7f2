package planning

import (
	"strings"

	"hedgerow/trials"
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
	return plainTea(m)
}

// plainPattern is how a material never used before is put in: what is used fresh goes
// into the fermenter for a week, since it is mostly water, and water on top of it would
// thin the beer; all else is made into tea.
func plainPattern(m trials.Material) Pattern {
	if isFreshFruit(m) || m.DoseBasis == trials.BasisFresh {
		return plainWay(m, trials.MethodContact)
	}
	return plainTea(m)
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
	fresh := m.DoseBasis == trials.BasisFresh
	switch {
	case fresh && m.Category == "peel":
		return "zest"
	case fresh:
		return "fresh-cut"
	case m.Kind == "powder":
		return "powder"
	// too hard to be cut: they are cracked in a mortar
	case m.Kind == "seed", m.Kind == "bud", m.Kind == "cone", m.Kind == "bean-nib":
		return "crushed"
	}
	return "cut"
}

// isFreshForm reports whether a form is of the plant as it grew.
func isFreshForm(form string) bool {
	return strings.HasPrefix(form, "fresh") || form == "frozen" || form == "zest"
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

// plainTea is a steep of a material in two passes of hot water, 12 mL for each
// gram, stirred now and then, drained and squeezed.
func plainTea(m trials.Material) Pattern {
	pass := trials.Pass{VolumeL: 0.12, StartC: 95, EndC: new(70.0), Minutes: 20, Agitation: "now-and-then",
		Separation: trials.SeparationDrained}
	second := pass
	second.Separation = trials.SeparationSqueezed
	return plainExtract(m, trials.MethodTea, nil, pass, second)
}

// strongTea is a steep of a material in one pass of hot water, 8 mL for each
// gram, squeezed: about as strong as a tea gets.
func strongTea(m trials.Material) Pattern {
	p := plainTea(m)
	p.Extract.Passes = p.Extract.Passes[1:]
	p.Extract.Passes[0].VolumeL *= 8.0 / 12
	return p
}

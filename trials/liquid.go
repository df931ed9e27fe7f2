package trials

import (
	"math"

	"hedgerow/dilution"
)

// Limited is an amount with the limit that was written with it.
type Limited struct {
	Value     float64
	HalfWidth float64 // holds only if HasLimit
	HasLimit  bool
}

// Liquid is a liquid, sugar or weighed fruit as typed, with its limits.
type Liquid struct {
	Kind        string // water, tea, spirit, juice, wort, beer, sugar, dextrose, honey, maple, agave, molasses or material
	Material    string // of kind material
	VolumeL     *Limited
	MassG       *Limited
	TempC       *float64
	StrengthPct *Limited
	SolidsGPerL *Limited
	Plato       *Limited
	SG          *Limited
	OG, FG      *Limited
	RetainKgKg  *Limited
	FermentsPct *Limited
}

// FillLiquid puts a liquid into an addition, in the form in which it is kept.
func FillLiquid(a *Addition, l Liquid) {
	a.LiquidKind = l.Kind
	a.VolumeL, a.LiquidMassG = valueOf(l.VolumeL), valueOf(l.MassG)
	a.VolumeTempC = l.TempC
	a.StrengthPct, a.SolidsGPerL = valueOf(l.StrengthPct), valueOf(l.SolidsGPerL)
	a.Plato, a.LiquidOG, a.LiquidSG = valueOf(l.platoOf()), valueOf(l.OG), valueOf(l.FG)
	a.FermentsPct = valueOf(l.FermentsPct)
	a.VolumeLimitL = nil
	if l.VolumeL != nil && l.VolumeL.HasLimit {
		a.VolumeLimitL = &l.VolumeL.HalfWidth
	}
	if a.LiquidKind == "wort" {
		a.LiquidKind = "juice"
	}
}

// valueOf is an optional amount without its limit.
func valueOf(l *Limited) *float64 {
	if l == nil {
		return nil
	}
	v := l.Value
	return &v
}

// platoOf is the extract of a juice or wort: as given, or from its gravity.
func (l Liquid) platoOf() *Limited {
	if l.Plato != nil || l.SG == nil {
		return l.Plato
	}
	plato, err := dilution.PlatoFromSG(l.SG.Value)
	if err != nil {
		return nil
	}
	const platoPerSG = 250 // degrees Plato per unit of gravity, for a limit only
	return &Limited{Value: plato, HalfWidth: platoPerSG * l.SG.HalfWidth, HasLimit: l.SG.HasLimit}
}

// input is an amount as an input; without a limit of its own it gets fallback,
// a share of itself.
func (l *Limited) input(name string, fallback float64) dilution.Input {
	if l.HasLimit {
		return dilution.Within(name, l.Value, l.HalfWidth)
	}
	return dilution.Within(name, l.Value, fallback*math.Abs(l.Value))
}

// optional is an optional amount as an input without a limit of its own.
func (l *Limited) optional(name string, scale float64) *dilution.Input {
	if l == nil {
		return nil
	}
	in := dilution.Input{Name: name, Value: l.Value * scale}
	if l.HasLimit {
		in.HalfWidth = l.HalfWidth * scale
	}
	return &in
}

// steps turns a liquid into the steps of an account: what goes in and, for
// fruit that is taken out again, what its pulp keeps back.
func (l Liquid) steps(materials Materials) (in dilution.Step, out dilution.Step, err error) {
	if err := l.checkParts(); err != nil {
		return nil, nil, err
	}
	switch l.Kind {
	case "material":
		return l.fruitSteps(materials)
	case "water", "tea":
		return dilution.Add{Liquid: dilution.AddTea{VolumeL: l.VolumeL.input("volume of "+l.Kind, additionLimit), TempC: exactly(l.TempC), SolidsGPerL: l.SolidsGPerL.optional("solids", 1)}}, nil, nil
	case "spirit":
		return dilution.Add{Liquid: dilution.AddSpirit{VolumeL: l.VolumeL.input("volume of spirit", additionLimit), TempC: exactly(l.TempC),
			ABVPct: *l.StrengthPct.optional("strength of spirit", 1), SolidsGPerL: l.SolidsGPerL.optional("solids", 1)}}, nil, nil
	case "juice", "wort":
		p := l.platoOf()
		if p == nil {
			return nil, nil, invalid("write \"1L juice 12P\"", "the sugar of the %s is missing", l.Kind)
		}
		return dilution.Add{Liquid: dilution.AddJuice{VolumeL: l.VolumeL.input("volume of "+l.Kind, additionLimit), TempC: exactly(l.TempC),
			Plato: *p.optional("extract of "+l.Kind, 1), Fermentability: l.FermentsPct.optional("fermentable share", 0.01)}}, nil, nil
	case "beer":
		return l.beerSteps()
	}
	return l.sugarSteps()
}

// checkParts refuses a liquid that lacks a part its kind needs; a notebook merged
// from elsewhere may hold anything.
func (l Liquid) checkParts() error {
	switch l.Kind {
	case "water", "tea", "juice", "wort":
		if l.VolumeL == nil {
			return invalid("write a volume, such as 600mL "+l.Kind, "the volume of the %s is missing", l.Kind)
		}
	case "spirit":
		if l.VolumeL == nil || l.StrengthPct == nil {
			return invalid("write \"250mL spirit 60%\"", "volume or strength of the spirit is missing")
		}
	case "material":
		if l.MassG == nil {
			return invalid("weigh it, such as 2.5kg "+l.Material, "the mass of the %s is missing", l.Material)
		}
	}
	return nil
}

// beerSteps are those of another beer.
func (l Liquid) beerSteps() (dilution.Step, dilution.Step, error) {
	if l.OG == nil || l.FG == nil || l.VolumeL == nil {
		return nil, nil, invalid("write \"2L beer og=1.050 fg=1.011\"", "volume or gravities of the beer are missing")
	}
	return dilution.Add{Liquid: dilution.AddBeer{Beer: dilution.Start{VolumeL: l.VolumeL.input("volume of beer", additionLimit),
		OG: l.OG.optional("original gravity of the added beer", 1), NowSG: l.FG.optional("gravity of the added beer", 1), Finished: true}}}, nil, nil
}

// sugarSteps are those of a weighed sugar or syrup.
func (l Liquid) sugarSteps() (dilution.Step, dilution.Step, error) {
	if l.MassG == nil {
		return nil, nil, invalid("weigh it, such as 500g "+l.Kind, "%s is added by weight, not by volume", l.Kind)
	}
	s, err := sugarNamed(l.Kind)
	if err != nil {
		return nil, nil, err
	}
	kg := *l.MassG
	kg.Value, kg.HalfWidth = kg.Value/1000, kg.HalfWidth/1000
	f := dilution.AddSugar(s, kg.input("mass of "+s.Name, additionLimit))
	f.Fermentability = l.FermentsPct.optional("fermentable share", 0.01)
	return dilution.Add{Liquid: f}, nil, nil
}

// fruitSteps are those of a weighed material of known make-up. Its pulp is
// taken out again where the liquid it keeps back is given.
func (l Liquid) fruitSteps(materials Materials) (dilution.Step, dilution.Step, error) {
	m, err := materials.Find(l.Material)
	if err != nil {
		return nil, nil, err
	}
	c, ok := materials.Composition(m, "fresh")
	if !ok {
		return nil, nil, invalid("give what it brings as water, sugar or juice, such as \"500mL tea 8g/L\"", "how much water and sugar %s holds is not known", m.Key)
	}
	kg := l.MassG.Value / 1000
	half := additionLimit * kg
	if l.MassG.HasLimit {
		half = l.MassG.HalfWidth / 1000
	}
	mass := dilution.Input{Name: "mass of " + m.Key, Value: kg, Shared: "mass of " + m.Key, SharedHalfWidth: half}
	add := dilution.AddFruit{MassKg: mass, Water: dilution.Exactly(c.WaterFrac), Sugar: fruitShare("sugar of "+m.Key, c.SugarFrac),
		Nonfermentable: fruitShare("other solubles of "+m.Key, c.NonfermentableFrac), Fermentability: l.FermentsPct.optional("fermentable share", 0.01)}
	if l.RetainKgKg == nil {
		return dilution.Add{Liquid: add}, nil, nil
	}
	retain := *l.RetainKgKg
	if !retain.HasLimit {
		retain.HalfWidth, retain.HasLimit = retain.Value/2, true
	}
	return dilution.Add{Liquid: add}, dilution.LosePulp{FruitKg: mass, RetainKgPerKg: retain.input("liquid kept back by the pulp", 0)}, nil
}

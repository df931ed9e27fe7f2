package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// liquidMaker turns liquids into steps of an account and notes where each
// figure comes from.
type liquidMaker struct {
	materials    trials.Materials
	gravityLimit float64 // of gravities without a limit of their own, SG
	origins      origins
}

// steps turns a liquid into the steps of an account: what goes in and, for
// fruit that is taken out again, what its pulp keeps back.
func (k liquidMaker) steps(l Liquid) (in dilution.Step, out dilution.Step, err error) {
	if l, err = l.byVolume(); err != nil {
		return nil, nil, err
	}
	switch l.Kind {
	case "material":
		return k.fruit(l)
	case "water", "tea":
		return dilution.Add{Liquid: dilution.AddTea{VolumeL: k.volume(l), TempC: k.temp(l),
			SolidsGPerL: k.figure(l, "solids of ", l.SolidsGPerL, 1)}}, nil, nil
	case "spirit":
		return dilution.Add{Liquid: dilution.AddSpirit{VolumeL: k.volume(l), TempC: k.temp(l),
			ABVPct: *k.figure(l, "strength of ", l.StrengthPct, 1), SolidsGPerL: k.figure(l, "solids of ",
				l.SolidsGPerL, 1)}}, nil, nil
	case "juice", "wort":
		p := l.platoOf()
		plato := k.origins.typed(within(p, l.named("extract of "), platoPerSG*k.gravityLimit), p)
		return dilution.Add{Liquid: dilution.AddJuice{VolumeL: k.volume(l), TempC: k.temp(l), Plato: plato,
			Fermentability: k.figure(l, "fermentable share of ", l.FermentsPct, 0.01)}}, nil, nil
	case "beer":
		og := k.origins.typed(within(l.OG, l.named("original gravity of added "), k.gravityLimit), l.OG)
		fg := k.origins.typed(within(l.FG, l.named("gravity of added "), k.gravityLimit), l.FG)
		return dilution.Add{Liquid: dilution.AddBeer{Beer: dilution.Start{VolumeL: k.volume(l), VolumeTempC: k.temp(l),
			OG: &og, NowSG: &fg, Finished: true}}}, nil, nil
	}
	return k.sugar(l)
}

// named is the name of a figure of the liquid.
func (l Liquid) named(lead string) string {
	name := lead + l.Kind
	if l.Kind == "material" {
		name = lead + l.Material
	}
	if l.Of != "" {
		name += " (" + l.Of + ")"
	}
	return name
}

// volume is the volume of a liquid; without a limit of its own it is off by what
// jugs are off.
func (k liquidMaker) volume(l Liquid) dilution.Input {
	return k.origins.typed(input(l.VolumeL, l.named("volume of "), additionLimit), l.VolumeL)
}

// temp is the temperature at which the volume was measured, nil for 20 C.
func (k liquidMaker) temp(l Liquid) *dilution.Input {
	return k.origins.exact(l.named("temperature of "), l.TempC, fromYou)
}

// figure is an optional figure that has no limit unless one was typed.
func (k liquidMaker) figure(l Liquid, lead string, v *figure.Limited, scale float64) *dilution.Input {
	in := optional(v, l.named(lead), scale)
	if in != nil {
		*in = k.origins.typed(*in, v)
	}
	return in
}

// byVolume checks that a liquid has the parts its kind needs, since a notebook
// merged from elsewhere may hold anything, and turns weighed water and juice
// into volumes at 20 C.
func (l Liquid) byVolume() (Liquid, error) {
	p := l.platoOf()
	switch {
	case l.Kind == "material" && l.MassG == nil:
		return l, trials.Refuse("weigh it, such as 2.5kg "+l.Material, "the mass of the %s is missing", l.Material)
	case (l.Kind == "juice" || l.Kind == "wort") && p == nil:
		return l, trials.Refuse("write \"1L juice 12P\"", "the sugar of the %s is missing", l.Kind)
	case l.Kind == "spirit" && (l.VolumeL == nil || l.StrengthPct == nil):
		return l, trials.Refuse("write \"250mL spirit 60%\"", "volume or strength of the spirit is missing")
	case l.Kind == "beer" && (l.OG == nil || l.FG == nil || l.VolumeL == nil):
		return l, trials.Refuse("write \"2L beer og=1.050 fg=1.011\"", "volume or gravities of the beer are missing")
	}
	plato := 0.0
	switch l.Kind {
	case "water":
	case "juice", "wort":
		plato = p.Value
	case "tea":
		if l.VolumeL == nil {
			return l, missingVolume(l)
		}
	default:
		return l, nil
	}
	if l.VolumeL != nil {
		return l, nil
	}
	// weighed water and juice are poured like the rest: the account takes volumes
	density, err := dilution.SucroseDensity(plato, 20)
	if l.MassG == nil || err != nil {
		return l, missingVolume(l)
	}
	l.VolumeL, l.MassG = new(l.MassG.Times(1/density)), nil
	return l, nil
}

// missingVolume is the error for a liquid without an amount.
func missingVolume(l Liquid) error {
	return trials.Refuse("write a volume, such as 600mL "+l.Kind, "the volume of the %s is missing", l.Kind)
}

// litresAt20 is the liquid that goes in, litres at 20 C; 0 for sugar and fruit.
func (l Liquid) litresAt20() float64 {
	l, err := l.byVolume()
	if err != nil || l.VolumeL == nil {
		return 0
	}
	if l.TempC == nil {
		return l.VolumeL.Value
	}
	in := dilution.Tea{VolumeL: l.VolumeL.Value, TempC: *l.TempC}
	water, err := in.Portion()
	// a temperature that no water has is refused where the account is worked out
	if err != nil {
		return l.VolumeL.Value
	}
	return water.VolumeL()
}

// sugar is a weighed sugar or syrup.
func (k liquidMaker) sugar(l Liquid) (dilution.Step, dilution.Step, error) {
	if l.MassG == nil {
		return nil, nil, trials.Refuse("weigh it, such as 500g "+l.Kind, "%s is added by weight, not by volume", l.Kind)
	}
	s, err := sugarNamed(l.Kind)
	if err != nil {
		return nil, nil, err
	}
	f := dilution.AddSugar(s, k.origins.typed(input(new(l.MassG.Times(0.001)), l.named("mass of "), additionLimit),
		l.MassG))
	// AddSugar leaves them nameless; only what has a name is listed as an input
	f.Water = k.origins.note(dilution.Within(l.named("water share of "), s.Water, 0), fromCatalogue, "")
	f.Sugar = k.origins.note(dilution.Within(l.named("sugar share of "), s.Sugar, 0), fromCatalogue, "")
	f.Fermentability = k.figure(l, "fermentable share of ", l.FermentsPct, 0.01)
	return dilution.Add{Liquid: f}, nil, nil
}

// fruit is a weighed material of known make-up, fresh. Its pulp is taken out
// again where the liquid it keeps back is given.
func (k liquidMaker) fruit(l Liquid) (dilution.Step, dilution.Step, error) {
	m, err := k.materials.Find(l.Material)
	if err != nil {
		return nil, nil, err
	}
	add, ok := k.fruitIn(l, m, "fresh")
	if !ok {
		return nil, nil, trials.Refuse("give what it brings as water, sugar or juice, such as \"500mL tea 8g/L\"",
			"the water and sugar of %s are not known", m.Key)
	}
	if l.RetainKgKg == nil {
		return dilution.Add{Liquid: add}, nil, nil
	}
	return dilution.Add{Liquid: add}, dilution.LosePulp{FruitKg: add.MassKg, RetainKgPerKg: k.retain(l)}, nil
}

// fruitIn is a material in a form as water and sugar; false where its make-up is
// not known.
func (k liquidMaker) fruitIn(l Liquid, m trials.Material, form string) (dilution.AddFruit, bool) {
	c, ok := k.materials.Composition(m, form)
	if !ok {
		return dilution.AddFruit{}, false
	}
	l.Material = m.Key
	return dilution.AddFruit{
		MassKg: k.weighed(l),
		Water:  k.origins.note(dilution.Within(l.named("water share of "), c.WaterFrac, 0), fromCatalogue, ""),
		Sugar:  k.origins.note(fruitShare(l.named("sugar share of "), c.SugarFrac), fromCatalogue, limitNature),
		Nonfermentable: k.origins.note(fruitShare(l.named("other solubles of "), c.NonfermentableFrac), fromCatalogue,
			limitNature),
		Extraction:     k.figure(l, "extracted share of ", l.ExtractedPct, 0.01),
		Fermentability: k.figure(l, "fermentable share of ", l.FermentsPct, 0.01),
	}, true
}

// weighed is the mass of fruit; the common key says that the pulp taken out
// later is the same weighing.
func (k liquidMaker) weighed(l Liquid) dilution.Input {
	in := input(new(l.MassG.Times(0.001)), l.named("mass of "), additionLimit)
	in.Shared, in.SharedHalfWidth, in.HalfWidth = in.Name, in.HalfWidth, 0
	return k.origins.typed(in, l.MassG)
}

// retain is the liquid that the pulp keeps back: as typed, off by half of it
// unless it has a limit of its own, else the default.
func (k liquidMaker) retain(l Liquid) dilution.Input {
	name := l.named("liquid kept back by ")
	if l.RetainKgKg == nil {
		return k.origins.note(dilution.Within(name, retainKgKg, retainLimit), fromDefault, limitDefault)
	}
	return k.origins.typed(input(l.RetainKgKg, name, retainLimit/retainKgKg), l.RetainKgKg)
}

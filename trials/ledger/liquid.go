package ledger

import (
	"math"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// Liquid is a liquid, sugar or weighed fruit as typed, with its limits.
type Liquid struct {
	// water, tea, spirit, juice, wort, beer, sugar, dextrose, honey, maple, agave, molasses or
	// material
	Kind         string
	Material     string          // of kind material
	Of           string          // which addition it is, where there are several; part of the names of its figures
	VolumeL      *figure.Limited // litres at 20 C
	MassG        *figure.Limited // grams as weighed
	TempC        *float64        // degrees Celsius
	StrengthPct  *figure.Limited
	SolidsGPerL  *figure.Limited // dissolved solids, g/L
	Plato        *figure.Limited // degrees Plato
	SG           *figure.Limited // specific gravity 20/20
	OG, FG       *figure.Limited
	RetainKgKg   *figure.Limited
	FermentsPct  *figure.Limited
	ExtractedPct *figure.Limited // share of juice and solubles that fruit gives up
}

// FillLiquid puts a liquid into an addition, in the form in which it is kept.
func FillLiquid(a *trials.Addition, l Liquid) {
	a.LiquidKind = l.Kind
	a.VolumeTempC, a.VolumeLimitL, a.Limits = l.TempC, nil, nil
	a.VolumeL, a.LiquidMassG = valueOf(l.VolumeL), keep(a, "liquid_mass_g", l.MassG)
	a.StrengthPct, a.SolidsGPerL = keep(a, "strength_pct", l.StrengthPct), keep(a, "solids_g_per_l", l.SolidsGPerL)
	a.Plato, a.LiquidOG, a.LiquidSG = keep(a, "plato", l.platoOf()), keep(a, "liquid_og", l.OG), keep(a, "liquid_sg", l.FG)
	a.FermentsPct = keep(a, "ferments_pct", l.FermentsPct)
	if l.VolumeL != nil && l.VolumeL.HasLimit {
		a.VolumeLimitL = &l.VolumeL.HalfWidth
	}
	// to the account both are sugar in water, and the store knows one word for it
	if a.LiquidKind == "wort" {
		a.LiquidKind = "juice"
	}
}

// FillFruit puts weighed fruit into an addition of that material, in the form in
// which it is kept.
func FillFruit(a *trials.Addition, l Liquid) {
	a.MaterialKey = l.Material
	a.MassG = keep(a, "mass_g", l.MassG)
	a.RetainKgKg, a.FermentsPct, a.ExtractedPct = keep(a, "retain_kg_kg", l.RetainKgKg), keep(a, "ferments_pct",
		l.FermentsPct), keep(a, "extracted_pct", l.ExtractedPct)
}

// keep returns the value of a figure and keeps its limit under the name that it
// has in JSON.
func keep(a *trials.Addition, name string, l *figure.Limited) *float64 {
	if l != nil && l.HasLimit {
		if a.Limits == nil {
			a.Limits = trials.Limits{}
		}
		a.Limits[name] = l.HalfWidth
	}
	return valueOf(l)
}

// valueOf is an optional amount without its limit.
func valueOf(l *figure.Limited) *float64 {
	if l == nil {
		return nil
	}
	v := l.Value
	return &v
}

// asLiquid is a plain liquid or sugar as it was kept.
func asLiquid(a trials.Addition) Liquid {
	l := Liquid{Kind: a.LiquidKind, TempC: a.VolumeTempC, VolumeL: kept(a, "", a.VolumeL),
		MassG:       kept(a, "liquid_mass_g", a.LiquidMassG),
		StrengthPct: kept(a, "strength_pct", a.StrengthPct), SolidsGPerL: kept(a, "solids_g_per_l",
			a.SolidsGPerL), Plato: kept(a, "plato", a.Plato),
		OG: kept(a, "liquid_og", a.LiquidOG), FG: kept(a, "liquid_sg", a.LiquidSG), FermentsPct: kept(a, "ferments_pct",
			a.FermentsPct)}
	if a.VolumeLimitL != nil && l.VolumeL != nil {
		l.VolumeL.HalfWidth, l.VolumeL.HasLimit = *a.VolumeLimitL, true
	}
	return l
}

// asFruit is a material put in itself, weighed, as it was kept.
func asFruit(a trials.Addition) Liquid {
	return Liquid{Kind: "material", Material: a.MaterialKey, MassG: kept(a, "mass_g", a.MassG),
		RetainKgKg:  kept(a, "retain_kg_kg", a.RetainKgKg),
		FermentsPct: kept(a, "ferments_pct", a.FermentsPct), ExtractedPct: kept(a, "extracted_pct", a.ExtractedPct)}
}

// kept is an optional figure with the limit that was kept for it.
func kept(a trials.Addition, name string, v *float64) *figure.Limited {
	if v == nil {
		return nil
	}
	half, has := a.Limits[name]
	return &figure.Limited{Value: *v, HalfWidth: half, HasLimit: has}
}

// platoPerSG turns a limit of a gravity into one of degrees Plato: 0.001 is 0.25.
const platoPerSG = 250

// platoOf is the extract of a juice or wort: as given, or from its gravity.
func (l Liquid) platoOf() *figure.Limited {
	if l.Plato != nil || l.SG == nil {
		return l.Plato
	}
	// byVolume refuses it in words of its own
	plato, err := dilution.PlatoFromSG(l.SG.Value)
	if err != nil {
		return nil
	}
	return &figure.Limited{Value: plato, HalfWidth: platoPerSG * l.SG.HalfWidth, HasLimit: l.SG.HasLimit}
}

// within is an amount as an input; without a limit of its own it gets half.
func within(l *figure.Limited, name string, half float64) dilution.Input {
	if l.HasLimit {
		half = l.HalfWidth
	}
	return dilution.Within(name, l.Value, half)
}

// input is an amount as an input; without a limit of its own it gets fallback,
// a share of itself.
func input(l *figure.Limited, name string, fallback float64) dilution.Input {
	return within(l, name, fallback*math.Abs(l.Value))
}

// optional is an optional amount as an input without a limit of its own.
func optional(l *figure.Limited, name string, scale float64) *dilution.Input {
	if l == nil {
		return nil
	}
	in := dilution.Input{Name: name, Value: l.Value * scale}
	if l.HasLimit {
		in.HalfWidth = l.HalfWidth * scale
	}
	return &in
}

package trials

import (
	"fmt"

	"hedgerow/dilution"
)

// addition appends what an addition brings in, and its tracer for the dose.
func (b *ledgerBuilder) addition(a Addition, step *LedgerStep) error {
	switch {
	case a.ExtractID != nil:
		return b.pour(a, step)
	case a.LiquidKind != "":
		in, _, err := a.asLiquid().steps(b.materials)
		if err != nil {
			return err
		}
		if a.VolumeL != nil {
			step.AddedL = *a.VolumeL
		}
		b.then(in)
		return nil
	}
	return b.direct(a, step)
}

// pour appends an extract, or the part of it that was poured.
func (b *ledgerBuilder) pour(a Addition, step *LedgerStep) error {
	x, ok := b.n.ExtractByID(*a.ExtractID)
	if !ok {
		return invalid("delete the addition", "its extract is not in the notebook")
	}
	y, err := b.n.Steep(b.materials, x)
	if err != nil {
		return fmt.Errorf("extract %s: %w", x.Name, err)
	}
	poured, share := y.LiquidL, 1.0
	if a.PouredL != nil {
		poured, share = *a.PouredL, *a.PouredL/y.LiquidL
	}
	if share > 1.001 {
		return invalid("correct the poured volume or the passes", "%s L were poured, but the extract gave only %s L", number(poured), number(y.LiquidL))
	}
	y = y.scaled(min(share, 1))
	step.Steep = &y
	step.AddedL = poured
	if poured > 0 {
		b.then(dilution.Add{Liquid: y.liquid(x, a.PouredL != nil, poured)})
	}
	b.trace(a.Name, y)
	return nil
}

// liquid is the extract as a liquid for the mass balance. A poured volume that
// was measured is as sure as any added volume; one that follows from the held
// liquid is less so.
func (y Yield) liquid(x Extract, measured bool, pouredL float64) dilution.Liquid {
	volume := added("volume of "+x.Name, pouredL)
	if !measured {
		volume.HalfWidth = max(volume.HalfWidth, y.LiquidHalfL)
	}
	solids := dilution.Within("solids of "+x.Name, y.SolidsGPerL, y.SolidsHalf)
	if x.SpiritPct != nil {
		return dilution.AddSpirit{VolumeL: volume, ABVPct: dilution.Within("strength of "+x.Name, *x.SpiritPct, 1), SolidsGPerL: &solids}
	}
	return dilution.AddTea{VolumeL: volume, SolidsGPerL: &solids}
}

// direct appends a material put in itself: what of it is liquid or sugar, and
// the tracer for the dose.
func (b *ledgerBuilder) direct(a Addition, step *LedgerStep) error {
	y, err := b.n.directYield(b.materials, a)
	if err != nil {
		return err
	}
	step.Steep = &y
	if !a.InWort() {
		fruit, ok, err := b.fruit(a)
		if err != nil {
			return err
		}
		if ok {
			b.then(dilution.Add{Liquid: fruit})
		}
	}
	b.trace(a.Name, y)
	return nil
}

// fruit is a fresh, frozen, juiced or sweet material as water and sugar, where
// its make-up is known.
func (b *ledgerBuilder) fruit(a Addition) (dilution.AddFruit, bool, error) {
	m, err := b.materials.Find(a.MaterialKey)
	if err != nil {
		return dilution.AddFruit{}, false, err
	}
	c, ok := b.materials.Composition(m, a.Form)
	if !ok {
		return dilution.AddFruit{}, false, nil
	}
	return dilution.AddFruit{
		MassKg:         massOf(a),
		Water:          dilution.Exactly(c.WaterFrac),
		Sugar:          fruitShare("sugar of "+m.Key, c.SugarFrac),
		Nonfermentable: fruitShare("other solubles of "+m.Key, c.NonfermentableFrac),
		Fermentability: share(a.FermentsPct),
	}, true, nil
}

// massOf is the mass of a direct addition; the same key in its removal says
// that it is one weighing.
func massOf(a Addition) dilution.Input {
	kg := *a.MassG / 1000
	return dilution.Input{Name: "mass of " + a.Name, Value: kg, Shared: a.ID, SharedHalfWidth: additionLimit * kg}
}

// share is a percentage as a share, nil for all of it.
func share(pct *float64) *dilution.Input {
	if pct == nil {
		return nil
	}
	in := dilution.Exactly(*pct / 100)
	return &in
}

// removal appends the beer that the solids took along: what was measured, or
// for fruit a default.
func (b *ledgerBuilder) removal(a Addition) error {
	retain := dilution.Within("liquid kept back by "+a.Name, retainKgKg, retainLimit)
	switch {
	case a.RetainKgKg != nil:
		retain = dilution.Within(retain.Name, *a.RetainKgKg, 0.1**a.RetainKgKg)
	default:
		_, ok, err := b.fruit(a)
		if err != nil {
			return err
		}
		if !ok || a.Form == "juice" {
			return nil
		}
	}
	b.then(dilution.LosePulp{FruitKg: massOf(a), RetainKgPerKg: retain})
	return nil
}

// trace follows a material's effective dose from the last step on.
func (b *ledgerBuilder) trace(addition string, y Yield) {
	b.account.Tracers = append(b.account.Tracers, dilution.Tracer{Name: addition, AfterStep: len(b.account.Steps), Amount: dilution.Exactly(1)})
	b.dosed = append(b.dosed, dosed{addition: addition, step: len(b.steps), yield: y})
}

// asLiquid is a plain liquid or sugar as it was kept.
func (a Addition) asLiquid() Liquid {
	l := Liquid{Kind: a.LiquidKind, TempC: a.VolumeTempC, VolumeL: plain(a.VolumeL), MassG: plain(a.LiquidMassG), StrengthPct: plain(a.StrengthPct),
		SolidsGPerL: plain(a.SolidsGPerL), Plato: plain(a.Plato), OG: plain(a.LiquidOG), FG: plain(a.LiquidSG), FermentsPct: plain(a.FermentsPct)}
	if a.VolumeLimitL != nil && l.VolumeL != nil {
		l.VolumeL.HalfWidth, l.VolumeL.HasLimit = *a.VolumeLimitL, true
	}
	return l
}

// plain is an optional amount without a limit of its own.
func plain(v *float64) *Limited {
	if v == nil {
		return nil
	}
	return &Limited{Value: *v}
}

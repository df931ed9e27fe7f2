package ledger

import (
	"fmt"

	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// addition appends what an addition brings in, and its tracer for the dose.
func (b *ledgerBuilder) addition(a trials.Addition, step *LedgerStep) error {
	switch {
	case a.ExtractID != nil:
		return b.pour(a, step)
	case a.LiquidKind != "":
		l := asLiquid(a)
		l.Of = a.Name
		in, _, err := b.maker().steps(l)
		if err != nil {
			return err
		}
		step.AddedL = l.litresAt20()
		b.then(in)
		return nil
	}
	return b.direct(a, step)
}

// pour appends an extract, or the part of it that was poured.
func (b *ledgerBuilder) pour(a trials.Addition, step *LedgerStep) error {
	x, ok := b.ExtractByID(*a.ExtractID)
	if !ok {
		return trials.Refuse("delete the addition", "its extract is not in the notebook")
	}
	y, jug, err := b.steeper.Follow(x)
	if err != nil {
		return fmt.Errorf("extract %s: %w", x.Name, err)
	}
	p, ok := jug.Of(a.ID)
	if !ok {
		return trials.Refuse("delete the addition", "%s is not among the pours of its extract", a.Name)
	}
	if p.Problem != nil {
		return p.Problem
	}
	y = y.Scaled(p.Share)
	step.Steep = &y
	step.AddedL = p.VolumeL
	if p.VolumeL > 0 {
		b.then(dilution.Add{Liquid: b.poured(y, x, p)})
	}
	b.trace(a.Name, y)
	return nil
}

// poured is an extract as a liquid for the mass balance. A poured volume that
// was measured is as sure as any added volume; one that follows from the held
// liquid is less so. A top-up thins solids and spirit alike, volumes taken to add.
func (b *ledgerBuilder) poured(y steeps.Yield, x trials.Extract, p steeps.Pour) dilution.Liquid {
	of := func(lead string) string { return lead + x.Name + " (" + p.Addition.Name + ")" }
	volume := b.origins.note(Added(of("volume of "), p.VolumeL), fromSteep, "doubt of the steep")
	volume.HalfWidth = max(volume.HalfWidth, y.LiquidHalfL)
	if p.Addition.PouredL != nil {
		volume = b.origins.note(Added(of("volume of "), p.VolumeL), fromYou, limitDefault)
	}
	solids := b.origins.note(dilution.Within(of("solids of "), y.SolidsGPerL*p.Strength, y.SolidsHalf*p.Strength),
		fromSteep, "doubt of the steep")
	if x.SpiritPct != nil {
		strength := b.origins.note(dilution.Within(of("strength of "), *x.SpiritPct*p.Strength, 1), fromYou, limitDefault)
		return dilution.AddSpirit{VolumeL: volume, ABVPct: strength, SolidsGPerL: &solids}
	}
	return dilution.AddTea{VolumeL: volume, SolidsGPerL: &solids}
}

// direct appends a material put in itself: what of it is liquid or sugar, and
// the tracer for the dose.
func (b *ledgerBuilder) direct(a trials.Addition, step *LedgerStep) error {
	y, err := b.steeper.Direct(a)
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

// maker makes the steps of liquids for this account.
func (b *ledgerBuilder) maker() liquidMaker {
	return liquidMaker{materials: b.materials, gravityLimit: b.limits.gravity, origins: b.origins}
}

// fruit is a fresh, frozen, juiced or sweet material as water and sugar, where
// its make-up is known.
func (b *ledgerBuilder) fruit(a trials.Addition) (dilution.AddFruit, bool, error) {
	m, err := b.materials.Find(a.MaterialKey)
	if err != nil {
		return dilution.AddFruit{}, false, err
	}
	fruit, ok := b.maker().fruitIn(fruitNamed(a), m, a.Form)
	return fruit, ok, nil
}

// fruitNamed is the material of an addition with the name of the addition.
func fruitNamed(a trials.Addition) Liquid {
	l := asFruit(a)
	l.Of = a.Name
	return l
}

// removal appends the beer that the solids took along: what was measured, or
// for fruit a default.
func (b *ledgerBuilder) removal(a trials.Addition) error {
	if a.RetainKgKg == nil {
		_, ok, err := b.fruit(a)
		if err != nil {
			return err
		}
		if !ok || a.Form == "juice" {
			return nil
		}
	}
	l, k := fruitNamed(a), b.maker()
	b.then(dilution.LosePulp{FruitKg: k.weighed(l), RetainKgPerKg: k.retain(l)})
	return nil
}

// trace follows a material's effective dose from the last step on.
func (b *ledgerBuilder) trace(addition string, y steeps.Yield) {
	b.account.Tracers = append(b.account.Tracers,
		dilution.Tracer{Name: addition, AfterStep: len(b.account.Steps), Amount: dilution.Exactly(1)})
	b.dosed = append(b.dosed, dosed{addition: addition, step: len(b.steps), yield: y})
}

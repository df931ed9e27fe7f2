package ledger

import (
	"fmt"
	"math"
	"slices"

	"hedgerow/dilution"
	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// addition appends what an addition brings in, and its tracer for the dose.
func (b *ledgerBuilder) addition(a trials.Addition, step *ledgerStep) error {
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
func (b *ledgerBuilder) pour(a trials.Addition, step *ledgerStep) error {
	x, ok := b.ExtractByID(*a.ExtractID)
	if !ok {
		return trials.Refuse("delete the addition", "its extract is not in the notebook")
	}
	_, jug, err := b.steeper.Follow(x)
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
	y := p.Yield
	step.Steep = &y
	step.AddedL = p.VolumeL
	if p.VolumeL > 0 {
		b.then(dilution.Add{Liquid: b.poured(y, x, p)})
	}
	b.trace(dosed{addition: a.Name, yield: y})
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
	solids := b.origins.note(dilution.Within(of("solids of "), y.SolidsGPerL, y.SolidsHalf),
		fromSteep, "doubt of the steep")
	if x.SpiritPct != nil {
		strength := b.origins.note(dilution.Within(of("strength of "), *x.SpiritPct*p.Strength, 1), fromYou, limitDefault)
		return dilution.AddSpirit{VolumeL: volume, ABVPct: strength, SolidsGPerL: &solids}
	}
	tea := dilution.AddTea{VolumeL: volume, SolidsGPerL: &solids}
	if y.SugarShare > 0 {
		tea.Fermentability = new(b.origins.note(dilution.Within(of("fermentable share of "), y.SugarShare, 0), fromSteep, ""))
	}
	return tea
}

// direct appends a material put in itself: what of it is liquid or sugar, and
// the tracer for the dose.
func (b *ledgerBuilder) direct(a trials.Addition, step *ledgerStep) error {
	y, err := b.steeper.Direct(a)
	if err != nil {
		return err
	}
	step.Steep = &y
	// of what was out of the wort before it was read only the dose is left to tell
	if !a.InReadings() {
		if err := b.boilDown(a); err != nil {
			return err
		}
		in, ok, err := b.plant(a, y)
		if err != nil {
			return err
		}
		// Juice of fruit is no water: it brings sugar along, which ferments.
		if y.Immersion != nil && !y.Immersion.Sweet && !a.InWort() {
			soak, err := y.Immersion.In(0).Balance()
			if err != nil {
				return trials.ProblemOf(err)
			}
			step.AddedL = soak.MixL
		}
		if ok {
			b.then(dilution.Add{Liquid: in})
		}
	}
	d := dosed{addition: a.Name, yield: y}
	if a.IsPlant() && !a.InWort() {
		d.plant = &a
	}
	b.trace(d)
	return nil
}

// boilDown appends the water that boiled off before a plant went into the kettle and
// while it was in: of plants that boil together no more than what is gone at the end.
func (b *ledgerBuilder) boilDown(a trials.Addition) error {
	if a.BeforeBoilL == nil {
		return nil
	}
	began := b.account.Start.VolumeL
	before := began.Value - *a.BeforeBoilL
	if before < -began.HalfWidth {
		return trials.Refuse("with --before-boil the batch begins with the wort as it was then: correct volume and gravity "+
			"with hedgerow batch edit, or leave --before-boil out if both were read after the boil",
			"%s L of wort before the boil is more than the %s L that the batch began with",
			trials.Number(*a.BeforeBoilL), trials.Number(began.Value))
	}
	gone := max(before, 0)
	if a.BoilOffL != nil {
		gone += *a.BoilOffL
	}
	if more := gone - b.boiledOffL; more > 0 {
		b.boiledOffL = gone
		b.then(dilution.Evaporate{VolumeL: b.origins.note(Added("boiled off with "+a.Name, more), fromYou, limitDefault)})
	}
	return nil
}

// maker makes the steps of liquids for this account.
func (b *ledgerBuilder) maker() liquidMaker {
	return liquidMaker{materials: b.materials, gravityLimit: b.limits.gravity, origins: b.origins}
}

// plant is a material put straight in as water and solids: as the catalogue knows
// its make-up, else its moisture and the solids that have come out of it; false for
// what nothing is known of.
func (b *ledgerBuilder) plant(a trials.Addition, y steeps.Yield) (dilution.AddFruit, bool, error) {
	m, err := b.materials.Find(a.MaterialKey)
	if err != nil {
		return dilution.AddFruit{}, false, err
	}
	l, k := fruitNamed(a), b.maker()
	if in, ok := k.fruitIn(l, m, a.Form); ok {
		return in, true, nil
	}
	i := y.Immersion
	l.Material = m.Key
	if i == nil {
		in, ok := k.pulp(l, m, y)
		return in, ok, nil
	}
	// what stays in the plant is no part of the beer
	solids := i.Soluble * i.Released * (1 - i.Moisture)
	return dilution.AddFruit{
		MassKg: k.weighed(l),
		Water:  k.origins.note(dilution.Within(l.named("water share of "), i.Moisture, 0), fromSteep, ""),
		Nonfermentable: k.origins.note(dilution.Within(l.named("solids given by "), solids,
			min(math.Sqrt(3)*i.SolubleSD, 1)*solids), fromSteep, limitNature),
	}, true, nil
}

// pulp is juice or puree of unknown make-up: its own water, and what dissolves of it,
// which ferments where sugar is what counts in the plant. False without a moisture.
func (k liquidMaker) pulp(l Liquid, m trials.Material, y steeps.Yield) (dilution.AddFruit, bool) {
	if y.Result.Steep.Moisture == nil || y.MassG <= 0 {
		return dilution.AddFruit{}, false
	}
	share := min(y.Result.Extract().SolidsG.Value/y.MassG, 1-*y.Result.Steep.Moisture)
	solids := k.origins.note(fruitShare(l.named("solids given by "), share), fromSteep, limitNature)
	in := dilution.AddFruit{MassKg: k.weighed(l), Nonfermentable: solids,
		Water: k.origins.note(dilution.Within(l.named("water share of "), *y.Result.Steep.Moisture, 0), fromSteep, "")}
	if m.DominantSolute == "sugar" {
		in.Sugar, in.Nonfermentable = solids, dilution.Exactly(0)
	}
	return in, true
}

// fruitNamed is the material of an addition with the name of the addition.
func fruitNamed(a trials.Addition) Liquid {
	l := asFruit(a)
	l.Of = a.Name
	return l
}

// removal appends the beer that the solids took along: what was measured, by
// weighing or as typed, else what such a plant keeps. Of a plant that was left in,
// a trub loss logged since holds that beer already.
func (b *ledgerBuilder) removal(a trials.Addition) error {
	l, k := fruitNamed(a), b.maker()
	if a.RetainKgKg != nil {
		b.then(dilution.LosePulp{FruitKg: k.weighed(l), RetainKgPerKg: k.retain(l)})
		return nil
	}
	y, err := b.steeper.Direct(a)
	if err != nil || y.Immersion == nil {
		return err
	}
	soak, err := y.Immersion.In(0).Balance()
	if err != nil {
		return trials.ProblemOf(err)
	}
	if a.SpentG != nil {
		return b.weighedOut(a, soak)
	}
	if _, out := a.TakenOut(); !out && b.trubSince(a) {
		return nil
	}
	// a rectangle wider than the figure itself would draw less than nothing
	half := min(math.Sqrt(3)*y.Immersion.HeldSDLn(), 1) * soak.HeldL
	kept := b.origins.note(dilution.Within("beer kept by "+l.named(""), soak.HeldL, half), fromDefault, limitNature)
	b.then(dilution.LoseVolume{VolumeL: kept})
	return nil
}

// weighedOut appends the beer in a spent plant that was weighed: all of its weight
// that is not its own insoluble part. A balance is off by 1 %.
func (b *ledgerBuilder) weighedOut(a trials.Addition, soak extraction.SoakBalance) error {
	keptG := *a.SpentG - soak.InsolubleG
	if keptG < 0 {
		return trials.Refuse("weigh it wet, as it came out",
			"the spent %s weighs %s g, less than the %s g of it that never dissolve",
			a.MaterialKey, trials.Number(*a.SpentG), trials.Number(trials.Round3(soak.InsolubleG)))
	}
	perKg := b.origins.note(dilution.Within("beer in the spent "+a.MaterialKey+" ("+a.Name+")", keptG / *a.MassG,
		additionLimit**a.SpentG / *a.MassG), fromYou, limitWeighing)
	b.then(dilution.LosePulp{FruitKg: dilution.Exactly(*a.MassG / 1000), RetainKgPerKg: perKg})
	return nil
}

// trubSince reports whether a trub loss was logged after an addition.
func (b *ledgerBuilder) trubSince(a trials.Addition) bool {
	return slices.ContainsFunc(b.LossesOf(a.BatchID), func(l trials.Loss) bool {
		return l.Kind == trials.LossTrub && (l.At.After(a.At) || a.InWort())
	})
}

// trace follows a material's effective dose from the last step on.
func (b *ledgerBuilder) trace(d dosed) {
	b.account.Tracers = append(b.account.Tracers,
		dilution.Tracer{Name: d.addition, AfterStep: len(b.account.Steps), Amount: dilution.Exactly(1)})
	d.step = len(b.steps)
	b.dosed = append(b.dosed, d)
}

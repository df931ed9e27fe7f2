package steeps

import (
	"math"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// kindByTissue is the kind of a plant by the tissue that the catalogue names.
var kindByTissue = map[string]extraction.Kind{
	"leaf": extraction.LeafFlower, "flower": extraction.LeafFlower, "needle": extraction.LeafFlower,
	"stalk": extraction.LeafFlower,
	"root":  extraction.Root, "bark": extraction.Bark, "wood": extraction.Wood, "seed": extraction.SeedWhole,
	"bud": extraction.SeedWhole,
	"pod": extraction.SeedWhole, "bean-nib": extraction.Nib, "fruit": extraction.Fruit, "pulp": extraction.Fruit,
	"cone": extraction.Cone,
	"peel": extraction.Peel, "powder": extraction.Settled,
}

// kindByKey is the kind of plants that hold liquid unlike others of their tissue.
var kindByKey = map[string]extraction.Kind{
	"linden": extraction.Swelling, "nutmeg": extraction.Nib, "tonka": extraction.Nib, "vanilla": extraction.Bark,
	"chilli": extraction.Peel, "juniper-berry": extraction.SeedWhole, "cardamom-green": extraction.SeedWhole,
	"star-anise": extraction.SeedWhole, "rhubarb": extraction.Fruit, "coffee": extraction.Bean,
}

// kindByCategory is the kind of a material of the user's own, by the kind that was
// typed for it.
var kindByCategory = map[string]extraction.Kind{
	"flower": extraction.LeafFlower, "leaf herb": extraction.LeafFlower, "seed spice": extraction.SeedWhole,
	"root": extraction.Root, "bark-wood": extraction.Bark, "peel": extraction.Peel, "fruit": extraction.Fruit,
}

// kindOf returns how a material holds liquid in a form: seed holds more once it is
// crushed, powder that is left in settles. A material of the user's own is of the kind
// that was typed for it, else of no known one.
func kindOf(m trials.Material, form extraction.Form, leftIn bool) extraction.Kind {
	k, known := kindByKey[m.Key]
	if !known {
		k, known = kindByTissue[m.Kind]
	}
	if !known && m.Kind == "" {
		k = kindByCategory[m.Category]
	}
	switch {
	case k == extraction.SeedWhole && form != extraction.WholeHard && form != extraction.WholeThin:
		k = extraction.SeedCrushed
	case leftIn && form == extraction.Powder:
		k = extraction.Settled
	}
	return k
}

// solubleOf is the soluble share of the dry matter of a plant that is known apart from
// its kind: hibiscus, 5.4 Brix from one part in ten; nil for the others.
func solubleOf(m trials.Material) *extraction.SolubleFigure {
	if m.Key == "hibiscus" {
		return &extraction.SolubleFigure{Share: 0.63, SDLn: 0.10}
	}
	return nil
}

// sweetPlant is what a gram of dry matter of fruit gives up at most.
type sweetPlant struct{ soluble, sugar float64 }

// sweetOf looks up the composition of fruit; false for what has no sugar to speak of.
func sweetOf(materials trials.Materials, m trials.Material, form string) (sweetPlant, bool) {
	c, ok := materials.Composition(m, form)
	if !ok || c.WaterFrac >= 1 {
		return sweetPlant{}, false
	}
	dry := 1 - c.WaterFrac
	return sweetPlant{soluble: min((c.SugarFrac+c.NonfermentableFrac)/dry, 1), sugar: c.SugarFrac / dry}, true
}

// immersion is a plant put straight in: what it brings, gives and keeps.
type immersion struct {
	Kind       extraction.Kind // how it holds liquid
	Moisture   float64         // share of water by mass
	Soluble    float64         // share of the dry matter that boiling water dissolves
	SolubleSD  float64         // sd of its logarithm
	Released   float64         // share of that which has come out by the end
	Separation extraction.Separation
	Burst      bool // fruit, frozen, hot or boiled: its cells drain
	Sweet      bool // its sugar is known: see the composition of the catalogue
	Dissolves  bool // sugar or syrup: nothing of it is left to hold liquid
	MassG      float64
}

// immersionOf returns the immersion of a steep that puts a material straight in.
func immersionOf(s extraction.Steep, use plantUse, r extraction.Result) immersion {
	i := immersion{Kind: kindOf(use.material, s.Form, use.by == extraction.LeftIn), MassG: s.MassG, Separation: use.by,
		Moisture: use.moisture, Soluble: use.soluble, SolubleSD: use.solubleSD, Sweet: use.sweet,
		Dissolves: use.material.Kind == "dissolves",
		Released:  r.Yield[extraction.Water], Burst: s.Form == extraction.Frozen || s.Form == extraction.Puree}
	for _, p := range r.Passes {
		i.Burst = i.Burst || p.HottestC >= 50 // membranes die at 50 C
	}
	return i
}

// plantUse is a material put straight in as the books need it.
type plantUse struct {
	material           trials.Material
	by                 extraction.Separation
	moisture           float64
	soluble, solubleSD float64
	sweet              bool
}

// plantUseOf looks up what a steep of a material brings and gives, and notes the
// soluble share in the steep: as teas of the same bag taught it, if they did.
func plantUseOf(materials trials.Materials, s *extraction.Steep, m trials.Material, form string,
	by extraction.Separation, learned *extraction.SolubleFigure) plantUse {
	u := plantUse{material: m, by: by}
	if s.Moisture != nil {
		u.moisture = *s.Moisture
	}
	s.Kind = kindOf(m, s.Form, by == extraction.LeftIn)
	u.soluble, u.solubleSD = s.Kind.SolubleShare()
	if known := solubleOf(m); known != nil {
		u.soluble, u.solubleSD = known.Share, known.SDLn
	}
	// a known make-up tells more than the kind. It is given per weight of the plant, and the share per dry
	// matter.
	if c, ok := materials.Composition(m, form); ok && c.WaterFrac < 1 {
		sweet, _ := sweetOf(materials, m, form)
		u.sweet, u.moisture, u.soluble = true, c.WaterFrac, sweet.soluble
		s.Moisture = &u.moisture
	}
	s.Soluble = &extraction.SolubleFigure{Share: u.soluble, SDLn: u.solubleSD}
	// of fruit its sugar counts, which no gravity of a tea has told apart
	if learned != nil && !u.sweet {
		u.soluble, u.solubleSD, s.Soluble = learned.Share, learned.SDLn, learned
	}
	return u
}

// In returns the immersion as the liquid books of package extraction keep it, in
// so many litres.
func (i immersion) In(litres float64) extraction.Soak {
	soak := extraction.Soak{LiquidL: litres, MassG: i.MassG, Moisture: i.Moisture,
		SolidsPerDry: min(i.Soluble*i.Released, 1),
		HeldMLPerG:   i.Kind.HeldMLPerG(i.Separation), OwnWaterFloor: i.Kind.OwnWaterFloor(i.Moisture, i.Burst, i.Separation)}
	// what is left of it holds nothing, for nothing is left
	if i.Dissolves {
		soak.HeldMLPerG, soak.OwnWaterFloor = 0, 0
	}
	return soak
}

// HeldSDLn is the sd of the logarithm of the liquid that the spent plant keeps.
func (i immersion) HeldSDLn() float64 {
	return math.Log(i.Kind.HeldQuantile(i.Separation, 1) / i.Kind.HeldMLPerG(i.Separation))
}

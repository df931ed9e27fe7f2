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

// KindOf returns how a material holds liquid in a form: seed holds more once it is
// crushed, powder that is left in settles. A material of the user's own is of no
// known kind.
func KindOf(m trials.Material, form extraction.Form, leftIn bool) extraction.Kind {
	k, known := kindByKey[m.Key]
	if !known {
		k = kindByTissue[m.Kind]
	}
	switch {
	case k == extraction.SeedWhole && form != extraction.WholeHard && form != extraction.WholeThin:
		k = extraction.SeedCrushed
	case leftIn && form == extraction.Powder:
		k = extraction.Settled
	}
	return k
}

// Immersion is a plant put straight in: what it brings, gives and keeps.
type Immersion struct {
	Kind       extraction.Kind // how it holds liquid
	Moisture   float64         // share of water by mass
	Soluble    float64         // share of the dry matter that boiling water dissolves
	SolubleSD  float64         // sd of its logarithm
	Released   float64         // share of that which has come out by the end
	Separation extraction.Separation
	Burst      bool // fruit, frozen, hot or boiled: its cells drain
	Sweet      bool // its sugar is known: see the composition of the catalogue
	MassG      float64
}

// immersionOf returns the immersion of a steep that puts a material straight in.
func immersionOf(materials trials.Materials, s extraction.Steep, m trials.Material, form string, r extraction.Result,
	by extraction.Separation) Immersion {
	i := Immersion{Kind: KindOf(m, s.Form, by == extraction.LeftIn), MassG: s.MassG, Separation: by,
		Released: r.Yield[extraction.Water], Burst: s.Form == extraction.Frozen || s.Form == extraction.Puree}
	if s.Moisture != nil {
		i.Moisture = *s.Moisture
	}
	for _, p := range r.Passes {
		i.Burst = i.Burst || p.HottestC >= 50 // membranes die at 50 C
	}
	i.Soluble, i.SolubleSD = i.Kind.SolubleShare()
	if c, ok := materials.Composition(m, form); ok && c.WaterFrac < 1 {
		i.Sweet, i.Moisture = true, c.WaterFrac
		i.Soluble = (c.SugarFrac + c.NonfermentableFrac) / (1 - c.WaterFrac)
	}
	return i
}

// In returns the immersion as the liquid books of package extraction keep it, in
// so many litres.
func (i Immersion) In(litres float64) extraction.Soak {
	return extraction.Soak{LiquidL: litres, MassG: i.MassG, Moisture: i.Moisture,
		SolidsPerDry: min(i.Soluble*i.Released, 1),
		HeldMLPerG:   i.Kind.HeldMLPerG(i.Separation), OwnWaterFloor: i.Kind.OwnWaterFloor(i.Moisture, i.Burst, i.Separation)}
}

// HeldSDLn is the sd of the logarithm of the liquid that the spent plant keeps.
func (i Immersion) HeldSDLn() float64 {
	return math.Log(i.Kind.HeldQuantile(i.Separation, 1) / i.Kind.HeldMLPerG(i.Separation))
}

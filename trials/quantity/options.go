package quantity

// gallon says which gallon a plain "gal" means, and with it the plain quart,
// cup, fluid ounce and spoons.
type gallon int

// The gallons. An imperial gallon is 1.2 US gallons.
const (
	us gallon = iota
	Imperial
)

// Options are the circumstances in which a text is read. The zero value reads US
// gallons, knows no spoon weight and no Plato table.
type Options struct {
	Gallon    gallon                      // what a plain "gal" means
	Spoons    SpoonWeights                // of the material, to weigh "3 tsp"
	PlatoToSG func(plato float64) float64 // specific gravity 20/20; called for -10..50 P only
}

// SpoonWeights are the weights of level spoons of one material in one form. A
// nil weight is not known; if only one is known the other follows from 1 tbsp =
// 3 tsp.
type SpoonWeights struct {
	Material     string   // as people call it, for messages
	GramsPerTsp  *float64 // of a level teaspoon
	GramsPerTbsp *float64 // of a level tablespoon
}

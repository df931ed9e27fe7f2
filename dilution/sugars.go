package dilution

// Sugar is the make-up of a sugar or syrup in kg per kg as weighed.
type Sugar struct {
	Name           string  // trade name
	Water          float64 // kg/kg
	Sugar          float64 // kg/kg, fermentable
	Nonfermentable float64 // kg/kg, soluble
	Source         string  // where the figures come from
}

// Sugars returns the sugars with known make-up. Solubles that do not ferment are
// carbohydrate less fibre and sugars, plus ash, from the same table [7].
//
// Syrups are to be weighed, not measured by volume: their density would be an
// extrapolation. A kilogram of table sugar adds 0.619 L to a wort. Dextrose is
// the monohydrate, 90.9 % glucose and 9.1 % water by molar masses. The water that
// sucrose takes up when it splits, 5 % of its mass, is ignored, as Balling did.
func Sugars() []Sugar {
	const usda = "USDA National Nutrient Database for Standard Reference"
	return []Sugar{
		{"table sugar", 0, 1, 0, "sucrose"},
		{"dextrose", dextroseWater, 1 - dextroseWater, 0, "glucose monohydrate, from molar masses"},
		{"honey", 0.1710, 0.8212, 0.0028, usda},
		{"maple syrup", 0.3215, 0.5992, 0.0793, usda},
		{"agave syrup", 0.2294, 0.6803, 0.0828, usda},
		{"molasses", 0.2187, 0.7472, 0.0331, usda},
	}
}

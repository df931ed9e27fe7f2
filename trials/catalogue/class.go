package catalogue

import "slices"

// Categories that only a user's own material can have; the catalogue has
// cautions for them but no such material.
const (
	categoryNut          = "nut"
	categoryGrain        = "grain"
	categoryEssentialOil = "essential oil"
	categorySupplement   = "supplement"
)

// The classes of the table of cautions.
const (
	classWild       = "class:all wild plants"
	classMaterials  = "class:all materials"
	classDried      = "class:all dried materials"
	classNuts       = "class:tree nuts and peanuts"
	classGrain      = "class:wheat, rye, barley, oats"
	classOils       = "class:essential oils"
	classSupplement = "class:supplement powders and extracts"
	classAllergens  = "class:listed allergens"
	classStopList   = "class:stop list"
	classTasters    = "class:tasters"
	classChildren   = "class:children"
	classAll        = "class:all"
)

// generalClasses are the classes that do not depend on the material.
var generalClasses = []string{classTasters, classChildren, classAll}

// classOfCategory returns the class of a risky category, empty for others.
func classOfCategory(category string) string {
	switch category {
	case categoryNut:
		return classNuts
	case categoryGrain:
		return classGrain
	case categoryEssentialOil:
		return classOils
	case categorySupplement:
		return classSupplement
	}
	return ""
}

// wildCodes are the hazards that mark a material as one that people pick
// themselves.
var wildCodes = []string{
	"look-alike", "hemlock-look-alike", "yew-look-alike", "nightshade-look-alike", "veratrum-look-alike",
	"laurel-look-alike", "broom-look-alike",
	"conifer-id", "juniper-species", "foraging-law", "roadside-spray", "nettle-sting", "thorns",
}

// classesOf returns the classes of the table of cautions that a material
// belongs to. A user's own plant may always be a wild one.
func classesOf(m Material) []string {
	classes := []string{classMaterials}
	if class := classOfCategory(m.Category); class != "" {
		// an oil or a nut is sold as such: it was not picked and dried by the brewer
		return append(classes, class)
	}
	if m.IsLiquidOrSugar() {
		return classes
	}
	if m.Own || slices.ContainsFunc(m.CautionCodes, func(code string) bool { return slices.Contains(wildCodes, code) }) {
		classes = append(classes, classWild)
	}
	if driedInUse(m) {
		classes = append(classes, classDried)
	}
	return classes
}

// driedInUse reports whether a material is kept dried: one of its forms says
// so, or its dose is for the dried material.
func driedInUse(m Material) bool { return m.DoseBasis == "dry" || anyFormHas(m, dryForms) }

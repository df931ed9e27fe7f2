package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/catalogue"
	"hedgerow/trials/spelling"
)

// fruitShare is a figure of fruit with its natural spread.
func fruitShare(name string, v float64) dilution.Input {
	return dilution.Within(name, v, catalogue.SugarLimitRel*v)
}

// dextrose is the kind of the one hexose among the sugars.
const dextrose = "dextrose"

// sugarNamed finds a sugar by its short or full name.
func sugarNamed(kind string) (dilution.Sugar, error) {
	var kinds []string
	for _, s := range dilution.Sugars() {
		// notebooks keep the short name, people type either
		if s.Name == kind || s.Name == sugarNames[kind] {
			return s, nil
		}
		kinds = append(kinds, s.Name)
	}
	return dilution.Sugar{}, trials.Refuse(spelling.Hint(kind, kinds), "the sugar %q is not known", kind)
}

// sugarNames are short words for the sugars of package dilution.
var sugarNames = map[string]string{"sugar": "table sugar", "sucrose": "table sugar", "maple": "maple syrup",
	"agave": "agave syrup"}

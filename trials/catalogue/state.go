package catalogue

import (
	"slices"
	"strings"
)

// state is whether a material is used with its own water or dried.
type state string

const (
	stateFresh state = "fresh"
	stateDried state = "dried" // or as sold: syrups, sugars, cured pods
)

// freshForms are the forms that hold the plant's own water.
var freshForms = []string{"fresh", "frozen", "zest", "puree", "juice"}

// dryForms are forms that only a dried material has.
var dryForms = []string{"dried", "dry", "powder", "ground"}

// stateOf returns the state of a material in a form. A form that may be either
// (whole, cut, crushed) counts as dried, as in the table of extraction
// defaults, unless the material is only used fresh (raspberry).
func stateOf(m Material, form string) state {
	form = strings.ToLower(strings.TrimSpace(form))
	switch {
	case m.IsLiquidOrSugar():
		return stateDried
	case slices.Contains(freshForms, form):
		return stateFresh
	case slices.Contains(dryForms, form):
		return stateDried
	case onlyFresh(m):
		return stateFresh
	}
	return stateDried
}

// onlyFresh reports whether no dried form of the material is in use: its dose
// is not for dried material and none of its typical forms is a dry one.
func onlyFresh(m Material) bool {
	if m.IsLiquidOrSugar() || m.DoseBasis == "dry" || m.DoseBasis == "as-is" || len(m.TypicalForms) == 0 {
		return false
	}
	return !slices.ContainsFunc(m.TypicalForms, func(form string) bool {
		return slices.ContainsFunc(dryForms, func(dry string) bool { return strings.Contains(form, dry) })
	})
}

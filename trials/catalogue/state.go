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
// defaults, unless the material is as a rule used fresh (raspberry).
func stateOf(m Material, form string) state {
	form = strings.ToLower(strings.TrimSpace(form))
	switch {
	case m.IsLiquidOrSugar():
		return stateDried
	case slices.Contains(freshForms, form), strings.HasPrefix(form, "fresh"):
		return stateFresh
	case slices.Contains(dryForms, form):
		return stateDried
	case mostlyFresh(m):
		return stateFresh
	}
	return stateDried
}

// mostlyFresh reports whether a material is as a rule used with its own water:
// a fruit whose dose is for the fresh one, or anything that is picked fresh or
// frozen and has no dry form.
func mostlyFresh(m Material) bool {
	switch m.DoseBasis {
	case "dry", "as-is":
		return false
	case "fresh":
		if m.Category == categoryFruit {
			return true
		}
	}
	return anyFormHas(m, freshForms) && !anyFormHas(m, dryForms)
}

// anyFormHas reports whether a typical form of the material has one of the
// words in it.
func anyFormHas(m Material, words []string) bool {
	return slices.ContainsFunc(m.TypicalForms, func(form string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(form, w) })
	})
}

package steeps

import (
	"strings"

	"hedgerow/extraction"
	"hedgerow/trials"
)

// SteepDefault is a default of the steep model with its grade and source.
type SteepDefault = extraction.Default

// SteepDefaults returns the defaults of the steep model that matter most for a
// material: rates of the forms it may have and the figures of its class.
func SteepDefaults(m trials.Material) []SteepDefault {
	whole := "whole thin"
	if m.HardWhole {
		whole = "whole hard"
	}
	kind := kindOf(m, extraction.Cut, false).String()
	return defaultsOf("form.cut.k80", "form."+whole+".k80", "held."+kind+".drained", "held."+kind+".squeezed",
		"class."+trials.ClassNames[trials.ClassIndex(m)]+".u-water")
}

// AllSteepDefaults returns every default of the steep model that a material may
// meet: all but the forms that it cannot have whole and the other solute classes.
func AllSteepDefaults(m trials.Material) []SteepDefault {
	otherWhole := "form.whole hard."
	if m.HardWhole {
		otherWhole = "form.whole thin."
	}
	own := "class." + trials.ClassNames[trials.ClassIndex(m)] + "."
	kind := kindOf(m, extraction.Cut, false).String()
	var list []SteepDefault
	for _, d := range extraction.Defaults() {
		if strings.HasPrefix(d.Key, otherWhole) || isOfKind(d.Key) && !strings.Contains(d.Key, "."+kind) ||
			strings.HasPrefix(d.Key, "class.") && !strings.HasPrefix(d.Key, own) && d.Key != "class.water.kappa" {
			continue
		}
		list = append(list, d)
	}
	return list
}

// isOfKind reports whether a default is of a kind of material.
func isOfKind(key string) bool {
	return strings.HasPrefix(key, "held.") || strings.HasPrefix(key, "solids.") && key != "solids.volume"
}

// defaultsOf returns the defaults of those keys.
func defaultsOf(keys ...string) []SteepDefault {
	var list []SteepDefault
	for _, k := range keys {
		if d, ok := extraction.DefaultFor(k); ok {
			list = append(list, d)
		}
	}
	return list
}

// classDefaults returns the defaults that a class brings into a steep: how much of
// it the liquid can carry, its rate, and its loss by heat.
func classDefaults(class extraction.Class, method extraction.Method) []SteepDefault {
	ceiling := "u-water"
	if method == extraction.Tincture {
		ceiling = "u-spirit"
	}
	list := defaultsOf("class."+class.String()+"."+ceiling, "class."+class.String()+".rate")
	switch class {
	case extraction.Aroma:
		list = append(list, defaultsOf("loss.aroma-boil", "loss.aroma-hot", "loss.aroma-border")...)
	case extraction.Colour:
		list = append(list, defaultsOf("loss.colour-boil", "loss.colour-ea")...)
	}
	return list
}

// ClassDefaults returns the defaults that a class brings into the steep.
func (a SteepAnswer) ClassDefaults(class int) []SteepDefault {
	return classDefaults(extraction.Class(class), a.Result.Steep.Method)
}

// term is one value on the way from the inputs of a steep to its result.
type term = extraction.Term

// Steps returns the values on the way for one class, in the order in which they
// are worked out.
func (a SteepAnswer) Steps(class int) []term { return a.Result.Explain(extraction.Class(class)) }

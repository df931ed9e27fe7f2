package trials

import "hedgerow/extraction"

// SteepDefault is a default of the steep model with its grade and source.
type SteepDefault = extraction.Default

// SteepDefaults returns the defaults of the steep model that matter for a
// material: rates of the forms it may have and the figures of its class.
func SteepDefaults(m Material) []SteepDefault {
	whole := "whole thin"
	if m.HardWhole {
		whole = "whole hard"
	}
	keys := []string{"form.cut.k80", "form." + whole + ".k80", "held.drained", "held.squeezed", "class." + ClassNames[classIndex(m)] + ".u-water"}
	var list []SteepDefault
	for _, k := range keys {
		if d, ok := extraction.DefaultFor(k); ok {
			list = append(list, d)
		}
	}
	return list
}

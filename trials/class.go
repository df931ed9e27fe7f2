package trials

import "slices"

// classCount is how many solute classes there are (water, aroma, resin).
const ClassCount = 3

// ClassNames are the words of the solute classes, by index.
var ClassNames = [ClassCount]string{"water", "aroma", "resin"}

// SteepClasses are the classes that a steep can be worked out for: the solute
// classes, and the families that the water class is made of.
var SteepClasses = [...]string{"water", "aroma", "resin", "colour", "acid", "small", "tannin"}

// ClassIndex is the solute class that counts for a material: its own, or water.
func ClassIndex(m Material) int {
	return max(slices.Index(ClassNames[:], m.Class), 0)
}

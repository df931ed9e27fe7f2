package catalogue

// isHardWhole reports whether whole pieces of a material of that category and
// part count as whole hard rather than whole thin: berries, seeds, quills,
// pods, nibs, roots and wood are slow to wet through; leaves, petals, calyces,
// needles and thin peel are not. It goes by the category, but for the parts
// that are unlike the rest of theirs: the thick stalks among the leaf herbs and
// the roasted seeds among the teas. An unknown category counts as thin.
// Common practice, no source.
func isHardWhole(category, partUsed string) bool {
	switch partUsed {
	case "stalks", "roasted seed", "roasted cracked seed":
		return true
	}
	switch category {
	case categoryFruit, categorySeedSpice, categoryRoot, categoryBarkWood, categoryNut, categoryGrain:
		return true
	}
	return false
}

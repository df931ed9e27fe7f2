package catalogue

// hardCategory says of each category whether whole pieces of it are hard:
// berries, seeds, quills, pods, nibs, roots and wood are slow to wet through;
// leaves, petals, calyces, needles and thin peel are not. Common practice, no
// source.
var hardCategory = map[string]bool{
	CategoryFruit:     true,
	CategoryFlower:    false,
	CategoryLeafHerb:  false,
	CategorySeedSpice: true,
	CategoryRoot:      true,
	CategoryBarkWood:  true,
	CategoryPeel:      false,
	CategoryTea:       false,
	CategorySweet:     false,
}

// hardPart corrects hardCategory for parts that are unlike the rest of their
// category: the thick stalks among the leaf herbs, the roasted seeds among the
// teas.
var hardPart = map[string]bool{
	"stalks":               true,
	"roasted seed":         true,
	"roasted cracked seed": true,
}

// IsHardWhole reports whether whole pieces of a material of that category and
// part count as whole hard rather than whole thin. An unknown category counts
// as thin unless the part is known to be hard.
func IsHardWhole(category, partUsed string) bool {
	return hardPart[partUsed] || hardCategory[category]
}

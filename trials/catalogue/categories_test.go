package catalogue

// builtInCategories are the categories of the built-in materials.
var builtInCategories = []string{
	CategoryFruit, CategoryFlower, CategoryLeafHerb, CategorySeedSpice, CategoryRoot,
	CategoryBarkWood, CategoryPeel, CategoryTea, CategorySweet,
}

// riskyCategories are those that a user's own material may have beside them,
// each with a caution of its own.
var riskyCategories = []string{CategoryNut, CategoryGrain, CategoryEssentialOil, CategorySupplement}

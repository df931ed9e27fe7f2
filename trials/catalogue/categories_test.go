package catalogue

// builtInCategories are the categories of the built-in materials.
var builtInCategories = []string{
	categoryFruit, categoryFlower, categoryLeafHerb, categorySeedSpice, categoryRoot,
	categoryBarkWood, categoryPeel, categoryTea, categorySweet,
}

// riskyCategories are those that a user's own material may have beside them,
// each with a caution of its own.
var riskyCategories = []string{categoryNut, categoryGrain, categoryEssentialOil, categorySupplement}

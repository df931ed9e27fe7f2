package catalogue

import (
	"cmp"
	"slices"
	"sync"
)

// Catalogue is the set of materials with their cautions, limits and sources.
// It is never changed after it was made and may be shared between goroutines.
type Catalogue struct {
	materials []Material // sorted by key
	sources   map[string]Source
	cautions  []Caution
	limits    []Limit
	moistures []moisture
	medians   map[string]classDefault
	spoons    map[spoonFood]spoonRow
	fruits    map[string]sugarShares // by material key
	stopped   map[string][]StopPlant // by folded name
	allergens map[string]allergen    // by folded name
	pulp      float64                // share of the dissolved in what is neither water nor sugar of a fruit
}

// load reads the tables at the first call only.
var load = sync.OnceValues(read)

// Load returns the built-in catalogue. The tables are read at the first call;
// the error says which cell of which table is broken.
func Load() (*Catalogue, error) { return load() }

// read reads every table.
func read() (*Catalogue, error) {
	c := &Catalogue{}
	var errs [10]error
	c.materials, errs[0] = readMaterials()
	c.sources, errs[1] = readSources()
	c.cautions, errs[2] = readCautions()
	c.limits, errs[3] = readLimits()
	c.moistures, errs[4] = readMoistures()
	c.medians, errs[5] = readClassDefaults()
	c.spoons, errs[6] = readSpoons()
	c.fruits, c.pulp, errs[7] = readFruits()
	c.stopped, errs[8] = readStopList()
	c.allergens, errs[9] = readAllergens()
	if err := cmp.Or(errs[:]...); err != nil {
		return nil, err
	}
	// Get searches by halves
	slices.SortFunc(c.materials, func(a, b Material) int { return cmp.Compare(a.Key, b.Key) })
	return c, nil
}

// All returns every material, sorted by key.
func (c *Catalogue) All() []Material { return slices.Clone(c.materials) }

// Get returns the material of exactly that key.
func (c *Catalogue) Get(key string) (Material, bool) {
	i, ok := slices.BinarySearchFunc(c.materials, key, func(m Material, k string) int { return cmp.Compare(m.Key, k) })
	if !ok {
		return Material{}, false
	}
	return c.materials[i], true
}

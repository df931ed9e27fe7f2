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
	sources   func() map[string]Source
	cautions  func() []Caution
	limits    func() []Limit
	moistures []moisture
	medians   map[string]classDefault
	spoons    map[spoonFood]spoonRow
	fruits    map[string]sugarShares        // by material key
	stopped   func() map[string][]StopPlant // by folded name
	allergens func() map[string]allergen    // by folded name
	pulp      float64                       // share of the dissolved in what is neither water nor sugar of a fruit
}

// load reads the tables at the first call only.
var load = sync.OnceValues(read)

// Load returns the built-in catalogue. The tables of figures are read at the first
// call, those of words when they are first asked for; the error says which cell of which
// table is broken.
func Load() (*Catalogue, error) { return load() }

// read reads every table of figures.
func read() (*Catalogue, error) {
	c := &Catalogue{sources: once(readSources), cautions: once(readCautions), limits: once(readLimits),
		stopped: once(readStopList), allergens: once(readAllergens)}
	var errs [5]error
	c.materials, errs[0] = readMaterials()
	c.moistures, errs[1] = readMoistures()
	c.medians, errs[2] = readClassDefaults()
	c.spoons, errs[3] = readSpoons()
	c.fruits, c.pulp, errs[4] = readFruits()
	if err := cmp.Or(errs[:]...); err != nil {
		return nil, err
	}
	// Get searches by halves
	slices.SortFunc(c.materials, func(a, b Material) int { return cmp.Compare(a.Key, b.Key) })
	return c, nil
}

// once returns a table that is read when it is first asked for: a list of batches needs
// neither cautions nor sources. It is a part of the program, and read by its tests, so
// that there is nothing to be done about one that is broken.
func once[T any](read func() (T, error)) func() T {
	return sync.OnceValue(func() T {
		t, err := read()
		if err != nil {
			panic(err)
		}
		return t
	})
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

package quantity

import (
	"fmt"
	"slices"

	"hedgerow/trials/figure"
)

// spooned reads spoons of a dry material as grams. Spoon weights are those of
// level spoons; a heaped one may hold twice as much, which no text tells.
func (r *reader) spooned() (figure.Limited, error) {
	m, err := r.measure()
	if err != nil {
		return figure.Limited{}, err
	}
	perSpoon, err := r.spoonWeight(m.unit)
	if err != nil {
		return figure.Limited{}, err
	}
	m.unit.scale = perSpoon
	// the limit may be in another spoon: 2 tbsp +- 1 tsp
	if m.halfUnit.dim == spoon {
		if m.halfUnit.scale, err = r.spoonWeight(m.halfUnit); err != nil {
			return figure.Limited{}, err
		}
	}
	return m.base(), nil
}

// spoonWeight returns the grams of one level spoon u of the material of
// r.opt.Spoons, and notes it as an assumption. Other volumes are refused.
func (r *reader) spoonWeight(u unit) (float64, error) {
	if u.dim != spoon {
		return 0, r.liquidForDry(u)
	}
	s := r.opt.Spoons
	material := s.Material
	if material == "" {
		material = "the material"
	}
	grams, ok := s.grams(u.name)
	if !ok {
		return 0, r.fail(fmt.Sprintf("weigh 10 level teaspoons of %s, divide by 10, or write grams", material),
			"the weight of a %s of %s is not known", u.name, material)
	}
	if !(grams > 0 && grams <= maxNumber) {
		return 0, r.fail("weigh 10 level teaspoons and divide by 10", "the stored spoon weight of %s is not above zero",
			material)
	}
	// The size of the spoon no longer matters once its weight is known.
	r.assumed = slices.DeleteFunc(r.assumed, func(note string) bool { return note == u.note })
	r.assume(fmt.Sprintf("a level %s of %s weighs %s g", u.name, material, digits3(grams)))
	return grams, nil
}

// grams returns the weight of a spoon; a missing one follows from 1 tbsp = 3 tsp.
func (s SpoonWeights) grams(spoon string) (float64, bool) {
	switch {
	case spoon == "tbsp" && s.GramsPerTbsp != nil:
		return *s.GramsPerTbsp, true
	case spoon == "tbsp" && s.GramsPerTsp != nil:
		return *s.GramsPerTsp * 3, true
	case spoon == "tsp" && s.GramsPerTsp != nil:
		return *s.GramsPerTsp, true
	case spoon == "tsp" && s.GramsPerTbsp != nil:
		return *s.GramsPerTbsp / 3, true
	}
	return 0, false
}

package planning

import (
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// leastTeaL is the least water that a tea is planned with: less is cold before it has
// drawn, and half of it stays in the plant (judgement).
const leastTeaL = 0.150

// toLeastTea is how many times more of an extract has to be made than k times the
// pattern, so that it is no smaller than that; 1 where it is large enough, or spirit.
func toLeastTea(x trials.Extract, k float64) float64 {
	if x.SpiritPct != nil {
		return 1
	}
	var water float64
	for _, p := range x.Passes {
		water += k * p.VolumeL
	}
	// one drop below it is no reason to make more
	if water <= 0 || water >= 0.99*leastTeaL {
		return 1
	}
	return leastTeaL / water
}

// Whole is the recipe with a tea that is large enough to be made: what the beer does not
// need of it is kept.
func (r recipe) Whole() recipe {
	k := toLeastTea(trials.Extract{SpiritPct: r.SpiritPct, Passes: r.Passes}, 1)
	if k == 1 || r.Direct != nil {
		return r
	}
	r.MassG, r.Passes, r.KeptL = k*r.MassG, scaledPasses(r.Passes, k), (k-1)*r.LiquidL
	return r
}

// Finer is a way whose plain extract is made in so much more water that the smallest
// dose in a vessel is five steps of the syringe, as far as the largest then brings no
// more liquid than a beer likes.
func Finer(n *trials.Notebook, materials trials.Materials, s ledger.TrialSet, c Choice, doses []float64, beerL,
	stepL float64) (Choice, error) {
	x := c.Pattern.Extract
	if x == nil || c.Pattern.Like != "" {
		return c, nil
	}
	y, err := bestOf(n, materials).Extract(*x)
	if err != nil {
		return c, err
	}
	const steps, room = 5, 0.8 // a fifth is left, for a weak tea gives a little less than was reckoned
	much := room * limits(c.Pattern).much
	least, most := doses[0], doses[len(doses)-1]
	wanted := max(least*beerL/(steps*stepL), most*(1+much)/much)
	k := strength(y, s.Class) / wanted
	if k <= 1 {
		return c, nil
	}
	thin := *x
	thin.Passes = scaledPasses(x.Passes, k)
	c.Pattern.Extract = &thin
	return c, nil
}

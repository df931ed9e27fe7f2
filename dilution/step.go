package dilution

// Step is one event in the account of a batch: ReadGravity, Settle, Add, Finish,
// loseVolume, LosePulp, TakeOut, Evaporate, ReadVolume, Saturate, Warm or
// Condition.
type Step interface {
	// inputs lists the figures in the order apply expects their values.
	inputs() []Input
	// check validates the best values as far as they can be judged alone.
	check() error
	// apply changes the batch. In the run on best values an impossible step is
	// an error; a draw is brought back to what is possible instead.
	apply(x []float64, b *batch, as runKind) (Notes, error)
}

// batch is the running state of an account.
type batch struct {
	State
	kept float64 // share of a solute present at the start that is still there
}

// lose cuts the batch down to share k of itself: the same liquid, less of it.
func (b *batch) lose(k float64) {
	b.State = b.State.scale(k)
	b.kept *= k
}

// runKind says what apply is called for.
type runKind uint8

const (
	bestValues runKind = iota // the run on best values: decides branches
	oneDraw                   // a draw, following the branch of the best values
	drawIdle                  // a draw of a step that the best values passed over
)

// smallestShare is what a draw always leaves, so that no draw empties the batch.
const smallestShare = 1e-6

// Add mixes a liquid in: every mass and total of its portion is added. Nothing
// ferments at that moment; what can is fermentable from then on.
type Add struct {
	Liquid Liquid // AddTea, AddJuice, AddFruit, AddSpirit or AddBeer
}

func (a Add) inputs() []Input { return a.Liquid.inputs() }

func (a Add) check() error { return a.Liquid.check() }

func (a Add) apply(x []float64, b *batch, as runKind) (Notes, error) {
	// nothing but the masses: remarks and the tie of the yield are for the best values, and this is
	// the inner loop
	if as != bestValues {
		b.State = b.State.Plus(a.Liquid.portion(x))
		return 0, nil
	}
	portion := a.Liquid.portion(x)
	if beer, ok := a.Liquid.(AddBeer); ok {
		portion = beer.Beer.bestState(x)
	}
	b.State = b.State.Plus(portion)
	return a.Liquid.notes(), nil
}

// Saturate sets the dissolved CO2 to equilibrium: active fermentation at TempC
// under PressureBar,
//
//	volumes = f S(t) p / 1.977
//
// with f the BeerFactor and S the solubility in water [8]. See
// residualCO2Volumes for ranges.
type Saturate struct {
	TempC       Input  // temperature of the beer, 0..40 C
	PressureBar *Input // absolute; nil: 1.01325
	BeerFactor  *Input // nil: 0.94 +- 0.052
}

func (s Saturate) inputs() []Input {
	factor := Within("CO2 solubility in beer", BeerCO2Factor, beerCO2FactorHalfWidth)
	if s.BeerFactor != nil {
		factor = *s.BeerFactor
	}
	return []Input{s.TempC, orElse(s.PressureBar, barPerAtm), factor}
}

func (s Saturate) check() error {
	in := s.inputs()
	return gas{TempC: in[0].Value, PressureBar: in[1].Value, BeerFactor: in[2].Value}.check()
}

func (s Saturate) apply(x []float64, b *batch, _ runKind) (Notes, error) {
	b.State = b.State.WithCO2Volumes(drawnGas(x).volumes())
	return 0, nil
}

// drawnGas is a Gas from drawn values, brought back to what is possible.
func drawnGas(x []float64) gas {
	return gas{TempC: clampTemp(x[0], 40), PressureBar: max(x[1], 0), BeerFactor: min(max(x[2], 0.5), 1)}
}

// Warm is the temperature a beer reaches after active fermentation ended: CO2
// above equilibrium leaves, CO2 below it stays as it is. CO2 that was not known
// becomes the equilibrium, an upper limit.
type Warm struct {
	To Saturate // the condition it warms to
}

func (w Warm) inputs() []Input { return w.To.inputs() }

func (w Warm) check() error { return w.To.check() }

func (w Warm) apply(x []float64, b *batch, _ runKind) (Notes, error) {
	limit := drawnGas(x).volumes()
	// warming only drives gas out: a beer with less than that takes none up through an airlock
	if have, ok := b.State.co2Volumes(); ok && have < limit {
		return 0, nil
	}
	b.State = b.State.WithCO2Volumes(limit)
	return 0, nil
}

package dilution

// Liquid is something to add, with every figure an Input: AddTea, AddJuice,
// AddFruit, AddSpirit or AddBeer. Each draws its figures, brings them back to
// what is possible, and hands them to the plain type of the same name, whose
// Portion documents formula, ranges and errors.
type Liquid interface {
	// inputs lists the figures in the order portion expects their values.
	inputs() []Input
	// check validates the best values.
	check() error
	// portion returns component masses for values drawn within the limits,
	// brought back to what is possible.
	portion(x []float64) State
	// notes are the remarks that go with such an addition.
	notes() Notes
}

// AddTea is a Tea with limits; without solids it is water.
type AddTea struct {
	VolumeL     Input  // litres as measured
	TempC       *Input // nil: measured at 20 C
	SolidsGPerL *Input // nil: none
	// Fermentability is the share of the solids that ferments, as of a tea of fruit;
	// nil: none
	Fermentability *Input
}

func (a AddTea) inputs() []Input {
	return []Input{a.VolumeL, orElse(a.TempC, 20), orElse(a.SolidsGPerL, 0), orElse(a.Fermentability, 0)}
}

func (a AddTea) check() error {
	in := a.inputs()
	return Tea{VolumeL: in[0].Value, TempC: in[1].Value, SolidsGPerL: in[2].Value, Fermentability: in[3].Value}.check()
}

func (a AddTea) portion(x []float64) State {
	return Tea{VolumeL: max(x[0], 0), TempC: clampTemp(x[1], 100), SolidsGPerL: max(x[2], 0),
		Fermentability: clampShare(x[3])}.portion()
}

func (a AddTea) notes() Notes {
	switch {
	case a.SolidsGPerL == nil:
		return 0
	case a.Fermentability != nil && a.Fermentability.Value > 0:
		return NoteFermenting | NoteColour
	}
	return NoteColour
}

// AddJuice is a Juice with limits.
type AddJuice struct {
	VolumeL        Input  // litres as measured
	TempC          *Input // nil: measured at 20 C
	Plato          Input  // extract, per cent by mass
	Fermentability *Input // nil: 1, all of it
}

func (a AddJuice) inputs() []Input {
	return []Input{a.VolumeL, orElse(a.TempC, 20), a.Plato, orElse(a.Fermentability, 1)}
}

func (a AddJuice) check() error {
	in := a.inputs()
	return juice{VolumeL: in[0].Value, TempC: in[1].Value, Plato: in[2].Value, Fermentability: in[3].Value}.check()
}

func (a AddJuice) portion(x []float64) State {
	// wide limits draw below nothing, and Portion would refuse: draws are brought back to what can be
	// poured
	return juice{
		VolumeL:        max(x[0], 0),
		TempC:          clampTemp(x[1], 100),
		Plato:          max(x[2], 0),
		Fermentability: clampShare(x[3]),
	}.portion()
}

func (a AddJuice) notes() Notes { return NoteFermenting | NoteColour }

// AddFruit is a Fruit with limits: whole fruit, puree, honey, syrup or sugar. The
// sugar of fruit varies much in nature; +-25 % of it is a usual limit (common
// practice, no source).
type AddFruit struct {
	MassKg         Input  // kg as weighed
	Water          Input  // kg/kg
	Sugar          Input  // kg/kg
	Nonfermentable Input  // other solubles, kg/kg
	Extraction     *Input // nil: 1
	Fermentability *Input // nil: 1
}

// AddSugar returns massKg of the sugar as an addition; its make-up is without
// doubt.
func AddSugar(s Sugar, massKg Input) AddFruit {
	return AddFruit{
		MassKg:         massKg,
		Water:          Exactly(s.Water),
		Sugar:          Exactly(s.Sugar),
		Nonfermentable: Exactly(s.Nonfermentable),
	}
}

func (a AddFruit) inputs() []Input {
	return []Input{
		a.MassKg, a.Water, a.Sugar, a.Nonfermentable,
		orElse(a.Extraction, 1), orElse(a.Fermentability, 1),
	}
}

func (a AddFruit) check() error {
	in := a.inputs()
	return fruitOf(in[0].Value, in[1].Value, in[2].Value, in[3].Value, in[4].Value, in[5].Value).check()
}

// Portion returns the component masses at the best values of its inputs. An
// *inputError is returned outside their ranges.
func (a AddFruit) Portion() (State, error) {
	if err := a.check(); err != nil {
		return State{}, err
	}
	x := make([]float64, 0, 6)
	for _, in := range a.inputs() {
		x = append(x, in.Value)
	}
	return a.portion(x), nil
}

func (a AddFruit) portion(x []float64) State {
	return fruitOf(
		max(x[0], 0), clampShare(x[1]), clampShare(x[2]), clampShare(x[3]),
		clampShare(x[4]), clampShare(x[5]),
	).portion()
}

func (a AddFruit) notes() Notes {
	n := Notes(0)
	if a.Sugar.Value > 0 {
		n |= NoteFermenting
	}
	if a.Water.Value > 0.5 {
		n |= NoteColour
	}
	return n
}

// fruitOf names the six figures of a Fruit in the order of AddFruit.inputs.
func fruitOf(mass, water, sugar, nonferm, extraction, fermentability float64) crushedFruit {
	return crushedFruit{
		MassKg:         mass,
		Water:          water,
		Sugar:          sugar,
		Nonfermentable: nonferm,
		Extraction:     extraction,
		Fermentability: fermentability,
	}
}

// AddSpirit is a Spirit with limits.
type AddSpirit struct {
	VolumeL     Input  // litres of solvent as measured
	TempC       *Input // nil: measured at 20 C
	ABVPct      Input  // strength, % vol at 20 C
	SolidsGPerL *Input // nil: none
}

func (a AddSpirit) inputs() []Input {
	return []Input{a.VolumeL, orElse(a.TempC, 20), a.ABVPct, orElse(a.SolidsGPerL, 0)}
}

func (a AddSpirit) check() error {
	in := a.inputs()
	return Spirit{VolumeL: in[0].Value, TempC: in[1].Value, ABVPct: in[2].Value, SolidsGPerL: in[3].Value}.check()
}

func (a AddSpirit) portion(x []float64) State {
	return Spirit{
		VolumeL:     max(x[0], 0),
		TempC:       clampTemp(x[1], maxEthanolTempC),
		ABVPct:      min(max(x[2], 0), 100),
		SolidsGPerL: max(x[3], 0),
	}.portion()
}

func (a AddSpirit) notes() Notes { return NoteSpirit | NoteColour }

// AddBeer is another beer, blended in. What is not given of its bitterness,
// colour or CO2 becomes unknown of the blend.
type AddBeer struct {
	Beer Start // the portion: its volume is what goes in
}

func (a AddBeer) inputs() []Input { return a.Beer.inputs() }

func (a AddBeer) check() error { return a.Beer.check() }

func (a AddBeer) portion(x []float64) State { return a.Beer.state(x) }

func (a AddBeer) notes() Notes { return 0 }

// clampTemp brings a drawn temperature back to 0..hi.
func clampTemp(t, hi float64) float64 { return min(max(t, 0), hi) }

// clampShare brings a drawn share back to 0..1.
func clampShare(v float64) float64 { return min(max(v, 0), 1) }

package dilution

import "errors"

// errNoFinalGravity is returned by Finish without a gravity when none was
// expected either.
var errNoFinalGravity = errors.New("how far it ferments is not known; give an expected final gravity at the start, " +
	"or the final gravity here")

// loseVolume is a loss by volume: a sample, trub, a transfer. Every mass and
// total, and the kept share, is multiplied by 1 - v/V. Losing as much as there
// is or more is an error.
type LoseVolume struct {
	VolumeL Input // litres at 20 C
}

func (l LoseVolume) inputs() []Input { return []Input{l.VolumeL} }

func (l LoseVolume) check() error { return notNegative("volume lost in litres", l.VolumeL.Value) }

func (l LoseVolume) apply(x []float64, b *batch, as runKind) (Notes, error) {
	// judged on the best values; a drawn loss is brought back to less than there is
	if as == bestValues {
		if _, err := b.State.loseVolume(x[0]); err != nil {
			return 0, err
		}
	}
	b.lose(clampLoss(1 - max(x[0], 0)/b.State.VolumeL()))
	return 0, nil
}

// LosePulp is the mixture that pulp or leaves keep back when they come out: a
// mass of r FruitKg of the beer they lie in, so that the volume changes and the
// composition does not. Every mass and total, and the kept share, is multiplied
// by 1 - r FruitKg/(W+E+X). Give the fruit the same Shared key as in its
// addition, for it is one weighing.
type LosePulp struct {
	FruitKg       Input // fruit as it went in
	RetainKgPerKg Input // mixture kept back per kg of fruit; 0.5 is a guess, weigh your own
}

func (l LosePulp) inputs() []Input { return []Input{l.FruitKg, l.RetainKgPerKg} }

func (l LosePulp) check() error {
	return firstError(
		notNegative("mass of fruit in kg", l.FruitKg.Value),
		within("mixture kept back in kg per kg", l.RetainKgPerKg.Value, 0, 20, "weigh the drained pulp to find it"),
	)
}

func (l LosePulp) apply(x []float64, b *batch, as runKind) (Notes, error) {
	lost, mass := max(x[0], 0)*max(x[1], 0), b.State.MassKg()
	notes := Notes(0)
	if as == bestValues {
		if _, err := b.State.loseMass(lost); err != nil {
			return 0, err
		}
		if lost > mass/2 {
			notes = notePulp
		}
	}
	b.lose(clampLoss(1 - lost/mass))
	return notes, nil
}

// TakeOut goes on with a part of the batch: a child batch, a jar, a glass. The
// kept share falls to that of the child, so that grams put into the parent give
// the dose in the child. More than there is is an error.
type TakeOut struct {
	VolumeL Input // litres at 20 C that the child gets
}

func (t TakeOut) inputs() []Input { return []Input{t.VolumeL} }

func (t TakeOut) check() error { return positive("volume taken in litres", t.VolumeL.Value) }

func (t TakeOut) apply(x []float64, b *batch, as runKind) (Notes, error) {
	if as == bestValues {
		if _, err := b.State.take(x[0]); err != nil {
			return 0, err
		}
	}
	// A child's volume is measured by itself: a draw may be a little more than
	// the parent's draw holds, which only means that the parent was larger.
	k := max(x[0]/b.State.VolumeL(), smallestShare)
	b.State = b.State.scale(k)
	// a child drawn larger than its parent holds no more of what went in than the parent did
	b.kept *= min(k, 1)
	return 0, nil
}

// Evaporate takes water away, as a boil does: W falls by v rhoW(20), everything
// dissolved stays and the kept share with it. As much water as there is, or
// more, is an error.
type Evaporate struct {
	VolumeL Input // litres of water at 20 C
}

func (e Evaporate) inputs() []Input { return []Input{e.VolumeL} }

func (e Evaporate) check() error { return notNegative("evaporated water in litres", e.VolumeL.Value) }

func (e Evaporate) apply(x []float64, b *batch, as runKind) (Notes, error) {
	if as == bestValues {
		after, err := b.State.evaporate(x[0])
		b.State = after
		return 0, err
	}
	// ethanol stays in this model of a boil, so that only the water can run short
	lost := max(x[0], 0) * waterDensity20 / 1000
	b.WaterKg = max(b.WaterKg-lost, smallestShare*b.WaterKg)
	return 0, nil
}

// ReadVolume puts a measured volume in place of the computed one, at unchanged
// composition. Less than computed is taken as a loss that was not noted: solutes
// are lost with it. More means that the batch was larger all along: weighed
// additions are then spread over more beer.
type ReadVolume struct {
	VolumeL Input  // litres as measured
	TempC   *Input // temperature at which it was measured, 0..40 C; nil: 20 C
}

func (r ReadVolume) inputs() []Input { return []Input{r.VolumeL, orElse(r.TempC, 20)} }

func (r ReadVolume) check() error {
	return firstError(
		positive("volume in litres", r.VolumeL.Value),
		within("temperature", orElse(r.TempC, 20).Value, 0, 100, "give degrees Celsius"),
	)
}

func (r ReadVolume) apply(x []float64, b *batch, as runKind) (Notes, error) {
	t := x[1]
	if as == bestValues {
		if _, err := b.State.VolumeAtL(t); err != nil {
			return 0, err
		}
	}
	// wort may be read hot; a draw with alcohol has no density above 40 C
	if b.EthanolKg != 0 {
		t = clampTemp(t, maxEthanolTempC)
	}
	k := max(x[0]/1000/b.State.volumeAtM3(t), smallestShare)
	b.State = b.State.scale(k)
	// more beer than reckoned thins what went in, and does not add to it
	b.kept *= min(k, 1)
	switch {
	case as != bestValues:
		return 0, nil
	case k > 1.02:
		return noteVolumeUp, nil
	case k < 0.98:
		return noteVolumeDown, nil
	}
	return 0, nil
}

// clampLoss brings the share that a draw leaves back to what is possible: some
// of it, at most all.
func clampLoss(k float64) float64 { return min(max(k, smallestShare), 1) }

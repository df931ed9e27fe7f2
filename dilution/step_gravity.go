package dilution

// ReadGravity is a hydrometer reading of the beer. It holds at the present
// equivalent original extract, so it fixes how far fermentation has gone
// whatever water or sugar went in before: the extract f fermented since is the
// root of density(W, E + f/2.0665, X - f) = density read.
//
// A reading above the present gravity keeps the state (NoteGravityRose). One
// below the lowest that the extract can reach consumes all of it
// (noteNoExtract). One below the expected final gravity is believed, and the
// part taken as unfermentable shrinks (NoteFurther).
//
// With TempC the reading is taken as the hydrometer showed it (zero error
// already taken off) and converted at the beer's own composition; without, SG is
// the gravity 20/20.
type ReadGravity struct {
	SG       Input   // as read, or SG 20/20; 0.97..1.20
	TempC    *Input  // temperature of the sample, 0..40 C; nil: SG is 20/20
	CalTempC float64 // calibration temperature of the hydrometer, used with TempC
}

func (r ReadGravity) inputs() []Input {
	return []Input{r.SG, orElse(r.TempC, 20)}
}

func (r ReadGravity) check() error {
	if r.TempC == nil {
		return checkSG("gravity", r.SG.Value)
	}
	return Hydrometer{Reading: r.SG.Value, SampleTempC: r.TempC.Value, CalTempC: r.CalTempC}.check()
}

func (r ReadGravity) apply(x []float64, b *batch, as runKind) (Notes, error) {
	if r.TempC == nil {
		return b.read(&iso20, x[0]*waterDensity20, as), nil
	}
	t := clampTemp(x[1], maxEthanolTempC)
	iso := isothermAt(t)
	rho := Hydrometer{Reading: x[0], SampleTempC: t, CalTempC: r.CalTempC}.density()
	return b.read(&iso, rho, as), nil
}

// read ferments the batch to a measured density on the isotherm. The run on
// best values decides whether the reading had risen; draws follow, so that a
// reading replaces the state without a bias towards lower gravities.
func (b *batch) read(iso *isotherm, rho float64, as runKind) Notes {
	if as == drawIdle {
		return 0
	}
	f := b.State.fermentedTo(iso, rho)
	// without a floor: a draw above the original gravity has to count against those below
	if as == oneDraw {
		b.State = b.State.ferment(f).settle()
		return 0
	}
	// The same gravity typed twice differs only by rounding.
	if f < -rounding*b.State.MassKg() {
		return NoteGravityRose
	}
	notes := Notes(0)
	// below what all extract would give: the hydrometer is off, and the batch cannot follow it
	if f > b.State.ExtractKg {
		f = b.State.ExtractKg
		notes |= noteNoExtract
	}
	if left, ok := b.State.fermentableKg(); ok && f > left+1e-4*b.State.MassKg() {
		notes |= NoteFurther
	}
	b.State = b.State.ferment(f).settle().tied()
	return notes
}

// Finish ends fermentation: at a measured or assumed final gravity, or, without
// one, when all that is known to ferment has. What extract is left does not
// ferment.
type Finish struct {
	FG *Input // SG 20/20; nil: all fermentable extract is consumed
}

func (f Finish) inputs() []Input { return []Input{orElse(f.FG, 1)} }

func (f Finish) check() error { return checkSG("final gravity", orElse(f.FG, 1).Value) }

func (f Finish) apply(x []float64, b *batch, as runKind) (Notes, error) {
	if f.FG != nil {
		notes := b.read(&iso20, x[0]*waterDensity20, as)
		b.State = b.State.finished()
		return notes, nil
	}
	done, ok := b.State.Finish()
	if !ok {
		return 0, errNoFinalGravity
	}
	b.State = done.finished()
	return 0, nil
}

package planning

import (
	"hedgerow/dilution"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// wort is what to brew so that the beer has its strength after an addition.
type wort struct {
	OG, FG        float64 // of the wort to brew and the gravity it should end at
	PlainABVPct   float64 // strength wanted, that of the beer without the addition
	ThinnedABVPct float64 // strength it would have if the wort were left as it was
}

// StrongerFor works out how strong to brew a beer of the given gravities so that
// it keeps its strength when the design goes in, a plant with its own water too.
func StrongerFor(n *trials.Notebook, materials trials.Materials, d trials.Design, og, fg, volumeL float64) (wort,
	error) {
	if err := trials.CheckGravityPair(&og, &fg); err != nil {
		return wort{}, err
	}
	added, err := addedBy(n, materials, d)
	if err != nil {
		return wort{}, err
	}
	plain := dilution.Gravities{OG: og, FG: fg}
	p, err := dilution.KeepABV(dilution.Stronger{Plain: plain, VolumeL: volumeL, Added: added})
	if err != nil {
		return wort{}, trials.ProblemOf(err)
	}
	beer, err := dilution.FromGravities(plain, volumeL)
	if err != nil {
		return wort{}, trials.ProblemOf(err)
	}
	thinned := beer.Plus(added)
	if out, ok := thinned.Finish(); ok {
		thinned = out
	}
	return wort{OG: p.OG, FG: p.FG, PlainABVPct: beer.ABVPct(), ThinnedABVPct: thinned.ABVPct()}, nil
}

// addedBy is the liquid that the extract of a design brings, or what it puts straight
// in.
func addedBy(n *trials.Notebook, materials trials.Materials, d trials.Design) (dilution.State, error) {
	if d.Direct != nil {
		a := *d.Direct
		a.MassG = &d.MassG
		y, err := bestOf(n, materials).Direct(a)
		if err != nil {
			return dilution.State{}, err
		}
		return ledger.Brought(materials, a, y)
	}
	y, err := bestOf(n, materials).Extract(extractOf(n, d))
	if err != nil {
		return dilution.State{}, err
	}
	poured := d.PouredL()
	if d.SpiritPct != nil {
		s, err := dilution.Spirit{VolumeL: poured, TempC: 20, ABVPct: *d.SpiritPct, SolidsGPerL: y.SolidsGPerL}.Portion()
		return s, trials.ProblemOf(err)
	}
	s, err := dilution.Tea{VolumeL: poured, TempC: 20, SolidsGPerL: y.SolidsGPerL, Fermentability: y.SugarShare}.Portion()
	return s, trials.ProblemOf(err)
}

// asExtract is the extract of a design as a record without name and time.
func asExtract(d trials.Design) trials.Extract {
	return trials.Extract{MaterialKey: d.MaterialKey, Method: d.Method, Form: d.Form, MassG: d.MassG,
		SpiritPct: d.SpiritPct, MoisturePct: d.MoisturePct, Passes: d.Passes}
}

// extractOf is the extract of a design as if it were made now, so that what
// earlier ones held back is remembered.
func extractOf(n *trials.Notebook, d trials.Design) trials.Extract {
	x := asExtract(d)
	x.MadeAt = n.Now
	return x
}

// PatternOf is the way of a design, to be scaled to another dose or volume.
func PatternOf(n *trials.Notebook, d trials.Design) Pattern {
	if d.Direct != nil {
		return Pattern{Addition: d.Direct, Like: d.Like}
	}
	x := extractOf(n, d)
	return Pattern{Extract: &x, Like: d.Like}
}

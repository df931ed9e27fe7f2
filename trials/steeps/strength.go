package steeps

import (
	"hedgerow/dilution"
	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// Beer is what is known of the strength of the beer that a steep goes into:
// both gravities, or a printed strength, or nothing.
type Beer struct{ OG, FG, ABVPct *float64 }

// isKnown reports whether a strength can be worked out.
func (b Beer) isKnown() bool { return b.ABVPct != nil || b.OG != nil && b.FG != nil }

// check refuses half a pair and figures that cannot be.
func (b Beer) check() error {
	switch {
	case (b.OG == nil) != (b.FG == nil):
		return trials.Refuse("give --og and --fg, or --abv", "only one gravity of the beer is given")
	case b.OG != nil && b.ABVPct != nil:
		return trials.Refuse("give --og and --fg, or --abv", "both gravities and a strength of the beer are given")
	}
	if err := trials.CheckRange("strength of the beer", b.ABVPct, 0, 20, "% vol"); err != nil {
		return err
	}
	return trials.CheckGravityPair(b.OG, b.FG)
}

// labelSG is the gravity taken for a beer of which only the strength is known.
// Between 1.000 and 1.020 it changes the strength after dilution by less than
// 0.005 % vol.
const labelSG = 1.010

// start is the beer before.
func (b Beer) start(volumeL float64) dilution.Start {
	s := dilution.Start{VolumeL: dilution.Exactly(volumeL), OG: dilution.ExactlyOrNone(b.OG),
		NowSG: dilution.ExactlyOrNone(b.FG), Finished: true}
	if b.OG == nil {
		sg := labelSG
		s.ABVPct, s.NowSG = dilution.ExactlyOrNone(b.ABVPct), dilution.ExactlyOrNone(&sg)
	}
	return s
}

// StrengthCost is what the added liquid does to the beer.
type StrengthCost struct {
	// Share is how much thinner the beer gets, 1 - V/(V + added): the part of its
	// strength that water costs.
	Share float64
	// Spirit says that the liquid is itself alcoholic, so that Share alone says
	// nothing about strength.
	Spirit bool
	// ABVPct is the strength before less that after, % vol, below zero where
	// spirit makes the beer stronger; not OK when the strength is not known.
	ABVPct figure.Estimate
}

// cost works out what the liquid of a steep costs in strength. Its limits are
// those of the liquid: of an amount poured none, of a whole extract what the held
// liquid leaves in doubt. Sugar of fruit is not counted: it would ferment.
func (q SteepRequest) cost(r extraction.Result, d extraction.Dose) (StrengthCost, error) {
	c := StrengthCost{Share: d.AddedL / d.MixL, Spirit: q.extractABV(r) > 0}
	if err := q.Beer.check(); err != nil || !q.Beer.isKnown() {
		return c, err
	}
	half := 0.0
	if q.AddedL == nil && !r.Steep.Method.IsDirect() {
		half = min(liquidHalfL(r), d.AddedL)
	}
	var costs [3]float64
	for i, litres := range []float64{d.AddedL, d.AddedL - half, d.AddedL + half} {
		var err error
		if costs[i], err = q.strengthLost(litres, r); err != nil {
			return c, trials.ProblemOf(err)
		}
	}
	// more of an extract lowers the strength of a beer and may raise it, if it is of spirit
	c.ABVPct = figure.Estimate{Value: costs[0], Low: min(costs[1], costs[2]), High: max(costs[1], costs[2]),
		Level: 0.95, HasBounds: half > 0, OK: true}
	return c, nil
}

// strengthLost is the strength before less that after so many litres went in,
// % vol.
func (q SteepRequest) strengthLost(litres float64, r extraction.Result) (float64, error) {
	if litres <= 0 {
		return 0, nil
	}
	var in dilution.Liquid = dilution.AddTea{VolumeL: dilution.Exactly(litres)}
	if abv := q.extractABV(r); abv > 0 {
		in = dilution.AddSpirit{VolumeL: dilution.Exactly(litres), ABVPct: dilution.Exactly(abv)}
	}
	account := dilution.Account{Start: q.Beer.start(q.IntoL), Steps: []dilution.Step{dilution.Add{Liquid: in}}}
	snaps, err := account.Run()
	if err != nil {
		return 0, err
	}
	return snaps[0].State.ABVPct() - snaps[1].State.ABVPct(), nil
}

// extractABV is the strength of the extract: that of the spirit, thinned by the
// plant's own water and a top-up, volumes taken to add.
func (q SteepRequest) extractABV(r extraction.Result) float64 {
	if r.Steep.Method != extraction.Tincture {
		return 0
	}
	abv := 40.0
	if q.SpiritPct != nil {
		abv = *q.SpiritPct
	}
	if whole := r.ExtractML + q.TopUpL*1000; whole > 0 {
		abv *= r.ExtractML / whole
	}
	return abv
}

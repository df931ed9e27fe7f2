package extraction

import "math"

// SolidsEvidence is what a measured strength of tea says: how much dissolved came
// out, beside what was expected of the plant and of the steep. Logarithms are normal.
type SolidsEvidence struct {
	// Share is s0, the soluble share of the dry matter expected, ShareSDLn the sd of
	// its logarithm.
	Share, ShareSDLn float64
	// Yield is q0, the share of the solubles expected in the liquid that came out,
	// YieldSDLn the sd of its logarithm.
	Yield, YieldSDLn float64
	// PerDry is Q, dissolved solids measured per gram of dry matter, PerDrySDLn the sd
	// of its logarithm.
	PerDry, PerDrySDLn float64
	// MostYield is the most that the same passes can give; 0 stands for 1.
	MostYield float64
}

// SolidsUpdate is what is known of plant and steep after a reading.
type SolidsUpdate struct {
	SolidsEvidence
	// NewShare is s after the reading, NewShareSDLn the sd of its logarithm: the
	// prior of the next tea of the same bag.
	NewShare, NewShareSDLn float64
	// NewYield is q after the reading, NewYieldSDLn the sd of its logarithm.
	NewYield, NewYieldSDLn float64
}

// Update weighs the reading against what was expected:
//
//	ln Q = ln s + ln q + error,  d = ln Q - ln s0 - ln q0,  v = a^2 + b^2 + e^2
//	ln q = ln q0 + a^2/v d,  sd^2 = a^2 (b^2 + e^2)/v
//	ln s = ln s0 + b^2/v d,  sd^2 = b^2 (a^2 + e^2)/v
//
// with a, b and e the sd of ln q0, ln s0 and the error: normal distributions under one
// linear equation, from first principles. q is at most MostYield, s at most 1.
//
// Errors: an sd that is not above zero; Q not above zero; s0 or q0 outside 0 to 1,
// or zero.
func (e SolidsEvidence) Update() (SolidsUpdate, error) {
	if err := e.check(); err != nil {
		return SolidsUpdate{}, err
	}
	u := SolidsUpdate{SolidsEvidence: e}
	a, b, off := e.YieldSDLn*e.YieldSDLn, e.ShareSDLn*e.ShareSDLn, e.PerDrySDLn*e.PerDrySDLn
	// in logarithms, where a product of doubtful factors is a sum and the weighing is exact
	v, d := a+b+off, math.Log(e.PerDry/(e.Share*e.Yield))
	u.NewYield = min(e.Yield*math.Exp(a/v*d), e.most())
	u.NewShare = min(e.Share*math.Exp(b/v*d), 1)
	u.NewYieldSDLn, u.NewShareSDLn = math.Sqrt(a*(b+off)/v), math.Sqrt(b*(a+off)/v)
	return u, nil
}

// most is the bound on the yield.
func (e SolidsEvidence) most() float64 {
	if e.MostYield > 0 {
		return e.MostYield
	}
	return 1
}

// check refuses evidence that says nothing.
func (e SolidsEvidence) check() error {
	for _, sd := range []struct {
		what string
		v    float64
	}{{"sd of the soluble share", e.ShareSDLn}, {"sd of the yield", e.YieldSDLn},
		{"sd of the reading", e.PerDrySDLn}, {"measured solids", e.PerDry}} {
		if err := checkPositive(sd.what, sd.v, ""); err != nil {
			return err
		}
	}
	for _, share := range []struct {
		what string
		v    float64
	}{{"soluble share", e.Share}, {"yield", e.Yield}} {
		if err := firstError(checkShare(share.what, share.v), checkPositive(share.what, share.v, "")); err != nil {
			return err
		}
	}
	return nil
}

// drawn is the yield of one draw after the reading: the draw moved by what the
// reading says of it, so that many draws have the spread of NewYield. scores are
// those of the soluble share and of the error of the reading.
func (u *SolidsUpdate) drawn(yield, share, reading float64) float64 {
	if yield <= 0 {
		return yield
	}
	a, b, off := u.YieldSDLn*u.YieldSDLn, u.ShareSDLn*u.ShareSDLn, u.PerDrySDLn*u.PerDrySDLn
	d := math.Log(u.PerDry/(u.Share*yield)) - u.ShareSDLn*share - u.PerDrySDLn*reading
	return min(yield*math.Exp(a/(a+b+off)*d), u.most())
}

package dilution

import (
	"errors"
	"fmt"

	"hedgerow/trials/figure"
)

// waterPlan is how much water may go into a beer.
type waterPlan struct {
	VolumeL float64 // as measured at the temperature asked for
	MassKg  float64 // the same, weighed
	After   State   // the beer with it
}

// Target is what a beer should come to by adding water; exactly one of ABVPct
// and SG is set.
type Target struct {
	ABVPct     *float64 // strength, % vol
	SG         *float64 // gravity, SG 20/20
	WaterTempC float64  // temperature at which the water will be measured
}

// WaterTo returns the water that brings s to the target. The mass w of water is
// the root of
//
//	ABV(W+w, E, X) = target   or   SG(W+w, E, X) = target
//
// found by halving; nothing ferments meanwhile. Tea without solids counts as
// water, and a little solids hardly matter: 5 g/L in a twentieth of the beer move
// the gravity by less than 0.00002. An
// error is returned when no amount of water leads there: a strength above the
// present one or not above zero, a gravity not between the present one and
// water, or one that needs more than a hundred times the beer.
func WaterTo(s State, t Target) (waterPlan, error) {
	if (t.ABVPct == nil) == (t.SG == nil) {
		return waterPlan{}, errors.New("give either a target strength or a target gravity")
	}
	rhoW, err := waterDensity(t.WaterTempC)
	if err != nil {
		return waterPlan{}, err
	}
	excess, err := t.excess(s)
	if err != nil {
		return waterPlan{}, err
	}
	with := func(kg float64) State { return s.Plus(State{WaterKg: kg}) }
	kg, ok := fallingRoot(func(kg float64) float64 { return excess(with(kg)) }, 0, 100*s.MassKg())
	if !ok {
		return waterPlan{}, errors.New("that needs more than a hundred times as much water as there is beer; check " +
			"the target")
	}
	return waterPlan{VolumeL: 1000 * kg / rhoW, MassKg: kg, After: with(kg)}, nil
}

// excess returns a figure that falls through zero as water brings a beer to the
// target, or an error when water cannot.
func (t Target) excess(s State) (func(State) float64, error) {
	if t.ABVPct != nil {
		want, have := *t.ABVPct, s.ABVPct()
		// written this way round so that what is not a number is refused
		if !(want > 0 && want <= have) {
			return nil, &inputError{
				What:    "target strength in % vol",
				Value:   want,
				Allowed: "is not between 0 and the present " + number(have),
				Hint:    "water only weakens a beer; brew stronger for more",
			}
		}
		return func(s State) float64 { return s.ABVPct() - want }, nil
	}
	want, have := *t.SG, s.SG()
	// as a share, for the beer may lie on either side of water
	if share := (want - 1) / (have - 1); !(share > 0 && share <= 1) {
		return nil, &inputError{
			What:    "target gravity",
			Value:   want,
			Allowed: "is not between 1 and the present " + fmt.Sprintf("%.5f", have),
			Hint:    "water only brings a gravity nearer to 1",
		}
	}
	// a dry beer is lighter than water, which raises its gravity
	sign := 1.0
	if have < 1 {
		sign = -1
	}
	return func(s State) float64 { return sign * (s.SG() - want) }, nil
}

// fallingRoot returns x in lo..hi where the falling function f is zero, by
// halving until the ends are neighbours; false when f does not change sign
// there. A plan is made once, so speed does not matter and safety does.
func fallingRoot(f func(float64) float64, lo, hi float64) (float64, bool) {
	// a target that is met already lies a rounding below the present figure
	if f(lo) < -1e-12 || f(hi) > 0 {
		return 0, false
	}
	for range 200 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		if f(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, true
}

// Stronger asks how strong to brew so that a liquid added later leaves the
// strength wanted.
type Stronger struct {
	Plain      Gravities // the beer as it would be brewed without the addition
	VolumeL    float64   // beer before the addition, litres at 20 C
	Added      State     // the liquid to be added later
	WantABVPct *float64  // strength after the addition; nil: that of Plain
}

// strongerPlan is the wort to brew.
type strongerPlan struct {
	OG     float64 // needed original gravity, SG 20/20
	FG     float64 // final gravity to expect at the same real attenuation
	Before State   // the beer before the addition
	After  State   // with the addition, and its sugar fermented out
}

// KeepABV returns the wort whose beer, with the liquid added and what ferments
// of it fermented, has the strength wanted: OE is the root of
//
//	ABV(W + dW, E + dE, X + dX) = wanted,  W = 1-OE, E = a OE/2.0665, X = (1-a) OE
//
// scaled to the volume, with d the addition. The real attenuation a = f/OE is
// kept at that of Plain, an assumption: a stronger wort may stop higher. An error is
// returned for impossible gravities or volume, and when no original gravity up
// to 1.20 will do.
func KeepABV(q Stronger) (strongerPlan, error) {
	plain, err := FromGravities(q.Plain, q.VolumeL)
	if err != nil {
		return strongerPlan{}, err
	}
	want := plain.ABVPct()
	if q.WantABVPct != nil {
		want = *q.WantABVPct
	}
	// attenuation counts from the original extract: what has become ethanol belongs to it
	fermented := plain.EthanolKg * extractPerEthanol
	attenuation := fermented / (plain.ExtractKg + fermented)
	short := func(oe float64) float64 {
		return want - q.after(attenuated(oe, attenuation, q.VolumeL)).ABVPct()
	}
	oe, ok := fallingRoot(short, 0, extractOfSG(figure.SGMax))
	if !ok || !(want > 0) {
		return strongerPlan{}, &inputError{
			What:    "strength wanted in % vol",
			Value:   want,
			Allowed: "cannot be reached by any original gravity from 1.000 to 1.200",
			Hint:    "add less, or add spirit",
		}
	}
	before := attenuated(oe, attenuation, q.VolumeL)
	return strongerPlan{OG: sgOfExtract(oe), FG: before.SG(), Before: before, After: q.after(before)}, nil
}

// after is a beer with the addition, fermented out.
func (q Stronger) after(before State) State {
	done, _ := before.Plus(q.Added).Finish()
	return done
}

// attenuated returns volumeL litres of finished beer from wort of extract oe
// (kg/kg) of which the share attenuation has fermented.
func attenuated(oe, attenuation, volumeL float64) State {
	s := State{WaterKg: 1 - oe, ExtractKg: oe, Gaps: gapIBU | gapColour | GapCO2}
	return s.ferment(oe * attenuation).finished().scaleTo(volumeL)
}

// Jar is one vessel of a split: beer and the liquid that its treatment brings.
type Jar struct {
	BeerL  float64 // litres of beer, above zero
	AddedL float64 // litres of tea, tincture or water planned; 0 for a control
}

// EqualLiquid returns the water in litres to add to each jar, on top of its
// treatment, so that every jar, the control too, has the same added liquid per
// litre of beer as the one that has most. An *inputError is returned for a
// volume that cannot be.
func EqualLiquid(jars []Jar) ([]float64, error) {
	most := 0.0
	for _, j := range jars {
		err := firstError(positive("beer in litres", j.BeerL), notNegative("added liquid in litres", j.AddedL))
		if err != nil {
			return nil, err
		}
		most = max(most, j.AddedL/j.BeerL)
	}
	water := make([]float64, len(jars))
	for i, j := range jars {
		// the jar with most may come out a rounding below what it has
		water[i] = max(0, most*j.BeerL-j.AddedL)
	}
	return water, nil
}

package dilution

import (
	"errors"
	"math"
)

// Settle takes the gravity just read as final: the extract that is left then does
// not ferment, and only what goes in later does. It is for beer of which no final
// gravity was ever expected, and for beer that has reached the expected one: what
// either reading may be off is then no sugar.
type Settle struct {
	IfReached bool // only where all that is known to ferment has, by the best values
}

// reachedShare is the extract, as a share of the beer, that counts as none: 0.00001
// of gravity, far below what is read.
const reachedShare = 2e-5

func (Settle) inputs() []Input { return nil }

func (Settle) check() error { return nil }

func (s Settle) apply(_ []float64, b *batch, as runKind) (Notes, error) {
	if as == drawIdle {
		return 0, nil
	}
	// decided on the best values alone: a draw that went on fermenting would be another beer
	if as == bestValues && s.IfReached {
		if left, known := b.State.fermentableKg(); !known || left > reachedShare*b.State.MassKg() {
			return noteIdle, nil
		}
	}
	b.State = b.State.finished()
	return 0, nil
}

// Condition is the fermentation in the closed package: Share of the extract that
// is known to ferment does, as Balling has it, and the gas stays in the beer. SG
// and strength are then those of the degassed beer.
//
//	f = Share (X - unfermentable),  E' = E + f/2.0665,  X' = X - f,  CO2' = CO2 + 0.4629 f
//
// Sugar of which only a part ferments says so in its own addition. What is left
// afterwards does not ferment.
type Condition struct {
	Share Input // of what can ferment, 0..1; see ConditionShare
}

// ConditionShare is the share of sugar that ferments in the package: all of it,
// 0.95 at the least (judgement). The limit is half the width of that range, about
// the best value.
func ConditionShare() Input { return Within("share that ferments in the package", 1, 0.025) }

// errNothingKnown is returned by Condition where nothing says how much ferments.
var errNothingKnown = errors.New("how far it ferments in the package is not known; log a gravity before it is " +
	"packaged, or give an expected final gravity")

func (c Condition) inputs() []Input { return []Input{c.Share} }

func (c Condition) check() error { return checkShare("share that ferments", c.Share.Value) }

func (c Condition) apply(x []float64, b *batch, _ runKind) (Notes, error) {
	left, ok := b.State.fermentableKg()
	if !ok {
		return 0, errNothingKnown
	}
	// a share drawn above one takes some of what was held not to ferment, but never more than there is
	f := min(max(x[0], 0)*left, b.State.ExtractKg)
	b.State = b.State.ferment(f).finished()
	b.CO2G += 1000 * CO2PerExtract * f
	return 0, nil
}

// LabelABVPct returns the strength to put on a label where the guidance of the
// United Kingdom holds: rounded down to one decimal, floor(10 ABV + 1e-9)/10, of
// the strength at which the beer is expected to be drunk [21]. Other countries
// differ. An *inputError is returned outside 0..96 % vol.
func LabelABVPct(abvPct float64) (float64, error) {
	if err := within("strength in % vol", abvPct, 0, 96, "give the strength of the beer"); err != nil {
		return 0, err
	}
	// 4.8 typed must not print as 4.7 for want of its last bit
	return math.Floor(10*abvPct+1e-9) / 10, nil
}

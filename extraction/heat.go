package extraction

import (
	"math"

	"hedgerow/trials/figure"
)

// piece is a short time at one temperature, made so that sums over pieces are
// Gauss-Legendre integrals over the curve.
type piece struct {
	minutes float64
	// 1/T - 1/353.15, 1/K
	coldness float64
	tempC    float64
}

// gaussX and gaussW are the eight-point Gauss-Legendre abscissas and weights on
// -1 to 1, in order of time [19].
var (
	gaussX = [...]float64{-0.9602898564975363, -0.7966664774136267, -0.5255324099163290, -0.1834346424956498,
		0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363}
	gaussW = [...]float64{0.1012285362903763, 0.2223810344533745, 0.3137066458778873, 0.3626837833783620,
		0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}
)

const (
	// foldsPerCut is the longest stretch of Newton cooling, in e-foldings of the
	// distance to ambient, that one set of eight points integrates; theta is
	// then exact to better than 1e-9.
	foldsPerCut = 1.0
	// foldsToAmbient is where a Newton leg is ambient for every purpose: e^-30.
	foldsToAmbient = 30.0
	// smallSpanC is a straight change of temperature over which the exponent of
	// theta is so close to a line that a two-point rule is exact to 1e-9.
	smallSpanC = 0.5
)

// appendPieces adds the pieces of a leg, cut where it crosses the temperatures
// at which a rule changes, so that no rule changes inside a set of points.
func appendPieces(pieces []piece, l leg) []piece {
	for _, borderC := range [...]float64{liveMembraneC, hotStandC} {
		if t, ok := l.crossing(borderC); ok {
			a, b := l.split(t, borderC)
			return appendPieces(appendPieces(pieces, a), b)
		}
	}
	if l.straight || l.law.PerMin == 0 {
		return appendSmooth(pieces, l)
	}
	folds := math.Abs(l.law.PerMin) * l.minutes
	for ; folds > foldsPerCut && folds > 0; folds = math.Abs(l.law.PerMin) * l.minutes {
		if math.Abs(l.law.StartC-l.law.AmbientC) < math.Exp(-foldsToAmbient)*100 {
			return appendSmooth(pieces, straightLeg(l.law.AmbientC, l.law.AmbientC, l.minutes))
		}
		var first leg
		t := foldsPerCut / math.Abs(l.law.PerMin)
		first, l = l.split(t, l.at(t))
		pieces = appendSmooth(pieces, first)
	}
	return appendSmooth(pieces, l)
}

// appendSmooth adds one set of points: one for constant temperature, two for a
// small straight change, eight otherwise.
func appendSmooth(pieces []piece, l leg) []piece {
	if l.minutes == 0 {
		return pieces
	}
	span := math.Abs(l.endC - l.law.StartC)
	switch {
	case span == 0:
		return append(pieces, piece{l.minutes, coldness(l.law.StartC), l.law.StartC})
	case l.straight && span < smallSpanC:
		// Two-point Gauss-Legendre: +-1/sqrt(3), equal weights.
		for _, x := range [...]float64{-1 / math.Sqrt2 / math.Sqrt(1.5), 1 / math.Sqrt2 / math.Sqrt(1.5)} {
			c := l.at(l.minutes * (1 + x) / 2)
			pieces = append(pieces, piece{l.minutes / 2, coldness(c), c})
		}
		return pieces
	}
	for i, x := range gaussX {
		c := l.at(l.minutes * (1 + x) / 2)
		pieces = append(pieces, piece{l.minutes * gaussW[i] / 2, coldness(c), c})
	}
	return pieces
}

// curvePieces adds the pieces of a logged curve.
func curvePieces(pieces []piece, curve []figure.CurvePoint) []piece {
	for i := 1; i < len(curve); i++ {
		from, to := curve[i-1], curve[i]
		pieces = appendPieces(pieces, straightLeg(from.TempC, to.TempC, to.Minutes-from.Minutes))
	}
	return pieces
}

// checkCurve refuses a curve with fewer than two readings, with readings out of
// order of time, or with temperatures that no formula accepts.
func checkCurve(curve []figure.CurvePoint) error {
	if len(curve) < 2 {
		return refuse("give at least two readings of time and temperature", "a logged curve of %d readings is too short", len(curve))
	}
	for i, p := range curve {
		err := firstError(checkNotNegative("time", p.Minutes, "min"), checkTemp("temperature", p.TempC))
		if err != nil {
			return err
		}
		if i > 0 && p.Minutes < curve[i-1].Minutes {
			return refuse("put the readings in order of time", "reading at %s min comes after %s min",
				number(p.Minutes), number(curve[i-1].Minutes))
		}
	}
	return nil
}

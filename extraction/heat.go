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
	// Newton's law is steep at first and flat later: one set of points over hours would miss the steep
	// part
	folds := math.Abs(l.law.PerMin) * l.minutes
	for ; folds > foldsPerCut && folds > 0; folds = math.Abs(l.law.PerMin) * l.minutes {
		// days at room temperature would else be cut into pieces without end
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
	// a logged curve has many short legs: eight points each would be most of the work of a draw
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
		return Refuse("give at least two readings of time and temperature",
			"a logged curve of %d readings is too short", len(curve))
	}
	for i, p := range curve {
		err := firstError(checkNotNegative("time", p.Minutes, "min"), checkTemp("temperature", p.TempC))
		if err != nil {
			return err
		}
		if i > 0 && p.Minutes < curve[i-1].Minutes {
			return Refuse("put the readings in order of time", "reading at %s min comes after %s min",
				number(p.Minutes), number(curve[i-1].Minutes))
		}
	}
	return nil
}

// Constants of the temperature law, exp(-(Ea/R) (1/T_K - 1/353.15)); plan.reduced
// applies it.
const (
	// EaKJ is the activation energy of release, kJ/mol: the mean of eight published
	// midpoints is 29.7 [2][4][6]; plausible are 15 to 50.
	EaKJ        = 30.0
	gasConstant = 8.314462618 // J/(mol K), exact in SI since 2019, rounded to ten digits
	refTempC    = 80.0        // C, where rates are quoted
	zeroC       = 273.15      // K
	refTempK    = refTempC + zeroC
)

// coldness returns 1/T_K - 1/353.15 in 1/K: zero at 80 C, positive below.
func coldness(tempC float64) float64 { return 1/(tempC+zeroC) - 1/refTempK }

// Half-lives of dissolved solute, min. Aroma: order of magnitude only, no
// half-life of a terpene in the boil was found; linalool survives a short hot
// stay with about 0.75 [10]. Colour: 3.0 h at 100 C and pH 2 [11], Ea 56-96 [12].
const (
	aromaBoilHalfLifeMin  = 20.0  // at a rolling boil; 5 to 60
	aromaHotHalfLifeMin   = 120.0 // in a hot stand; 40 to 400
	colourBoilHalfLifeMin = 180.0 // at 100 C
	colourLossEaKJ        = 65.0

	// hotStandC is where aroma begins to leave a hot stand; nil below. A rule
	// of thumb, no source.
	hotStandC = 60.0

	// Spreads of ln half-life: a quarter of the ln range read as a 95 % band.
	aromaBoilSDLn = 0.62
	aromaHotSDLn  = 0.58
	colourSDLn    = 0.30 // half-lives of 3.0 h and 1.96 h at about one temperature [11]
)

// lossRate returns kv, the first-order rate (1/min) at which dissolved solute of
// class c is lost at tempC. Aroma: ln2/20 at a rolling boil, ln2/120 from 60 C
// up, nil below. Colour: ln2/180 at 100 C, 65 kJ/mol elsewhere. Water and resin
// do not decay (hydrocarbon oils in the resin class leave a boil within minutes,
// and are not modelled apart).
func (c Class) lossRate(tempC float64, rollingBoil bool) float64 {
	switch {
	case c == Colour:
		x := 1/(tempC+zeroC) - 1/(boilingC+zeroC)
		return math.Ln2 / colourBoilHalfLifeMin * math.Exp(-colourLossEaKJ*1000/gasConstant*x)
	case c == Aroma && rollingBoil:
		return math.Ln2 / aromaBoilHalfLifeMin
	case c == Aroma && tempC >= hotStandC:
		return math.Ln2 / aromaHotHalfLifeMin
	}
	return 0
}

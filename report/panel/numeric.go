package panel

import "math"

// normalCDF is the standard normal distribution function, accurate in the
// lower tail.
func normalCDF(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// normalPDF is the standard normal density.
func normalPDF(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }

// edge is where the normal density has fallen to 1e-16.
const edge = 8.5

// trapezoid sums f over lo to hi in steps of at most h. For a smooth f that
// dies out at both ends its error falls exponentially with 1/h, so it beats
// higher-order rules on the whole line.
func trapezoid(lo, hi, h float64, f func(x float64) float64) float64 {
	n := int(math.Ceil((hi - lo) / h))
	h = (hi - lo) / float64(n)
	sum := (f(lo) + f(hi)) / 2
	for i := 1; i < n; i++ {
		sum += f(lo + float64(i)*h)
	}
	return sum * h
}

// simpson integrates f from lo to hi in n steps, n even.
func simpson(lo, hi float64, n int, f func(x float64) float64) float64 {
	h := (hi - lo) / float64(n)
	sum := f(lo) + f(hi)
	for i := 1; i < n; i++ {
		w := 2.0
		if i%2 == 1 {
			w = 4
		}
		sum += w * f(lo+float64(i)*h)
	}
	return sum * h / 3
}

// chiMean is the mean of f(S) where S is the ratio of an estimated standard
// deviation with df degrees of freedom to the true one: df S^2 is chi-squared.
// Works on t = ln S, whose density is proportional to exp(df (t - (e^2t-1)/2)).
// An infinite df gives f(1).
func chiMean(df float64, f func(s float64) float64) float64 {
	if math.IsInf(df, 1) {
		return f(1)
	}
	// Beyond this many natural logs below the peak, weights are under 1e-15.
	const floor = -35
	logWeight := func(t float64) float64 { return df * (t - math.Expm1(2*t)/2) }
	// about half an SD of ln S: with many degrees of freedom the peak is narrow
	h := math.Min(0.15, 0.5/math.Sqrt(2*df))
	var sum, total float64
	add := func(t float64) bool {
		l := logWeight(t)
		if l < floor {
			return false
		}
		w := math.Exp(l)
		total += w
		sum += w * f(math.Exp(t))
		return true
	}
	for i := 0; add(float64(i) * h); i++ {
	}
	for i := -1; add(float64(i) * h); i-- {
	}
	return sum / total
}

// rootOf finds x between lo and hi where f crosses zero, by bisection sped up
// with the secant (the Illinois rule). f(lo) and f(hi) must differ in sign; if
// they do not, the end with the smaller |f| is returned.
func rootOf(lo, hi float64, f func(x float64) float64) float64 {
	fl, fh := f(lo), f(hi)
	if fl == 0 || fh == 0 || (fl > 0) == (fh > 0) {
		if math.Abs(fl) <= math.Abs(fh) {
			return lo
		}
		return hi
	}
	side, last := 0, math.Inf(1)
	for range 200 {
		x := (lo*fh - hi*fl) / (fh - fl)
		// rounding can put the secant on an end, and the search would stand still
		if !(x > lo && x < hi) {
			x = (lo + hi) / 2
		}
		fx := f(x)
		// near the root one end stands still: points that no longer move have found it too
		const close = 1e-13
		if fx == 0 || hi-lo <= close*(math.Abs(lo)+math.Abs(hi)) || math.Abs(x-last) <= close*math.Abs(x) {
			return x
		}
		last = x
		if (fx > 0) == (fh > 0) {
			hi, fh = x, fx
			// the same end moved twice: the other one's value is halved, or it would never move
			if side == 1 {
				fl /= 2
			}
			side = 1
		} else {
			lo, fl = x, fx
			if side == -1 {
				fh /= 2
			}
			side = -1
		}
	}
	return (lo + hi) / 2
}

// upperPoint finds the x that a falling upper-tail chance brings down to p.
func upperPoint(p float64, tail func(x float64) float64) float64 {
	// Logarithms make the search even for chances of any size.
	excess := func(x float64) float64 { return math.Log(tail(x)) - math.Log(p) }
	hi := 4.0
	for excess(hi) > 0 && hi < 1e9 {
		hi *= 2
	}
	return rootOf(0, hi, excess)
}

// lowest returns the grid point between lo and hi, in the given number of
// steps, where f is least, and the step.
func lowest(lo, hi float64, steps int, f func(x float64) float64) (at, step float64) {
	step = (hi - lo) / float64(steps)
	least := math.Inf(1)
	for i := range steps + 1 {
		x := lo + float64(i)*step
		if v := f(x); v < least {
			least, at = v, x
		}
	}
	return at, step
}

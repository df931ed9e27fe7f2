package dilution

import "math"

// estimate returns the value with the sample standard deviation and the 2.5 and
// 97.5 % quantiles of the draws, which are reordered.
func estimate(value float64, draws []float64) Estimate {
	e := Estimate{Value: value, Low: value, High: value, Level: Level, HasBounds: true, OK: true}
	lo, hi, sd := spread(draws)
	if hi-lo <= 1e-12*math.Abs(value) {
		return e
	}
	e.U = sd
	e.Low, e.High = interval(draws)
	return e
}

// spread returns the extremes and the sample standard deviation.
func spread(v []float64) (lo, hi, sd float64) {
	// Deviations from the first value keep the squares from cancelling.
	var sum, squares float64
	lo, hi = v[0], v[0]
	for _, x := range v {
		lo, hi = min(lo, x), max(hi, x)
		dx := x - v[0]
		sum += dx
		squares += dx * dx
	}
	n := float64(len(v))
	return lo, hi, math.Sqrt(max(0, (squares-sum*sum/n)/(n-1)))
}

// interval returns the (1-Level)/2 and (1+Level)/2 quantiles of v, linear
// between order statistics; v is reordered.
func interval(v []float64) (low, high float64) {
	n := float64(len(v) - 1)
	k, fk := math.Modf((1 - Level) / 2 * n)
	m, fm := math.Modf((1 + Level) / 2 * n)
	// The upper one is searched in what the lower search left above it.
	a := orderStatistic(v, int(k))
	rest := v[int(k)+1:]
	b := least(rest)
	c := orderStatistic(rest, int(m)-int(k)-1)
	e := c
	if above := rest[int(m)-int(k):]; len(above) > 0 {
		e = least(above)
	}
	return a + fk*(b-a), c + fm*(e-c)
}

// least returns the smallest of v.
func least(v []float64) float64 {
	lo := v[0]
	for _, x := range v {
		lo = min(lo, x)
	}
	return lo
}

// orderStatistic returns the k-th smallest of v (k from 0) and reorders v so
// that smaller values stand before it and larger ones after (Hoare's find).
func orderStatistic(v []float64, k int) float64 {
	lo, hi := 0, len(v)-1
	for lo < hi {
		pivot := medianOfThree(v[lo], v[(lo+hi)/2], v[hi])
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}

// medianOfThree returns the middle one.
func medianOfThree(a, b, c float64) float64 {
	return max(min(a, b), min(max(a, b), c))
}

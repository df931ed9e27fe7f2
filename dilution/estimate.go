package dilution

import (
	"math"

	"hedgerow/trials/figure"
)

// estimate returns the value with the sample standard deviation and the 2.5 and
// 97.5 % quantiles of the draws, which are changed. scratch needs the length of
// draws. Draws that differ by rounding alone have no doubt.
func estimate(value float64, draws, scratch []float64) figure.Estimate {
	e := figure.Between(value, value, value, level)
	sp := spreadOf(draws)
	if sp.hi-sp.lo <= 1e-12*math.Abs(value) {
		return e
	}
	e.U = sp.sd
	// the quantile lies far below the mean, so that a few hundred of ten thousand draws need to be
	// looked at
	e.Low = lowQuantile(draws, scratch, sp.mean-tailStart*sp.sd)
	// The upper quantile of v is the lower one of -v.
	for i, x := range draws {
		draws[i] = -x
	}
	e.High = -lowQuantile(draws, scratch, -sp.mean-tailStart*sp.sd)
	return e
}

// tailStart is how many standard deviations from the mean the search for a 2.5 %
// quantile begins. Every distribution met here has more than 2.5 % beyond; one
// that has not costs time, not truth.
const tailStart = 1.2

// lowQuantile returns the (1-Level)/2 quantile of v, linear between order
// statistics. Only values up to limit are looked at, if they are enough.
func lowQuantile(v, scratch []float64, limit float64) float64 {
	k, share := math.Modf((1 - level) / 2 * float64(len(v)-1))
	low := scratch[:0]
	for _, x := range v {
		if x <= limit {
			low = append(low, x)
		}
	}
	// a skewed figure has a short lower tail: then all of it is searched
	if len(low) < int(k)+2 {
		low = append(scratch[:0], v...)
	}
	at := orderStatistic(low, int(k))
	next := math.Inf(1)
	for _, x := range low[int(k)+1:] {
		if x < next {
			next = x
		}
	}
	return at + share*(next-at)
}

// spread is the extent of a sample.
type spread struct{ lo, hi, mean, sd float64 }

// spreadOf returns extremes, mean and sample standard deviation (divisor n-1) in
// one pass.
func spreadOf(v []float64) spread {
	// Deviations from the first value keep the squares from cancelling.
	var sum, squares float64
	s := spread{lo: v[0], hi: v[0]}
	for _, x := range v {
		if x < s.lo {
			s.lo = x
		}
		if x > s.hi {
			s.hi = x
		}
		dx := x - v[0]
		sum += dx
		squares += dx * dx
	}
	n := float64(len(v))
	s.mean = v[0] + sum/n
	s.sd = math.Sqrt(max(0, (squares-sum*sum/n)/(n-1)))
	return s
}

// orderStatistic returns the k-th smallest of v (k from 0) and reorders v so
// that smaller values stand before it and larger ones after (Hoare's find).
func orderStatistic(v []float64, k int) float64 {
	lo, hi := 0, len(v)-1
	for lo < hi {
		i, j := split(v, lo, hi)
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

// split reorders v[lo..hi] into a part v[lo..j] not above, and a part v[i..hi]
// not below, the median of first, middle and last; between them stands the
// median itself.
func split(v []float64, lo, hi int) (i, j int) {
	a, b, c := v[lo], v[(lo+hi)/2], v[hi]
	pivot := max(min(a, b), min(max(a, b), c))
	i, j = lo, hi
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
	return i, j
}

package extraction

import "hedgerow/trials/figure"

// interval returns the central interval of a level from draws in which the
// needed order statistics stand in their places (see arrange), widened to hold
// the value: a point at the best figures may lie beyond a skew band.
func interval(value float64, arranged []float64, level float64) figure.Estimate {
	tail := (1 - level) / 2
	return figure.Between(value, min(value, quantile(arranged, tail)), max(value, quantile(arranged, 1-tail)), level)
}

// quantile returns the q-quantile, linear between order statistics at (n-1) q
// (type 7); the values must be sorted, or arranged for q.
func quantile(arranged []float64, q float64) float64 {
	i, share := place(len(arranged), q)
	// the last value has no neighbour above it
	if share == 0 {
		return arranged[i]
	}
	return arranged[i] + share*(arranged[i+1]-arranged[i])
}

// place returns the index below a quantile of n values, and how far towards the
// next one it lies.
func place(n int, q float64) (int, float64) {
	at := q * float64(n-1)
	i := int(at)
	return i, at - float64(i)
}

// arrange puts the order statistics of rising quantiles in their places. A whole
// sort would take several times as long.
func arrange(values []float64, quantiles ...float64) {
	from := 0
	for _, q := range quantiles {
		i, _ := place(len(values), q)
		// both neighbours, for the quantile lies between them; not again what the quantile before has
		// placed
		for k := max(i, from); k <= min(i+1, len(values)-1); k++ {
			selectInto(values, from, k)
			from = k + 1
		}
	}
}

// selectInto moves the k-th smallest value to index k, smaller ones below it and
// larger ones above (Hoare's quickselect); values before from are in place.
func selectInto(values []float64, from, k int) {
	low, high := from, len(values)-1
	for low < high {
		// the middle of three, for draws that happen to be in order would take n squared steps with an end
		// as pivot
		pivot := middle(values[low], values[(low+high)/2], values[high])
		i, j := low, high
		for i <= j {
			for values[i] < pivot {
				i++
			}
			for values[j] > pivot {
				j--
			}
			if i <= j {
				values[i], values[j] = values[j], values[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			high = j
		case k >= i:
			low = i
		default:
			return
		}
	}
}

// middle returns the median of three.
func middle(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }

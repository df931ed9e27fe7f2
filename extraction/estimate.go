package extraction

// Estimate is a value with its interval.
type Estimate struct {
	Value, Low, High float64
	Level            float64 // of the interval, 0.8 or 0.95; 0 when there is none
}

// exactly returns an estimate without an interval.
func exactly(v float64) Estimate { return Estimate{Value: v, Low: v, High: v} }

// scaled returns the estimate times a factor of zero or more.
func (e Estimate) scaled(f float64) Estimate {
	return Estimate{e.Value * f, e.Low * f, e.High * f, e.Level}
}

// Factor returns High/Low, and false when Low is not above zero.
func (e Estimate) Factor() (float64, bool) {
	if e.Low <= 0 {
		return 0, false
	}
	return e.High / e.Low, true
}

// interval returns the central interval of a level from sorted draws, widened
// to hold the value: a point at the best figures may lie beyond a skew band.
func interval(value float64, sorted []float64, level float64) Estimate {
	tail := (1 - level) / 2
	return Estimate{Value: value, Low: min(value, quantile(sorted, tail)), High: max(value, quantile(sorted, 1-tail)), Level: level}
}

// quantile returns the q-quantile of sorted values, linear between order
// statistics at (n-1) q (type 7).
func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-2)
	if i < 0 {
		return sorted[0]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

package figure

// Stated is an estimate as an answer states it, in JSON and in tables. Low, High
// and Level are absent when nothing can be said about them, so that no reader
// takes a zero for a bound.
type Stated struct {
	Value float64  `json:"value"`           // best figure
	Low   *float64 `json:"low,omitempty"`   // lower end of the interval
	High  *float64 `json:"high,omitempty"`  // upper end of the interval
	Level *float64 `json:"level,omitempty"` // its coverage, such as 0.95
}

// StatedExactly returns an estimate without an interval.
func StatedExactly(v float64) Stated { return Stated{Value: v} }

// StatedBetween returns an estimate with an interval. An interval that is not
// finite is left out, so that no reader meets NaN or Inf.
func StatedBetween(v, low, high, level float64) Stated {
	if !Finite(low) || !Finite(high) {
		return StatedExactly(v)
	}
	return Stated{Value: v, Low: &low, High: &high, Level: &level}
}

// Half returns half the width of the interval, and whether there is one.
func (s Stated) Half() (float64, bool) {
	if s.Low == nil || s.High == nil {
		return 0, false
	}
	return (*s.High - *s.Low) / 2, true
}

package figure

import (
	"math"
	"testing"
)

// Just inside and outside the ordinary numbers.
func TestFinite(t *testing.T) {
	for _, v := range []float64{0, math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64} {
		if !Finite(v) {
			t.Errorf("%g is not finite", v)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if Finite(v) {
			t.Errorf("%g is finite", v)
		}
	}
}

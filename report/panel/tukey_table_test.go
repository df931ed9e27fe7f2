package panel

import (
	"math"
	"testing"
)

// Values read off the table are within 1e-4 of those integrated one by one, for
// few and many trials and degrees of freedom; a chance of nothing stays one.
func TestRangeSurvivalsOfManyPairs(t *testing.T) {
	for _, c := range []struct {
		k       int
		df      float64
		largest float64
	}{{10, 5, 12}, {20, 76, 9}, {50, 196, 14}, {100, 1e6, 8}} {
		many := survivals(survivalNodes+1, c.largest, func(q float64) float64 {
			p, _ := rangeSurvival(q, c.k, c.df)
			return p
		})
		for i := range 60 {
			q := c.largest * float64(i) / 59
			want, err := rangeSurvival(q, c.k, c.df)
			if err != nil {
				t.Fatal(err)
			}
			if got := many(q); math.Abs(got-want) > 1e-4*want {
				t.Errorf("%d trials, df %g: P(Q > %.3f) is %g, want %g", c.k, c.df, q, got, want)
			}
		}
	}
}

package wording

import (
	"math"
	"testing"

	"hedgerow/report/document"
	"hedgerow/trials/figure"
)

// What is no ordinary number is not shown as one.
func TestNoNaNReachesAReader(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := document.Fixed(v, 2); got != "-" {
			t.Errorf("fixed(%g) is %q", v, got)
		}
		if got := document.Significant(v, 3); got != "-" {
			t.Errorf("significant(%g) is %q", v, got)
		}
		if e := figure.StatedBetween(1, v, 2, 0.95); e.Low != nil || e.High != nil {
			t.Errorf("an interval from %g is shown", v)
		}
		if e := figure.StatedBetween(1, 0, v, 0.95); e.Low != nil || e.High != nil {
			t.Errorf("an interval to %g is shown", v)
		}
		if e := EstimateView(estimate(v)); e != nil {
			t.Errorf("%g is shown as %+v", v, e)
		}
	}
}

// estimate is a figure without bounds.
func estimate(v float64) figure.Estimate { return figure.Estimate{Value: v, OK: true} }

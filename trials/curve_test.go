package trials

import (
	"math"
	"slices"
	"testing"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// What is written is read again.
func TestCurvesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []figure.CurvePoint
		for range rapid.IntRange(1, 6).Draw(t, "points") {
			tenths := func(low, high int, what string) float64 {
				return float64(rapid.IntRange(low, high).Draw(t, what)) / 10
			}
			points = append(points, figure.CurvePoint{Minutes: tenths(0, 9000, "minutes"),
				TempC: tenths(-200, 1100, "temperature")})
		}
		got, err := KeptCurve(CurveText(points))
		if err != nil || !slices.Equal(got, points) {
			t.Fatalf("%v became %q and %v (%v)", points, CurveText(points), got, err)
		}
	})
}

func TestCurvesAsStored(t *testing.T) {
	if got := CurveText([]figure.CurvePoint{{TempC: 96}, {Minutes: 5, TempC: 89.5}}); got != "96C@0min,89.5C@5min" {
		t.Error(got)
	}
	if got := CurveText(nil); got != "" {
		t.Errorf("no readings are written %q", got)
	}
	for _, bad := range []string{"", "96C", "96C@", "@5min", "hot@0min", "96C@0min;89C@5min", "NaNC@0min", "96C@Infmin"} {
		if points, err := KeptCurve(bad); CodeOf(err) != Invalid || err == nil {
			t.Errorf("%q was read as %v", bad, points)
		}
		points, _ := KeptCurve(bad)
		for _, p := range points {
			if math.IsNaN(p.TempC + p.Minutes) {
				t.Errorf("%q gives NaN", bad)
			}
		}
	}
}

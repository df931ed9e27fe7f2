package extraction

import (
	"math"
	"testing"
)

// Computed apart (Python): half at 4 C and half at 20 C do what 13.1735 C does all the
// time, a quarter and three quarters what 16.7962 C does. One temperature is itself.
func TestEvenTemperature(t *testing.T) {
	for _, c := range []struct {
		spans []TempSpan
		want  float64
	}{
		{[]TempSpan{{2, 4}, {2, 20}}, 13.17348343950033},
		{[]TempSpan{{1, 4}, {3, 20}, {0, 90}}, 16.79622687149748},
		{[]TempSpan{{5, 18}}, 18},
	} {
		if got := EvenTempC(c.spans); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v: %g C, want %g", c.spans, got, c.want)
		}
	}
	if got := EvenTempC(nil); !math.IsNaN(got) {
		t.Errorf("no span: %g", got)
	}
}

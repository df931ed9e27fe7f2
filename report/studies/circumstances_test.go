package studies

import (
	"testing"

	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
)

// A plant that was put in itself has a time of contact: up to the evening, since
// it came out later.
func TestTimeOfContact(t *testing.T) {
	trial := ledger.Trial{Uses: []ledger.Use{{Addition: trials.Addition{Method: trials.MethodContact,
		At: invented.Day(10), OutAt: invented.Ptr(invented.Day(24))}}}}
	for day, want := range map[int]float64{13: 3, 24: 14, 40: 14} {
		if got := contactDays(trial, invented.Day(day)); got == nil || *got != want {
			t.Errorf("on day %d: %v, want %g", day, got, want)
		}
	}
	trial.Uses[0].Addition.Method = trials.MethodBoil
	if got := contactDays(trial, invented.Day(13)); got != nil {
		t.Errorf("in the boil: %g days of contact", *got)
	}
}

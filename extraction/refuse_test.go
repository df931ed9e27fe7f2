package extraction

import (
	"errors"
	"strings"
	"testing"

	"hedgerow/trials/figure"
)

// refusals are calls that must be refused, with a word that the message must
// have. What must be an error follows from what the letters of doc.go mean.
type refusal struct {
	name    string
	call    func() error
	mention string
}

// checkRefusals runs the calls.
func checkRefusals(t *testing.T, list []refusal) {
	t.Helper()
	for _, r := range list {
		err := r.call()
		var refused *inputError
		if !errors.As(err, &refused) || !strings.Contains(refused.Message, r.mention) {
			t.Errorf("%s: error %v, want an InputError with %q", r.name, err, r.mention)
			continue
		}
		if refused.Hint == "" || strings.HasSuffix(refused.Message, ".") ||
			strings.ContainsAny(refused.Message+refused.Hint, "\n") {
			t.Errorf("%s: message %q, hint %q, want one line each, no full stop, a hint", r.name, refused.Message, refused.Hint)
		}
	}
}

func TestHeatRefuses(t *testing.T) {
	logged := func(curve ...figure.CurvePoint) func() error { return func() error { return checkCurve(curve) } }
	checkRefusals(t, []refusal{
		{"one reading", logged(figure.CurvePoint{Minutes: 0, TempC: 90}), "1 readings"},
		{"order", logged(figure.CurvePoint{Minutes: 5, TempC: 90}, figure.CurvePoint{Minutes: 0, TempC: 80}),
			"0 min comes after 5"},
		{"reading", logged(figure.CurvePoint{Minutes: 0, TempC: 90}, figure.CurvePoint{Minutes: 5, TempC: 180}), "180"},
		{"time of a reading", logged(figure.CurvePoint{Minutes: -1, TempC: 90},
			figure.CurvePoint{Minutes: 5, TempC: 80}), "-1"},
	})
}

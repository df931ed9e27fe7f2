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

func TestPotencyFormulasRefuse(t *testing.T) {
	checkRefusals(t, []refusal{
		{"prior", func() error { _, err := LnNormal{0, 0}.combine(LnNormal{0, 1}); return err }, "prior sd 0"},
		{"estimate", func() error { _, err := LnNormal{0, 1}.combine(LnNormal{0, -1}); return err }, "-1"},
		{"g of one", func() error { _, _, err := ratio{D: 1, SDD: 1, B: 2, SDB: 1, T: 2}.fieller(); return err }, "g = 1"},
		{"no slope", func() error { _, _, err := ratio{D: 1, SDD: 1, B: 0, SDB: 1, T: 2}.fieller(); return err }, "slope 0"},
		{"nothing known of no slope", func() error {
			_, _,
				err := ratio{D: 1, SDD: 1, B: 0, SDB: 0, T: 2}.fieller()
			return err
		}, "slope 0"},
		{"t", func() error { _, _, err := ratio{D: 1, SDD: 1, B: 3, SDB: 1, T: -2}.fieller(); return err }, "-2"},
	})
}

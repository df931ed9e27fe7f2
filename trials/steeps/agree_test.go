package steeps

import (
	"testing"

	"hedgerow/trials"
)

// The calculator and the ledger keep one set of books: the same plant, form, way
// and time give the same volumes and the same dose to the last digit.
func TestCalculatorAndLedgerKeepTheSameBooks(t *testing.T) {
	materials := shipped(t)
	minutes := 5.0 * 24 * 60
	tried := 0
	for _, key := range []string{"heather", "coriander-seed", "ginger", "raspberry"} {
		for _, form := range []string{"whole", "cut", "crushed", "powder", "fresh", "frozen"} {
			for _, method := range []string{trials.MethodContact, trials.MethodFlameOut, trials.MethodBoil} {
				a := trials.Addition{Record: trials.Record{ID: "a"}, At: day(1), Stage: trials.StageSecondary,
					MaterialKey: key, Form: form,
					Method: method, MassG: ptr(100.0), MoisturePct: ptr(30.0), Minutes: &minutes}
				logged, err := putIn(&trials.Notebook{Now: day(60)}, materials, a)
				if err != nil {
					continue // a form that the plant does not come in
				}
				asked, err := SteepRequest{Material: key, Form: form, Method: method, MassG: 100,
					MoisturePct: ptr(30.0), MoistureMeasured: true,
					Treatments: []Treatment{{Minutes: minutes}}, IntoL: 10}.Steep(materials)
				if err != nil {
					t.Errorf("%s %s %s: %v", key, form, method, err)
					continue
				}
				books, err := logged.Immersion.In(10).Balance()
				if err != nil || books != asked.Books {
					t.Errorf("%s %s %s: %+v logged, %+v asked (%v)", key, form, method, books, asked.Books, err)
				}
				tried++
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d were tried", tried)
	}
}

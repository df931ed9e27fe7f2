package report

import (
	"slices"
	"testing"

	"hedgerow/trials/figure"
)

// By hand: 1.0 (0.5 to 1.5) and 2.0 (1.0 to 3.0) g/L of one material are 3.0 (1.5 to 4.5),
// 5 g/L as weighed; what went in once needs no total.
func TestDoseTotals(t *testing.T) {
	dose := func(material string, weighed, v, low, high float64) ledgerDose {
		return ledgerDose{Material: material, AsWeighed: weighed, Class: "aroma",
			Effective: map[string]figure.Stated{"aroma": figure.StatedBetween(v, low, high, 0.95)}}
	}
	rows := doseTotals([]ledgerDose{dose("heather", 2, 1, 0.5, 1.5), dose("ginger", 1, 1, 0.9, 1.1),
		dose("heather", 3, 2, 1, 3)})
	if len(rows) != 1 || !slices.Equal(rows[0], []string{"heather", "together", "5.00", "aroma *", "3.0 (1.5 to 4.5)"}) {
		t.Errorf("totals %q", rows)
	}
}

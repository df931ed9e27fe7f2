package field

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// Two clusters of one exact claim each, at 1 and e^4 g/L, have SD 0.3 and weight one
// half. N(4, 0.5) heard beside them, by hand: S'^2 = 1/(1/0.09 + 1/0.5) = 0.0762712;
// means 0.0762712*(0/0.09 + 4/0.5) = 0.6101695 and 4; weights as
// exp(-16/(2*0.59)) : 1 = 1.2908e-6 : 1; the wide copies have SD 1.2.
func TestHeardParts(t *testing.T) {
	s := evidence.Study{ClaimsGPerL: [][2]float64{{1, 1}, {math.Exp(4), math.Exp(4)}}}
	parts := HeardParts(s, LnPrior{}, LnPrior{4, math.Sqrt(0.5)})
	small := math.Exp(-8 / 0.59)
	want := []PriorPart{
		{LnPrior{0.6101695, 0.2761724}, 0.85 * small / (1 + small)},
		{LnPrior{0.6101695, 1.2}, 0.15 * small / (1 + small)},
		{LnPrior{4, 0.2761724}, 0.85 / (1 + small)},
		{LnPrior{4, 1.2}, 0.15 / (1 + small)},
	}
	if len(parts) != len(want) {
		t.Fatalf("%d parts, want %d", len(parts), len(want))
	}
	for i, w := range want {
		g := parts[i]
		if math.Abs(g.Mean-w.Mean) > 1e-6 || math.Abs(g.Sd-w.Sd) > 1e-6 || math.Abs(g.Weight-w.Weight) > 1e-9 {
			t.Errorf("part %d: %+v, want %+v", i, g, w)
		}
	}
}

// What is heard with hardly any weight leaves the parts of the claims as they are,
// without claims the distribution that is given.
func TestHeardPartsOfNothing(t *testing.T) {
	s := evidence.Study{ClaimsGPerL: [][2]float64{{1, 8}, {100, 200}, {120, 300}}}
	for i, g := range HeardParts(s, LnPrior{}, LnPrior{2, 1e6}) {
		w := ClaimParts(s)[i]
		if math.Abs(g.Mean-w.Mean) > 1e-9 || math.Abs(g.Sd-w.Sd) > 1e-9 || math.Abs(g.Weight-w.Weight) > 1e-9 {
			t.Errorf("part %d: %+v, want %+v", i, g, w)
		}
	}
	parts := HeardParts(evidence.Study{}, LnPrior{1, 1.5}, LnPrior{2, 1e6})
	if len(parts) != 2 || math.Abs(parts[0].Mean-1) > 1e-9 || math.Abs(parts[0].Sd-1.5) > 1e-9 {
		t.Errorf("without claims %+v", parts)
	}
}

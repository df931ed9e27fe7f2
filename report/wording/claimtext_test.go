package wording

import (
	"testing"

	"hedgerow/testdata/invented"
	"hedgerow/trials"
)

func TestClaimsAsText(t *testing.T) {
	for _, c := range []struct {
		claim     trials.Claim
		dose, how string
	}{
		{trials.Claim{LowGPerL: invented.Ptr(2.0), HighGPerL: invented.Ptr(4.0), Basis: trials.BasisDry},
			"2.00 to 4.00", "dry"},
		{trials.Claim{LowGPerL: invented.Ptr(2.0), HighGPerL: invented.Ptr(2.0)}, "2.00", "not said"},
		{trials.Claim{HighGPerL: invented.Ptr(5.0), PerTea: true, Basis: trials.BasisFresh}, "up to 5.00",
			"fresh, per litre of tea"},
		{trials.Claim{AsWritten: "a handful"}, "-", "not said"},
	} {
		if got := ClaimRange(c.claim); got != c.dose {
			t.Errorf("%q, want %q", got, c.dose)
		}
		if got := ClaimOf(c.claim); got != c.how {
			t.Errorf("%q, want %q", got, c.how)
		}
	}
}

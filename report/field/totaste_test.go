package field

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// A note at its mean, and one stopped at its mean, of two directions, by hand: with
// kappa 3.5, c 0.45 and steps of x1.25 the variance is 0.6 (1.81/3.5)^2 + 0.01 +
// (0.22314/2)^2/3 = 0.16046 + 0.01 + 0.00415 = 0.17461. Where the votes ignore the dose
// it is the same, whatever the node has.
func TestNotesByHand(t *testing.T) {
	right, stop := 2.0, 4.0
	s := evidence.Study{ClaimsGPerL: [][2]float64{{1, 1}}, DosedToTaste: []evidence.ToTaste{{
		Taster: "A", Extract: evidence.Used, Direction: evidence.Up, RightGPerL: &right, StoppedAtGPerL: &stop}}}
	prior, _ := ClaimPrior(s)
	p := NewProblem(s, prior, nil)
	if len(p.Notes) != 2 || p.Notes[1].Beyond != 1 || p.Notes[1].End != 1 {
		t.Fatalf("notes %+v", p.Notes)
	}
	f := NewField(p)
	v := make([]float64, len(f.Mode))
	for _, n := range []Node{
		{Kappa: 3.5, C: 0.45, Tau: 0.2, Beta: 2.5, Sy: 1, right: LnPrior{Sd: 1}},
		Ignoring([]PriorPart{{LnPrior{Sd: 1}, 1}}, false)[0],
	} {
		f.At(n)
		const variance = 0.17461
		r := math.Log(2) - math.Log(1.25)/2 + 0.45
		beyond := (math.Log(4) - 0.45) / math.Sqrt(variance)
		want := -0.5*r*r/variance - 0.5*math.Log(variance) + math.Log(0.5*math.Erfc(beyond/math.Sqrt2))
		if got := f.lnNotes(v); math.Abs(got-want) > 2e-3 {
			t.Errorf("ln p = %.4f, by hand %.4f", got, want)
		}
	}
}

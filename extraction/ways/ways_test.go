package ways

import (
	"math"
	"testing"

	"hedgerow/extraction"
)

func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

// stirred is a pass so long and hot that it stands at equilibrium.
func stirred(volumeML float64, s extraction.Separation) extraction.Pass {
	return extraction.Pass{
		VolumeML:   volumeML,
		StartC:     new(95.0),
		Minutes:    600,
		Agitation:  extraction.Stirred,
		Separation: s,
	}
}

// leaf36 is 32.4 g of crushed leaf without water, 36 g as dried, of which nothing
// takes up room in the liquid.
func leaf36(passes ...extraction.Pass) extraction.Steep {
	return extraction.Steep{Method: extraction.Tea, Form: extraction.Crushed, Kind: extraction.LeafFlower, MassG: 32.4,
		Moisture: new(0.0), Soluble: &extraction.SolubleFigure{}, Passes: passes}
}

// run runs a steep that must be accepted.
func run(t *testing.T, s extraction.Steep) extraction.Result {
	t.Helper()
	r, err := s.Run()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

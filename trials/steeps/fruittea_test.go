package steeps

import (
	"testing"

	"hedgerow/trials"
)

// A tea of fruit gives what the composition of the fruit says, and its sugar can
// ferment: of raspberries (USDA, in the table of the catalogue) 4.42 g of sugar in
// 100 g, 14.25 g of it dry; a tea of heather gives none.
func TestTeaOfFruitHasSugar(t *testing.T) {
	x := trials.Extract{Record: trials.Record{ID: "f", Name: "berry"}, MaterialKey: "raspberry", Method: trials.MethodTea,
		Form: "frozen", MassG: 500, MadeAt: day(0), Passes: []trials.Pass{{VolumeL: 0.5, StartC: 70, Minutes: 30,
			Separation: trials.SeparationSqueezed}}}
	y := yielded(t, x)
	s := y.Result.Steep.Soluble.Share
	near(t, "sugar of the solids", y.SugarShare, 4.42/14.25/s, 0.01)
	if s < 0.4 || s > 0.8 {
		t.Errorf("soluble share %v of raspberry", s)
	}
	x.MaterialKey, x.Form = "heather", "cut"
	if y := yielded(t, x); y.SugarShare != 0 {
		t.Errorf("a tea of heather has %v of sugar", y.SugarShare)
	}
}

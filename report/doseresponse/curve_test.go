package doseresponse

import (
	"math"
	"testing"
)

// Properties: at the next dose the curve says what the suggestion says; shares sum to 1,
// bands hold one another and the middle, more is ever less often too little.
func TestCurve(t *testing.T) {
	p := mustFit(t, eightfold(trial("T1", 2.83, -1, 0, -1, 1), trial("T2", 4, 0, 0, 1, 1)), Options{})
	next := p.NextDose()
	at := p.Curve(next.DoseGPerL, next.DoseGPerL, 1)[0]
	if math.Abs(at.Right-next.PRight) > 1e-12 || math.Abs(at.TooMuch-next.PTooMuch) > 1e-12 {
		t.Errorf("the curve says %+v of the next dose, the suggestion %+v", at, next)
	}
	list := p.Curve(0.5, 20, 25)
	if list[0].DoseGPerL != 0.5 || math.Abs(list[24].DoseGPerL-20) > 1e-9 {
		t.Errorf("the curve runs from %g to %g", list[0].DoseGPerL, list[24].DoseGPerL)
	}
	for i, c := range list {
		if math.Abs(c.TooLittle+c.Right+c.TooMuch-1) > 1e-9 {
			t.Errorf("shares at %g g/L sum to %g", c.DoseGPerL, c.TooLittle+c.Right+c.TooMuch)
		}
		if !(c.Most[0] <= c.Half[0] && c.Half[0] <= c.Half[1] && c.Half[1] <= c.Most[1]) {
			t.Errorf("bands at %g g/L do not hold one another: %+v", c.DoseGPerL, c)
		}
		if c.Right < c.Most[0] || c.Right > c.Most[1] {
			t.Errorf("at %g g/L the share %g lies outside its band %v", c.DoseGPerL, c.Right, c.Most)
		}
		if i > 0 && (c.TooLittle > list[i-1].TooLittle || c.TooMuch < list[i-1].TooMuch) {
			t.Errorf("a higher dose, %g g/L, is more often too little", c.DoseGPerL)
		}
	}
}

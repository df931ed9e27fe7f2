package doseresponse

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
)

// By hand, tau = 0.3, one study that saw u = 0.2 exactly (SD near 0): the
// person is q ~ N(0.1, 0.0225) with half of tau^2 = 0.045 each, so the next
// offset is N(0.1, 0.0225 + 0.045).
func TestRememberOneStudy(t *testing.T) {
	got, ok := Remember([]evidence.TasterPrior{{OffsetLn: 0.2, OffsetSDLn: 1e-4, Scale: 0, ScaleSD: 1, Sharpness: 4}})
	if !ok || math.Abs(got.OffsetLn-0.1) > 1e-4 || math.Abs(got.OffsetSDLn-math.Sqrt(0.0675)) > 1e-4 {
		t.Errorf("offset N(%g, %g), want N(0.1, %g)", got.OffsetLn, got.OffsetSDLn, math.Sqrt(0.0675))
	}
	// a study that taught nothing of the scale leaves its prior; 4 is drawn to 2
	if got.Scale != 0 || math.Abs(got.ScaleSD-1) > 1e-9 || math.Abs(got.Sharpness-2) > 1e-9 {
		t.Errorf("scale N(%g, %g), sharpness %g", got.Scale, got.ScaleSD, got.Sharpness)
	}
	if _, ok := Remember(nil); ok {
		t.Error("a memory of nothing")
	}
}

// Many studies that agree: the person is known, the material is not.
func TestRememberMany(t *testing.T) {
	past := make([]evidence.TasterPrior, 200)
	for i := range past {
		past[i] = evidence.TasterPrior{OffsetLn: -0.2, OffsetSDLn: 0.01, ScaleSD: 1}
	}
	got, _ := Remember(past)
	if math.Abs(got.OffsetLn+0.2) > 0.005 || math.Abs(got.OffsetSDLn-0.3*math.Sqrt(0.5)) > 0.005 {
		t.Errorf("offset N(%g, %g), want N(-0.2, 0.212)", got.OffsetLn, got.OffsetSDLn)
	}
}

// A taster known to want twice the panel's dose: the same vote of too little
// by that taster moves the panel's dose less, and the tasters apart more. The
// switch forgets it.
func TestRememberedTaster(t *testing.T) {
	s := eightfold(trial("T1", 3, -1, 0))
	fresh := mustFit(t, s, Options{})
	s.Remembered = map[string]evidence.TasterPrior{"A": {OffsetLn: 0.5, OffsetSDLn: 0.1, ScaleSD: 1}}
	known := mustFit(t, s, Options{})
	if a, b := known.Tasters()[0].Offset.Value, fresh.Tasters()[0].Offset.Value; a <= b {
		t.Errorf("offset of A x%.2f remembered, x%.2f fresh", a, b)
	}
	again := mustFit(t, s, Options{FreshTasters: true})
	if again.NextDose() != fresh.NextDose() {
		t.Error("fresh tasters are not fresh")
	}
	if m := fresh.Memory()["A"]; m.OffsetSDLn <= 0 || m.ScaleSD <= 0 || m.Sharpness <= 0 {
		t.Errorf("memory %+v", m)
	}
}

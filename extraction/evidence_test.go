package extraction

import (
	"math"
	"strings"
	"testing"
)

// TestSolidsUpdate checks the update on two cases computed independently: normal
// distributions of ln s and ln q under ln Q = ln s + ln q + error, solved with
// another program in double precision.
func TestSolidsUpdate(t *testing.T) {
	for _, c := range []struct {
		e                SolidsEvidence
		yield, sd, share float64
	}{
		{SolidsEvidence{Share: 0.33, ShareSDLn: 0.3, Yield: 0.8, YieldSDLn: 0.2, PerDry: 0.21, PerDrySDLn: 0.1},
			0.749366678595, 0.169030850946, 0.284854981818},
		{SolidsEvidence{Share: 0.63, ShareSDLn: 0.1, Yield: 0.55, YieldSDLn: 0.45, PerDry: 0.25, PerDrySDLn: 0.08},
			0.406649617564, 0.123171876258, 0.620675189408},
	} {
		u, err := c.e.Update()
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []struct{ got, want float64 }{
			{u.NewYield, c.yield}, {u.NewYieldSDLn, c.sd}, {u.NewShare, c.share}} {
			if math.Abs(v.got-v.want) > 1e-9 {
				t.Errorf("%+v gives %v, want %v", c.e, v.got, v.want)
			}
		}
	}
}

// TestSolidsUpdateRefuses checks what cannot be.
func TestSolidsUpdateRefuses(t *testing.T) {
	good := SolidsEvidence{Share: 0.33, ShareSDLn: 0.3, Yield: 0.8, YieldSDLn: 0.2, PerDry: 0.21, PerDrySDLn: 0.1}
	for what, change := range map[string]func(*SolidsEvidence){
		"soluble share":           func(e *SolidsEvidence) { e.Share = 0 },
		"soluble share ":          func(e *SolidsEvidence) { e.Share = 1.2 },
		"yield":                   func(e *SolidsEvidence) { e.Yield = -0.1 },
		"yield ":                  func(e *SolidsEvidence) { e.Yield = 1.01 },
		"sd of the yield":         func(e *SolidsEvidence) { e.YieldSDLn = 0 },
		"sd of the soluble share": func(e *SolidsEvidence) { e.ShareSDLn = -1 },
		"sd of the reading":       func(e *SolidsEvidence) { e.PerDrySDLn = math.NaN() },
		"measured solids":         func(e *SolidsEvidence) { e.PerDry = 0 },
	} {
		e := good
		change(&e)
		if _, err := e.Update(); err == nil || !strings.HasPrefix(err.Error(), strings.TrimSpace(what)) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// readTea is one pass of heather-like leaf, measured at a strength.
func readTea(gPerL, u float64) Steep {
	s := Steep{Method: Tea, Form: Cut, Kind: LeafFlower, MassG: 36, Passes: []Pass{{VolumeML: 450, StartC: new(94.0),
		EndC: new(52.0), Minutes: 45, Separation: Drained}}}
	if gPerL > 0 {
		s.Passes[0].Solids = &SolidsReading{GPerL: gPerL, U: u}
	}
	return s
}

// TestReadingMovesTheDose checks the direction: a tea weaker than expected lowers
// yield and soluble share, a stronger one raises both, and either narrows the dose of
// the water class and leaves aroma alone.
func TestReadingMovesTheDose(t *testing.T) {
	plain := readTea(0, 0)
	r0, err := plain.Run()
	if err != nil {
		t.Fatal(err)
	}
	expected := 0.33 * r0.DryG * r0.Yield[Water] / (r0.ExtractML / 1000)
	d0, _ := plain.Doubt(Mix{IntoL: 17}, Draws{N: 4000, Seed: 1})
	for _, factor := range []float64{0.7, 1.4} {
		s := readTea(expected*factor, 0.05*expected)
		r, err := s.Run()
		if err != nil {
			t.Fatal(err)
		}
		d, err := s.Doubt(Mix{IntoL: 17}, Draws{N: 4000, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if lower := factor < 1; r.Update == nil || (r.Yield[Water] < r0.Yield[Water]) != lower ||
			(r.Update.NewShare < 0.33) != lower {
			t.Errorf("a strength %v of that expected gives %+v", factor, r.Update)
		}
		if r.Yield[Aroma] != r0.Yield[Aroma] || d.Dose[Aroma].At80 != d0.Dose[Aroma].At80 &&
			math.Abs(d.Dose[Aroma].At80.Low/d0.Dose[Aroma].At80.Low-1) > 0.03 {
			t.Error("aroma moves with the solids")
		}
		if got := d.Kept[Water].SDLn; got > d0.Kept[Water].SDLn {
			t.Errorf("sd of ln yield %v after the reading, %v before", got, d0.Kept[Water].SDLn)
		}
		solids := r.Extract().SolidsG
		if math.Abs(solids.Value-expected*factor*r.ExtractML/1000) > 1e-9 || solids.Low >= solids.Value {
			t.Errorf("solids %+v are not those measured", solids)
		}
	}
}

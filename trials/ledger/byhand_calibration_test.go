package ledger

import (
	"testing"

	"hedgerow/trials"
)

// calibratedBatch is the batch worked by hand (see handSteps) as it is found in
// a notebook whose instruments were tried only afterwards. The hydrometer showed
// 1.0010 in plain water at 20 C on day 40: every gravity, the original one too,
// was noted 0.0010 too high. The pH meter was tried on day 7, and on day 30
// without having been set in between.
func calibratedBatch() (*trials.Notebook, trials.Batch) {
	n, b := handBatch()
	for i := range n.Readings {
		n.Readings[i].SG = ptr(*n.Readings[i].SG + 0.0010)
		n.Readings[i].MeterID = ptr("float")
	}
	b.OG, b.OGMeterID = ptr(1.0510), ptr("float")
	n.Batches[len(n.Batches)-1] = b
	n.Meters = []trials.Meter{{Record: trials.Record{ID: "float", Name: "float-1"}, Kind: trials.MeterHydrometer},
		{Record: trials.Record{ID: "ph", Name: "ph-1"}, Kind: trials.MeterPH}}
	for _, r := range []struct {
		name  string
		day   int
		shown float64
	}{{"heather-1.r4", 6, 4.60}, {"heather-1.r5", 10, 4.45}, {"heather-1.r6", 22, 4.40}} {
		n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{Name: r.name}, BatchID: b.ID,
			At: day(r.day), PH: ptr(r.shown), MeterID: ptr("ph")})
	}
	first := firstBuffers
	first.Record, first.MeterID, first.At = trials.Record{ID: "c1", Name: "ph-1.c1"}, "ph", day(7)
	n.Calibrations = []trials.Calibration{first}
	return n, b
}

// tryInstruments is what was done on day 30 and day 40.
func tryInstruments(n *trials.Notebook) {
	second := secondBuffers
	second.Record, second.MeterID, second.At, second.Untouched = trials.Record{ID: "c2",
		Name: "ph-1.c2"}, "ph", day(30), true
	n.Calibrations = append(n.Calibrations, second)
	n.Meters[0].ZeroError = ptr(0.0010)
}

// A tea in mid-fermentation, fruit later, two losses, and calibrations made
// afterwards. With the zero error taken off, every step must be that of
// handSteps, where the reasons stand; the pH readings, which change nothing in
// the balance, are worked here.
func TestCalibrationAfterwardsByHand(t *testing.T) {
	n, b := calibratedBatch()
	before, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	tryInstruments(n)
	after, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	// Noted 1.0105 on day 20, truly 1.0095; the original gravity 1.0510, truly
	// 1.0500, and with tea and fruit in it 1.04651.
	near(t, "gravity before the float was tried", before.Last().State().GravitySG.Value, 1.0105, 1e-6)
	at := 0
	for _, s := range after.Steps {
		if s.Reading != nil && s.Reading.PH != nil {
			continue
		}
		w := handSteps[at]
		near(t, w.what+": water", s.Result.State.WaterKg, w.waterKg, 2e-6)
		near(t, w.what+": ethanol", s.Result.State.EthanolKg, w.ethanolKg, 2e-6)
		near(t, w.what+": extract", s.Result.State.ExtractKg, w.extractKg, 2e-6)
		near(t, w.what+": gravity", s.State().GravitySG.Value, w.gravitySG, 1e-6)
		near(t, w.what+": strength", s.State().ABVPct.Value, w.abvPct, 1e-5)
		near(t, w.what+": original gravity", s.State().OriginalSG.Value, w.original, 1e-6)
		at++
	}
	if at != len(handSteps) {
		t.Fatalf("%d steps, want %d", at, len(handSteps))
	}
}

// Day 6 is before the first calibration, which says nothing of the time before
// it: 4.60 stays. Day 10 and 22 lie between the two. While only the first is
// known, 4.45 is 4.01 + 0.34 x 2.99/2.94 = 4.355782 and 4.40 is 4.01 + 0.29 x
// 2.99/2.94 = 4.304932. The second, with the meter untouched, shows what the
// meter had drifted to: 4.00 + 0.29 x 2.86/2.78 = 4.298345 and 4.00 + 0.24 x
// 2.86/2.78 = 4.246906.
func TestPHAfterwardsByHand(t *testing.T) {
	n, _ := calibratedBatch()
	hold := func(what string, want ...float64) {
		t.Helper()
		for i, w := range want {
			p, _ := PHOf(n, n.Readings[3+i])
			near(t, what+": "+n.Readings[3+i].Name, p.Value, w, 1e-6)
		}
	}
	hold("first calibration", 4.60, 4.355782, 4.304932)
	tryInstruments(n)
	hold("second calibration", 4.60, 4.298345, 4.246906)
}

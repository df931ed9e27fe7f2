package ledger

import (
	"math"
	"strings"
	"testing"

	"hedgerow/trials"
)

// meterNotebook has a pH meter, two calibrations and four readings around them.
// The first calibration is on day 7, the second on day 30.
func meterNotebook(first, second trials.Calibration) *trials.Notebook {
	first.Record, first.MeterID, first.At = trials.Record{ID: "c1", Name: "ph-1.c1"}, "m", day(7)
	second.Record, second.MeterID, second.At = trials.Record{ID: "c2", Name: "ph-1.c2"}, "m", day(30)
	n := &trials.Notebook{Meters: []trials.Meter{{Record: trials.Record{ID: "m", Name: "ph-1"}, Kind: trials.MeterPH}},
		Calibrations: []trials.Calibration{second, first}}
	for i, at := range []int{5, 7, 10, 40} {
		n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{Name: "r" + string(rune('1'+i))},
			At: day(at), MeterID: ptr("m"), PH: ptr(4.45)})
	}
	return n
}

// The two calibrations of the tests below.
var (
	firstBuffers  = trials.Calibration{Buffer1: 4.01, Read1: 4.11, Buffer2: 7.00, Read2: 7.05}
	secondBuffers = trials.Calibration{Buffer1: 4.00, Read1: 4.16, Buffer2: 6.86, Read2: 6.94}
)

// By hand, pH = b1 + (r - r1)(b2 - b1)/(r2 - r1): a reading of 4.45 is by the
// first 4.01 + 0.34 x 2.99/2.94 = 4.355782, by the second 4.00 + 0.29 x
// 2.86/2.78 = 4.298345.
func TestWhichCalibrationHolds(t *testing.T) {
	const shown, byFirst, bySecond = 4.45, 4.355782, 4.298345
	flagged := func(c trials.Calibration, untouched, adjusted bool) trials.Calibration {
		c.Untouched, c.Adjusted = untouched, adjusted
		return c
	}
	cases := []struct {
		what          string
		first, second trials.Calibration
		want          [4]float64 // of the readings on day 5, 7, 10 and 40
	}{
		{"each holds until the next", firstBuffers, secondBuffers, [4]float64{shown, byFirst, byFirst, bySecond}},
		{"the second also before it, back to the first", firstBuffers, flagged(secondBuffers, true, false),
			[4]float64{shown, bySecond, bySecond, bySecond}},
		{"the first also before it", flagged(firstBuffers, true, false), secondBuffers,
			[4]float64{byFirst, byFirst, byFirst, bySecond}},
		{"set to the buffers on day 7", flagged(firstBuffers, true, true), secondBuffers,
			[4]float64{byFirst, shown, shown, bySecond}},
		{"set to the buffers on day 30", firstBuffers, flagged(secondBuffers, true, true),
			[4]float64{shown, bySecond, bySecond, shown}},
	}
	for _, c := range cases {
		n := meterNotebook(c.first, c.second)
		for i, want := range c.want {
			p, ok := PHOf(n, n.Readings[i])
			if !ok || p.Shown != shown {
				t.Fatalf("%s: %+v", c.what, p)
			}
			near(t, c.what+", "+n.Readings[i].Name, p.Value, want, 1e-6)
			if (p.By == nil) != (want == shown) {
				t.Errorf("%s: %s corrected by %v", c.what, n.Readings[i].Name, p.By)
			}
		}
	}
}

func TestReadingsWithoutACalibration(t *testing.T) {
	n := meterNotebook(firstBuffers, secondBuffers)
	if p, ok := PHOf(n, trials.Reading{PH: ptr(4.2), At: day(10)}); !ok || p.Value != 4.2 || p.By != nil {
		t.Errorf("without a meter: %+v", p)
	}
	if p, ok := PHOf(n, trials.Reading{PH: ptr(4.2), MeterID: ptr("other"), At: day(10)}); !ok || p.Value != 4.2 ||
		p.By != nil {
		t.Errorf("with another meter: %+v", p)
	}
	if _, ok := PHOf(n, trials.Reading{SG: ptr(1.012)}); ok {
		t.Error("a gravity has a pH")
	}
}

// Far from the buffers (more than 1, a judgement) a correction is warned of, and
// one that leads off the scale is not made.
func TestCorrectionFarFromTheBuffers(t *testing.T) {
	n := meterNotebook(firstBuffers, secondBuffers)
	at := func(pH float64) PH {
		p, _ := PHOf(n, trials.Reading{Record: trials.Record{Name: "r9"}, PH: &pH, MeterID: ptr("m"), At: day(10)})
		return p
	}
	if p := at(3.05); len(p.Warnings) != 1 || !strings.Contains(p.Warnings[0].Text, "far from the buffers") {
		t.Errorf("3.05: %q", p.Warnings)
	}
	if p := at(3.2); len(p.Warnings) != 0 {
		t.Errorf("3.2: %q", p.Warnings)
	}
	if p := at(0.02); p.Value != 0.02 || p.By != nil || len(p.Warnings) != 1 {
		t.Errorf("0.02: %+v", p)
	}
}

// 100 x 2.78/2.86 = 97.2028 %, 100 x 2.5/2.99 = 83.6120 %, 100 x 3.2/2.99 =
// 107.0234 %; 90 to 105 % is common practice.
func TestSlopeIsFlagged(t *testing.T) {
	cases := []struct {
		c       trials.Calibration
		pct     float64
		flagged bool
	}{
		{secondBuffers, 97.2028, false},
		{trials.Calibration{Buffer1: 4.01, Read1: 4.2, Buffer2: 7, Read2: 6.7}, 83.6120, true},
		{trials.Calibration{Buffer1: 4.01, Read1: 4.0, Buffer2: 7, Read2: 7.2}, 107.0234, true},
	}
	for _, c := range cases {
		pct, flagged := SlopePct(c.c)
		near(t, "slope", pct, c.pct, 1e-4)
		if flagged != c.flagged || (len(CalibrationWarnings(c.c)) > 0) != c.flagged {
			t.Errorf("slope %g flagged %v, %q", pct, flagged, CalibrationWarnings(c.c))
		}
	}
}

// Hetzer 1977 as on the reference page: 10 C 4.000, 20 C 4.0015, 25 C 4.006, 30 C
// 4.012.
func TestPhthalateBuffer(t *testing.T) {
	for tempC, want := range map[float64]float64{10: 4.000, 20: 4.0015, 25: 4.006, 30: 4.012} {
		pH, err := PhthalatePH(tempC)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "phthalate", pH, want, 6e-4)
	}
	if _, err := PhthalatePH(70); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("70 C: %v", err)
	}
}

// The zero of a hydrometer may be read in water of any temperature. Densities of
// Tanaka 2001 (15.5556 C 999.0159, 20 C 998.2071, 25 C 997.0470 kg/m3), glass of
// ISO 1768: a true one of 20 C shows 997.0470/998.2071 x 1.000125 = 0.998963 at
// 25 C, one of 60 F 998.2071/999.0159 x 1.000111 = 0.999301 at 20 C.
func TestZeroInWater(t *testing.T) {
	sixtyF := (60.0 - 32) / 1.8
	cases := []struct {
		scale          *float64
		shown, tempC   float64
		want, tolerate float64
	}{
		{nil, 1.0010, 20, 0.0010, 1e-12},
		{nil, 1.0000, 25, 1 - 0.998963, 1e-5},
		{&sixtyF, 1.0000, 20, 1 - 0.999301, 1e-5},
	}
	for _, c := range cases {
		zero, err := ZeroIn(trials.Meter{Kind: trials.MeterHydrometer, ScaleTempC: c.scale}, c.shown, c.tempC)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "zero error", zero, c.want, c.tolerate)
	}
	for _, bad := range []struct{ shown, tempC float64 }{{1.050, 20}, {1, 60}, {math.NaN(), 20}} {
		if _, err := ZeroIn((trials.Meter{Kind: trials.MeterHydrometer}), bad.shown, bad.tempC); err == nil {
			t.Errorf("%g in water of %g C was taken", bad.shown, bad.tempC)
		}
	}
	if _, err := ZeroIn((trials.Meter{Kind: trials.MeterPH}), 1, 20); err == nil {
		t.Error("a pH meter has a zero in water")
	}
}

// Section 7 of the reference page, the beer of example 1 with its water: two
// readings that are off on their own leave 0.103 % vol; a zero error that both
// share leaves 0.003 in the strength, and 0.140 % in the real extract. Half and
// half (the default of a named hydrometer) leaves half of 0.103.
func TestCommonZeroErrorInTheLedger(t *testing.T) {
	inputs := func(m *trials.Meter) State {
		n, b := batchOf(
			trials.Reading{Record: trials.Record{ID: "r", Name: "heather-1.r1"}, At: day(10), SG: ptr(1.010),
				VolumeL: ptr(12.0)},
			trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(11),
				Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: ptr(0.6)})
		if m != nil {
			n.Meters = []trials.Meter{*m}
			b.OGMeterID, n.Readings[0].MeterID = &m.ID, &m.ID
		}
		return last(t, n, b)
	}
	float := trials.Meter{Record: trials.Record{ID: "m", Name: "float-1"}, Kind: trials.MeterHydrometer}
	near(t, "u without a meter", inputs(nil).ABVInputsPct.U, 0.103, 0.002)
	near(t, "u with one hydrometer", inputs(&float).ABVInputsPct.U, 0.103/2, 0.002)
	near(t, "u of the real extract", inputs(nil).RealExtractPct.U, 0.117, 0.002)
	float.ZeroLimit = ptr(0.001)
	near(t, "u of a zero error alone", inputs(&float).ABVInputsPct.U, 0.003, 0.001)
	near(t, "u of the real extract then", inputs(&float).RealExtractPct.U, 0.140, 0.002)
	// The model's 0.10 % vol does not shrink, nor do 1.2 % of the yield times 0.765 of
	// 4.72 % vol, 0.043.
	near(t, "total u", inputs(&float).ABVPct.U, math.Hypot(0.10, 0.012*0.765*4.72), 0.002)
}

// The original gravity is corrected as wort: 1.0500 shown at 25 C by a float of
// 20 C is 1.05131, 1.0500 by one of 60 F at its own temperature 1.04977
// (reference page, section 8).
func TestOriginalGravityIsCorrected(t *testing.T) {
	sixtyF := (60.0 - 32) / 1.8
	cases := []struct {
		scale, sample, zero *float64
		og, want            float64
	}{
		{nil, ptr(25.0), nil, 1.0500, 1.05131},
		{&sixtyF, nil, nil, 1.0500, 1.04977},
		{nil, ptr(25.0), ptr(0.002), 1.0520, 1.05131},
	}
	for _, c := range cases {
		n, b := batchOf(func(b *trials.Batch) { b.OG, b.OGMeterID, b.OGSampleTempC = &c.og, ptr("m"), c.sample })
		n.Meters = []trials.Meter{{Record: trials.Record{ID: "m", Name: "float-1"}, Kind: trials.MeterHydrometer,
			ScaleTempC: c.scale, ZeroError: c.zero}}
		near(t, "original gravity", last(t, n, b).OriginalSG.Value, c.want, 6e-6)
	}
}

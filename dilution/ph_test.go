package dilution

import (
	"math"
	"strings"
	"testing"
)

// TestPhthalate holds values worked out from the NBS formula (Hetzer 1977).
func TestPhthalate(t *testing.T) {
	for tempC, want := range map[float64]float64{10: 4.000, 20: 4.0015, 25: 4.006, 30: 4.012} {
		closeTo(t, "pH", must(PhthalatePH(tempC))(t), want, 6e-4)
	}
}

// TestTwoPoint: both buffers come back exactly, and the middle by hand.
func TestTwoPoint(t *testing.T) {
	c := PHCalibration{Buffer1: 4, Read1: 4.1, Buffer2: 7, Read2: 7.04}
	closeTo(t, "first buffer", must(c.Correct(4.1))(t), 4, 1e-12)
	closeTo(t, "second buffer", must(c.Correct(7.04))(t), 7, 1e-12)
	closeTo(t, "middle", must(c.Correct(5.57))(t), 5.5, 1e-12)
}

// TestSlope: 100 (r2-r1)/(b2-b1), flagged outside 90-105 % (common practice, no
// source).
func TestSlope(t *testing.T) {
	cases := []struct {
		c       PHCalibration
		pct     float64
		flagged bool
	}{
		{PHCalibration{4, 4.1, 7, 7.04}, 98, false},
		{PHCalibration{4, 4.3, 7, 6.97}, 89, true},
		{PHCalibration{4, 3.9, 7, 7.11}, 107, true},
	}
	for _, c := range cases {
		pct, flagged, err := c.c.SlopePct()
		if err != nil || flagged != c.flagged || math.Abs(pct-c.pct) > 1e-9 {
			t.Errorf("%+v: %g %% flagged %v, error %v", c.c, pct, flagged, err)
		}
	}
}

// TestPHRefusals: calibrations that say nothing.
func TestPHRefusals(t *testing.T) {
	cases := []struct {
		c    PHCalibration
		says string
	}{
		{PHCalibration{4, 4.1, 4, 7.04}, "two different buffers"},
		{PHCalibration{4, 5, 7, 5}, "does not tell them apart"},
		{PHCalibration{4, 41, 7, 7}, "pH 41 is outside"},
	}
	for _, c := range cases {
		_, err := c.c.Correct(4.5)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: error %v, want one with %q", c.c, err, c.says)
		}
		if _, _, err := c.c.SlopePct(); err == nil {
			t.Errorf("%+v has a slope", c.c)
		}
	}
	if _, err := PhthalatePH(70); err == nil {
		t.Error("70 C was taken")
	}
}

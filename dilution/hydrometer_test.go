package dilution

import (
	"strings"
	"testing"
)

// TestHydrometerTable holds hydrometer_table.csv (computed independently from
// the same published ingredients): wort, scales for 20 C and 60 F, to the
// rounding of the table.
func TestHydrometerTable(t *testing.T) {
	tab := readTable(t, "hydrometer_table.csv", "reading,sample_t_C,cal_t_for_col4,sg20_20_if_cal_20C,sg20_20_if_cal_60F")
	for _, row := range tab.rows {
		reading, _ := tab.num(t, row, "reading")
		sample, _ := tab.num(t, row, "sample_t_C")
		for column, cal := range map[string]float64{"sg20_20_if_cal_20C": Cal20C, "sg20_20_if_cal_60F": cal60F} {
			want, _ := tab.num(t, row, column)
			h := Hydrometer{Reading: reading, SampleTempC: sample, CalTempC: cal}
			closeTo(t, column, must(h.WortSG())(t), want, 6e-7)
		}
	}
}

// TestHydrometerExamples holds figures computed independently from ISO 1768
// glass and the densities of SPS-4 and R 22.
func TestHydrometerExamples(t *testing.T) {
	cases := []struct {
		h    Hydrometer
		want float64
	}{
		{Hydrometer{Reading: 1.050, SampleTempC: 10, CalTempC: Cal20C}, 1.04812},
		{Hydrometer{Reading: 1.050, SampleTempC: 15, CalTempC: Cal20C}, 1.04893},
		{Hydrometer{Reading: 1.050, SampleTempC: 25, CalTempC: Cal20C}, 1.05131},
		{Hydrometer{Reading: 1.050, SampleTempC: 30, CalTempC: Cal20C}, 1.05284},
		{Hydrometer{Reading: 1.010, SampleTempC: 30, CalTempC: Cal20C}, 1.01244},
		{Hydrometer{Reading: 1.050, SampleTempC: cal60F, CalTempC: cal60F}, 1.04977},
		// A zero error comes off first: the same as reading 1.050.
		{Hydrometer{Reading: 1.052, ZeroError: 0.002, SampleTempC: 25, CalTempC: Cal20C}, 1.05131},
	}
	for _, c := range cases {
		closeTo(t, "SG 20/20", must(c.h.WortSG())(t), c.want, 6e-6)
	}
}

// TestHydrometerBeer: beer and wort corrections agree at 20 C and differ by
// 0.0002-0.0007 at 10 and 30 C (computed independently; to the last digit).
func TestHydrometerBeer(t *testing.T) {
	for _, og := range []float64{1.060, 1.080} {
		wort := must(Wort(og, 1))(t)
		for _, tempC := range []float64{10, 30} {
			h := Hydrometer{Reading: 1.012, SampleTempC: tempC, CalTempC: Cal20C}
			d := must(h.BeerSG(wort))(t) - must(h.WortSG())(t)
			if tempC < 20 {
				d = -d
			}
			if d < 0.00015 || d > 0.00075 {
				t.Errorf("OG %g at %g C: beer less wort %g", og, tempC, d)
			}
		}
		h := Hydrometer{Reading: 1.012, SampleTempC: 20, CalTempC: Cal20C}
		closeTo(t, "at 20 C", must(h.BeerSG(wort))(t), 1.012, 1e-12)
	}
}

// TestReadingInAccount: a warm reading in an account is the one corrected by
// hand beforehand.
func TestReadingInAccount(t *testing.T) {
	og, tempC := Exactly(1.060), Exactly(10)
	warm := Account{
		Start: Start{VolumeL: Exactly(20), OG: &og},
		Steps: []Step{ReadGravity{SG: Exactly(1.012), TempC: &tempC, CalTempC: Cal20C}},
	}
	// 1.01036: check row of hydrometer_beer_sg20.
	closeTo(t, "SG 20/20", must(warm.Run())(t)[1].State.SG(), 1.01036, 2e-5)
}

// TestHydrometerRefusals: hot samples and impossible readings.
func TestHydrometerRefusals(t *testing.T) {
	good := Hydrometer{Reading: 1.050, SampleTempC: 20, CalTempC: Cal20C}
	cases := []struct {
		name   string
		change func(*Hydrometer)
		says   string
	}{
		{"hot", func(h *Hydrometer) { h.SampleTempC = 60 }, "cool the sample"},
		{"scale", func(h *Hydrometer) { h.CalTempC = 60 }, "60 F (15.56 C)"},
		{"reading", func(h *Hydrometer) { h.Reading = 50 }, "hydrometer reading 50"},
		{"zero", func(h *Hydrometer) { h.ZeroError = 1.002 }, "less 1"},
	}
	for _, c := range cases {
		h := good
		c.change(&h)
		if _, err := h.WortSG(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.says)
		}
	}
	if _, err := good.BeerSG(State{}); err == nil {
		t.Error("a reading of nothing was taken")
	}
}

// TestReadingInWater: a true hydrometer shows 1 in water of its own temperature,
// and elsewhere the ratio of the densities (Tanaka 2001: 15.5556 C 999.0159, 20 C
// 998.2071, 25 C 997.0470, 40 C 992.2152 kg/m3) times the growth of its glass.
func TestReadingInWater(t *testing.T) {
	cases := []struct{ tempC, calTempC, want float64 }{
		{Cal20C, Cal20C, 1},
		{cal60F, cal60F, 1},
		{25, Cal20C, 997.0470 / 998.2071 * (1 + 25e-6*5)},
		{40, Cal20C, 992.2152 / 998.2071 * (1 + 25e-6*20)},
		{20, cal60F, 998.2071 / 999.0159 * (1 + 25e-6*4.44444)},
	}
	for _, c := range cases {
		// Published water densities differ by up to 8e-6.
		closeTo(t, "reading in water", must(ReadingInWater(c.tempC, c.calTempC))(t), c.want, 1e-5)
	}
	for _, bad := range [][2]float64{{-1, 20}, {41, 20}, {20, 60}} {
		if _, err := ReadingInWater(bad[0], bad[1]); err == nil {
			t.Errorf("water of %g C for a scale of %g C was taken", bad[0], bad[1])
		}
	}
}

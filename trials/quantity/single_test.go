package quantity

import (
	"math"
	"testing"
)

// Temperatures are by hand from C = (F - 32) / 1.8 [4].
func TestParseTemperature(t *testing.T) {
	for _, c := range []limited{
		{"96C", 96, 0},
		{"96 c", 96, 0},
		{"96 °C", 96, 0},
		{"96°C", 96, 0},
		{"96 degrees C", 96, 0},
		{"96 degC", 96, 0},
		{"96 Celsius", 96, 0},
		{"-2C", -2, 0},
		{"−20 C", -20, 0},
		{"0C", 0, 0},
		{"110C", 110, 0},
		{"212F", 100, 0},
		{"50F", 10, 0},
		{"14F", -10, 0},
		{"68 degrees Fahrenheit", 20, 0},
		{"96C+-2C", 96, 2},
		{"96+-2C", 96, 2},
		{"212F+-9F", 100, 5},
	} {
		l, err := ParseTemperature(c.text)
		if c.value == 0 && err == nil && l.Value == 0 {
			continue
		}
		checkLimited(t, c, l, err)
	}
	for _, c := range []struct{ text, hint string }{
		{"96", "96C or 205F"},
		{"205C", "205 F"},
		{"111C", "111 F"},
		{"-21C", "check"},
		{"400F", "check"},
		{"300C", "check"},
		{"hot", "96C"},
		{"96 X", "96C"},
		{"96 K", "96C"},
		{"96L", "96C"},
		{"96C+-2%", "96C+-2C"},
		{"96C 5", "only"},
		{"96C>60C", "only"},
	} {
		_, err := ParseTemperature(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

func TestParseTempSpan(t *testing.T) {
	for _, c := range []struct {
		text       string
		start, end float64 // end NaN for constant
	}{
		{"96C>60C", 96, 60},
		{"96>60C", 96, 60},
		{"96C > 60C", 96, 60},
		{"96C->60C", 96, 60},
		{"96C→60C", 96, 60},
		{"96C to 60C", 96, 60},
		{"96 to 60 °C", 96, 60},
		{"212F>140F", 100, 60},
		{"4C>-2C", 4, -2},
		{"20C", 20, math.NaN()},
	} {
		s, err := ParseTempSpan(c.text)
		switch {
		case err != nil:
			t.Error(err)
		case math.Abs(s.StartC-c.start) > 1e-9:
			t.Errorf("%q starts at %g C, want %g", c.text, s.StartC, c.start)
		case math.IsNaN(c.end) != (s.EndC == nil):
			t.Errorf("%q: end given is %t", c.text, s.EndC != nil)
		case s.EndC != nil && math.Abs(*s.EndC-c.end) > 1e-9:
			t.Errorf("%q ends at %g C, want %g", c.text, *s.EndC, c.end)
		}
	}
	for _, text := range []string{"96>60", "96C>", ">60C", "96C>60L", "205C>60C", "96C>160C", "96C>60C>20C"} {
		_, err := ParseTempSpan(text)
		wantError(t, text, err, "")
	}
}

func TestParseDuration(t *testing.T) {
	for _, c := range []limited{
		{"20min", 20, 0},
		{"20 minutes", 20, 0},
		{"20m", 20, 0},
		{"90 s", 1.5, 0},
		{"1.5 h", 90, 0},
		{"1,5h", 90, 0},
		{"1h30", 90, 0},
		{"1h30m", 90, 0},
		{"1h 30min", 90, 0},
		{"1 hour 30 minutes", 90, 0},
		{"half an hour", 30, 0},
		{"1 1/2 h", 90, 0},
		{"14h", 840, 0},
		{"5d", 7200, 0},
		{"1 day 12 h", 2160, 0},
		{"2w", 20160, 0},
		{"2 weeks", 20160, 0},
		{"a week", 10080, 0},
		{"30min+-5min", 30, 5},
		{"30min+-10%", 30, 3},
	} {
		l, err := ParseDuration(c.text)
		checkLimited(t, c, l, err)
	}
	for _, c := range []struct{ text, hint string }{
		{"20", "20min"},
		{"0min", "above zero"},
		{"-5min", "above zero"},
		{"2 months", "weeks"},
		{"overnight", "14h"},
		{"20 mon", "min"},
		{"20g", "20min"},
		{"1h75", "only"},
		{"1h1/2", "only"},
		{"1:30", "20min"},
		{"30min 1h", "only"},
		{"20min 5C", "only"},
	} {
		_, err := ParseDuration(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

// lincoln inverts the published polynomial P = (463 - 205 s)(s - 1), whose values
// are the column sg_lincoln of testdata/plato.csv.
func lincoln(plato float64) float64 {
	return (668 - math.Sqrt(668*668-4*205*(463+plato))) / 410
}

func TestParseGravity(t *testing.T) {
	for _, c := range []limited{
		{"1.048", 1.048, 0},
		{"1,048", 1.048, 0},
		{"SG 1.048", 1.048, 0},
		{"1.048 SG", 1.048, 0},
		{"og 1.048", 1.048, 0},
		{"0.998", 0.998, 0},
		{"0.97", 0.97, 0},
		{"1.2", 1.2, 0},
		{"1", 1, 0},
		{"1.048+-0.001", 1.048, 0.001},
		{"1,048±0,001", 1.048, 0.001},
	} {
		g, err := ParseGravity(c.text, nil)
		checkLimited(t, c, g.SG, err)
		if g.Plato != nil || (len(g.Warnings) > 0) != (c.value > 1.15) {
			t.Errorf("%q: plato %v, warnings %q", c.text, g.Plato, g.Warnings)
		}
	}
	for _, c := range []struct{ text, hint string }{
		{"1046", "1.046"},
		{"1046.5", "1.0465"},
		{"48", "1.048"},
		{"12", "12P or 1.012"},
		{"1.3", "1.048"},
		{"0.9", "1.048"},
		{"-1", "1.048"},
		{"12P", "1.048"},
		{"12 Brix", "12P"},
		{"1.048+-1%", "1.048"},
		{"10%", "1.048"},
		{"twelve pints", "US pint"},
		{"x", "1.048"},
		{"1.048 1.050", "only"},
	} {
		_, err := ParseGravity(c.text, nil)
		wantError(t, c.text, err, c.hint)
	}
}

// TestParsePlato reads the rows of testdata/plato.csv: the gravity must be that
// of the function passed in, here the published polynomial, to its five decimals.
func TestParsePlato(t *testing.T) {
	const header = "plato,rho20_sps4,rho15_sps4,sg20_20_true,sg20_20_in_air,sg_asbc_poly,sg_nbs_poly,sg_lincoln,published_rho20_UMK,published_rho15_UMK,published_rho20_CRC"
	for _, row := range readTable(t, "plato.csv", header) {
		p := mustFloat(t, row[0])
		for _, text := range []string{row[0] + "P", row[0] + " Plato", row[0] + "°P"} {
			g, err := ParseGravity(text, lincoln)
			if err != nil || math.Abs(g.SG.Value-mustFloat(t, row[7])) > 1e-5 || g.Plato == nil || *g.Plato != p {
				t.Errorf("%q = %+v, %v; want %s", text, g, err, row[7])
			}
		}
	}
	// 0.2 P either way of 12 P: (1.04921 - 1.04756) / 2 by the same polynomial
	g, err := ParseGravity("12P+-0.2P", lincoln)
	if err != nil || math.Abs(g.SG.HalfWidth-0.00083) > 2e-5 {
		t.Errorf("12P+-0.2P = %+v, %v; want a limit of 0.0008", g.SG, err)
	}
	for _, text := range []string{"60P", "-30P", "12P+-100P", "46P"} {
		_, err := ParseGravity(text, lincoln)
		wantError(t, text, err, "")
	}
	_, err = ParseGravity("12P", func(float64) float64 { return math.NaN() })
	wantError(t, "12P", err, "1.048")
}

func TestParsePercent(t *testing.T) {
	for _, c := range []limited{
		{"10%", 10, 0},
		{"10 %", 10, 0},
		{"10 percent", 10, 0},
		{"7,5%", 7.5, 0},
		{"100%", 100, 0},
		{"40% vol", 40, 0},
		{"40 % ABV", 40, 0},
		{"60+-1%", 60, 1},
		{"60%+-1%", 60, 1},
		{"60% ± 1", 60, 1},
	} {
		l, err := ParsePercent(c.text)
		checkLimited(t, c, l, err)
	}
	if l, err := ParsePercent("0%"); err != nil || l.Value != 0 {
		t.Errorf("0%% = %v, %v", l, err)
	}
	for _, c := range []struct{ text, hint string }{
		{"0.1", "10% or 0.1%"},
		{"10", "10%"},
		{"110%", "0% to 100%"},
		{"-1%", "0% to 100%"},
		{"10 g", "10%"},
		{"ten per", "10%"},
		{"10%%", "only"},
		{"60+-200%", "60+-1%"},
	} {
		_, err := ParsePercent(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

func TestParsePH(t *testing.T) {
	for _, c := range []limited{{"4.32", 4.32, 0}, {"4,32", 4.32, 0}, {"pH 4.32", 4.32, 0}, {"ph4.3", 4.3, 0}, {"14", 14, 0}, {"4.3+-0.05", 4.3, 0.05}} {
		l, err := ParsePH(c.text)
		checkLimited(t, c, l, err)
	}
	for _, c := range []struct{ text, hint string }{{"14.1", "4.32"}, {"-1", "4.32"}, {"432", "4.32"}, {"4.3%", "4.32"}, {"4.3+-1%", "4.32"}, {"sour", "4.32"}, {"4.3 4.4", "only"}} {
		_, err := ParsePH(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

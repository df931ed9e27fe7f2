package quantity

import (
	"math"
	"testing"
)

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
		{"1.048+-x", "1.048"},
		{"1.048 1.050", "only"},
	} {
		_, err := ParseGravity(c.text, nil)
		wantError(t, c.text, err, c.hint)
	}
}

// TestParsePlato reads the rows of testdata/plato.csv: the gravity must be that
// of the function passed in, here the published polynomial, to its five decimals.
func TestParsePlato(t *testing.T) {
	const header = "plato,rho20_sps4,rho15_sps4,sg20_20_true,sg20_20_in_air," +
		"sg_asbc_poly,sg_nbs_poly,sg_lincoln,published_rho20_UMK,published_rho15_UMK,published_rho20_CRC"
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

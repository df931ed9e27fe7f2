package dilution

import (
	"math"
	"strings"
	"testing"
)

// TestEthanolWaterTables holds the densities of check_ethanol_water.csv: the
// printed 20 C alcohol table to its rounding, the Bureau of Standards table
// within 0.1 and Perry's within 0.06 as its notes say, and the independently
// computed column to its last digit.
func TestEthanolWaterTables(t *testing.T) {
	tab := readTable(t, "check_ethanol_water.csv", "mass_pct,vol_pct_at_20C,t_C,density_kg_m3,published_kg_m3,note")
	published := 0
	for _, row := range tab.rows {
		p, _ := tab.num(t, row, "mass_pct")
		tempC, _ := tab.num(t, row, "t_C")
		computed, _ := tab.num(t, row, "density_kg_m3")
		got := must(EthanolWaterDensity(p/100, tempC))(t)
		// mass_pct is printed to 1e-5, which is worth 1e-4 kg/m3 at most.
		closeTo(t, "density at "+tab.text(row, "mass_pct")+" % mass", got, computed, 2e-4)
		if want, ok := tab.num(t, row, "published_kg_m3"); ok {
			published++
			closeTo(t, "published density", got, want, publishedTolerance(tab.text(row, "note")))
		}
	}
	if published < 28 {
		t.Errorf("only %d published densities held", published)
	}
}

// publishedTolerance is what the note of a row allows, kg/m3.
func publishedTolerance(note string) float64 {
	switch {
	case strings.HasPrefix(note, "printed 20 C table"):
		return 0.0051
	case strings.HasPrefix(note, "Perry"):
		return 0.06
	}
	return 0.1
}

// TestStrengthTable holds % mass against % vol of the printed alcohol table
// (check_ethanol_water.csv, both columns to their rounding).
func TestStrengthTable(t *testing.T) {
	tab := readTable(t, "check_ethanol_water.csv", "mass_pct,vol_pct_at_20C,t_C,density_kg_m3,published_kg_m3,note")
	for _, row := range tab.rows {
		p, _ := tab.num(t, row, "mass_pct")
		q, _ := tab.num(t, row, "vol_pct_at_20C")
		closeTo(t, "% vol", must(ABVFromMassFraction(p/100))(t), q, 6e-5)
		closeTo(t, "% mass", 100*must(MassFractionFromABV(q))(t), p, 6e-5)
	}
}

// TestAlcoholometricFactor holds the temperature factor 0.996 of 27 CFR 30.25
// for 115 US proof (57.5 % vol at 60 F) at 68 F: the ratio of the densities at
// 68 F and 60 F.
func TestAlcoholometricFactor(t *testing.T) {
	// 57.5 % vol at 60 F is 57.5 % vol at 20 C to within the factor's digits.
	p := must(MassFractionFromABV(57.5))(t)
	factor := must(EthanolWaterDensity(p, 20))(t) / must(EthanolWaterDensity(p, cal60F))(t)
	closeTo(t, "factor", factor, 0.996, 0.0005)
}

// TestWaterTables holds water against Tanaka 2001 (within 0.008 to 40 C, as
// computed independently), IAPWS-95 and Kell, from check_water.csv.
func TestWaterTables(t *testing.T) {
	tab := readTable(t, "check_water.csv", "t_C,tanaka2001_kg_m3,kell_kg_m3,oiml_p0_kg_m3,iapws95_kg_m3")
	for _, row := range tab.rows {
		tempC, _ := tab.num(t, row, "t_C")
		got := must(waterDensity(tempC))(t)
		// Columns are printed to 5e-6.
		want, ok := tab.num(t, row, "oiml_p0_kg_m3")
		if !ok {
			want, _ = tab.num(t, row, "kell_kg_m3")
		}
		closeTo(t, "water at "+tab.text(row, "t_C"), got, want, 6e-6)
		if want, ok := tab.num(t, row, "tanaka2001_kg_m3"); ok {
			closeTo(t, "water, Tanaka", got, want, 0.008)
		}
		if want, ok := tab.num(t, row, "iapws95_kg_m3"); ok {
			closeTo(t, "water, IAPWS-95", got, want, 0.008)
		}
	}
}

// TestWaterJoin holds the step between the two water formulas at 40 C to the
// 1.6 ppm that a separate program gives.
func TestWaterJoin(t *testing.T) {
	step := must(waterDensity(40))(t) - must(waterDensity(40+1e-9))(t)
	closeTo(t, "step at 40 C over density, ppm", 1e6*step/992.2, 1.6, 0.1)
}

// TestSucroseTables holds check_plato.csv: the independently computed columns to
// their rounding, the UMK Torun table within 0.064 (20 C: 0.053) and the CRC
// Handbook within 0.08 kg/m3, the largest differences that a separate
// program found.
func TestSucroseTables(t *testing.T) {
	tab := readTable(t, "check_plato.csv", "plato,rho20_sps4,rho15_sps4,sg20_20_true,sg20_20_in_air,"+
		"sg_asbc_poly,sg_nbs_poly,sg_lincoln,published_rho20_UMK,published_rho15_UMK,published_rho20_CRC")
	for _, row := range tab.rows {
		plato, _ := tab.num(t, row, "plato")
		rho20 := must(SucroseDensity(plato, 20))(t)
		rho15 := must(SucroseDensity(plato, 15))(t)
		columns := []struct {
			name      string
			got       float64
			tolerance float64
		}{
			{"rho20_sps4", rho20, 6e-5},
			{"rho15_sps4", rho15, 6e-5},
			{"sg20_20_true", must(SGFromPlato(plato))(t), 6e-7},
			{"published_rho20_UMK", rho20, 0.0535},
			{"published_rho15_UMK", rho15, 0.0645},
			{"published_rho20_CRC", rho20, 0.08},
		}
		for _, c := range columns {
			if want, ok := tab.num(t, row, c.name); ok {
				closeTo(t, c.name+" at "+tab.text(row, "plato")+" P", c.got, want, c.tolerance)
			}
		}
	}
}

// TestTradePolynomials holds the Plato inverse against the ASBC polynomial
// P = -616.868 + 1111.14 s - 630.272 s^2 + 135.997 s^3, whose argument is the
// apparent gravity in air: within 0.0115 P, the largest difference that a
// separate program found, for 0.5 to 30 P.
func TestTradePolynomials(t *testing.T) {
	for plato := 0.5; plato <= 30; plato += 0.5 {
		sg := must(SGFromPlato(plato))(t)
		// Weighing in air of 1.2 kg/m3 takes the same off wort and water.
		const air = 1.2
		s := (sg*waterDensity20 - air) / (waterDensity20 - air)
		asbc := -616.868 + 1111.14*s - 630.272*s*s + 135.997*s*s*s
		closeTo(t, "ASBC polynomial", asbc, plato, 0.0116)
	}
}

// TestPlatoThereAndBack: the inverse returns the extract to rounding.
func TestPlatoThereAndBack(t *testing.T) {
	for plato := -4.9; plato < 45; plato += 0.37 {
		sg := must(SGFromPlato(plato))(t)
		if sg < 0.97 || sg > 1.20 {
			continue
		}
		closeTo(t, "Plato", must(PlatoFromSG(sg))(t), plato, 1e-11)
	}
}

// TestEthanolConstant: the density of ethanol at 20 C is the sum of A1..A12, and
// is printed as 789.24 in the alcohol tables.
func TestEthanolConstant(t *testing.T) {
	sum := 0.0
	for _, a := range oimlA {
		sum += a
	}
	closeTo(t, "sum of A", sum, ethanolDensity20, 1e-6)
	closeTo(t, "printed density", ethanolDensity20, 789.24, 0.005)
}

// TestDensityRefusals: values outside the formulas' ranges are errors that name
// the value.
func TestDensityRefusals(t *testing.T) {
	cases := []struct {
		name string
		call func() (float64, error)
		says string
	}{
		{"cold water", func() (float64, error) { return waterDensity(-21) }, "temperature -21 is outside -20 to 100"},
		{"steam", func() (float64, error) { return waterDensity(101) }, "temperature 101"},
		{"hot spirit", func() (float64, error) { return EthanolWaterDensity(0.4, 41) },
			"temperature 41 is outside -20 to 40"},
		{"more than ethanol", func() (float64, error) { return EthanolWaterDensity(1.1, 20) },
			"mass fraction of ethanol 1.1"},
		{"not a number", func() (float64, error) { return waterDensity(math.NaN()) }, "(not a number)"},
		{"infinite", func() (float64, error) { return SucroseDensity(math.Inf(1), 20) }, "(infinite)"},
		{"cold sugar", func() (float64, error) { return SucroseDensity(10, -1) }, "temperature -1"},
		{"points", func() (float64, error) { return PlatoFromSG(48) }, "type 48 gravity points as 1.048"},
		{"Plato", func() (float64, error) { return SGFromPlato(61) }, "61"},
		{"proof", func() (float64, error) { return MassFractionFromABV(120) }, "US proof is twice that"},
		{"share", func() (float64, error) { return ABVFromMassFraction(-0.1) }, "-0.1"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v, err := c.call()
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, error %v; want an error with %q", v, err, c.says)
			}
		})
	}
}

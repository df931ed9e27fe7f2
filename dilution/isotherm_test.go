package dilution

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// oimlByTerms is the OIML formula written out term by term with powers, as it
// is printed: no Horner sums, no collapsed temperature.
func oimlByTerms(p, tempC float64) float64 {
	rho := oimlA[0]
	for k := 2; k <= 12; k++ {
		rho += oimlA[k-1] * math.Pow(p, float64(k-1))
	}
	for k := 1; k <= 6; k++ {
		rho += oimlB[k-1] * math.Pow(tempC-20, float64(k))
	}
	for i, terms := range []int{11, 10, 9, 4, 2} {
		for k := 1; k <= terms; k++ {
			rho += oimlC[i][k-1] * math.Pow(p, float64(k)) * math.Pow(tempC-20, float64(i+1))
		}
	}
	return rho
}

// sps4ByTerms is the sucrose formula written out term by term.
func sps4ByTerms(w, tempC float64) float64 {
	rho := water(tempC)
	for i, terms := range []int{6, 5, 4, 3, 2} {
		for k := 1; k <= terms; k++ {
			rho += sps4[i][k-1] * math.Pow(w, float64(k)) * math.Pow((tempC-20)/100, float64(i))
		}
	}
	return rho
}

// TestCollapsedSums: the isotherm gives what the printed sums give, to the
// rounding of numbers of this size, over the whole range.
func TestCollapsedSums(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := rapid.Float64Range(0, 1).Draw(rt, "mass fraction")
		tempC := rapid.Float64Range(-20, 40).Draw(rt, "temperature")
		iso := isothermAt(tempC)
		// The terms reach 1e6 and cancel, so 1e-8 is their rounding.
		if d := iso.ethanolWater(p) - oimlByTerms(p, tempC); math.Abs(d) > 1e-8 {
			rt.Errorf("ethanol off by %g kg/m3", d)
		}
		hot := rapid.Float64Range(0, 100).Draw(rt, "hot")
		iso = isothermAt(hot)
		if d := iso.sucrose(p) - sps4ByTerms(p, hot); math.Abs(d) > 1e-10 {
			rt.Errorf("sucrose off by %g kg/m3", d)
		}
	})
}

// TestUnusedTerms: the formula stops at 11, 10, 9, 4 and 2 powers; what stands
// beyond in the table is zero.
func TestUnusedTerms(t *testing.T) {
	for i, terms := range []int{11, 10, 9, 4, 2} {
		for k := range oimlC[i] {
			if used := k < terms; used == (oimlC[i][k] == 0) {
				t.Errorf("C[%d][%d] = %g", i, k, oimlC[i][k])
			}
		}
	}
}

// TestSlopes: the derivatives agree with central differences.
func TestSlopes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := rapid.Float64Range(0.5, 10).Draw(rt, "water")
		e := rapid.Float64Range(0, 3).Draw(rt, "ethanol")
		x := rapid.Float64Range(0, 3).Draw(rt, "extract")
		iso := isothermAt(rapid.Float64Range(0, 40).Draw(rt, "temperature"))
		v, dvde, dvdx := iso.volumeSlopesM3(w, e, x)
		if want := iso.volumeM3(w, e, x); math.Abs(v-want) > 1e-15 {
			rt.Errorf("volume %g, want %g", v, want)
		}
		const h = 1e-5
		de := (iso.volumeM3(w, e+h, x) - iso.volumeM3(w, e-h, x)) / (2 * h)
		dx := (iso.volumeM3(w, e, x+h) - iso.volumeM3(w, e, x-h)) / (2 * h)
		// A step of 1e-5 kg leaves 1e-8 of the slope, 1e-3 m3/kg, and rounding.
		if math.Abs(dvde-de) > 1e-10 || math.Abs(dvdx-dx) > 1e-10 {
			rt.Errorf("slopes %g %g, differences %g %g", dvde, dvdx, de, dx)
		}
	})
}

// TestTabarie: for E and X up to 10 % mass the explicit volume and Tabarie's
// relation rho = rhoEW(E/V) + rhoS(X/V) - rhoW differ by at most 0.00013 of SG
// (computed independently).
func TestTabarie(t *testing.T) {
	worst := 0.0
	for e := 0.01; e <= 0.1001; e += 0.01 {
		for x := 0.01; x <= 0.1001; x += 0.01 {
			s := State{WaterKg: 1 - e - x, EthanolKg: e, ExtractKg: x}
			worst = max(worst, math.Abs(s.SG()-tabarieSG(s)))
		}
	}
	if worst > 0.000135 || worst < 0.0001 {
		t.Errorf("largest difference %g, want 0.00013", worst)
	}
}

// tabarieSG returns the SG by Tabarie: the volume at which the densities of the
// two binaries of the same concentration per volume, less water, give the mass.
func tabarieSG(s State) float64 {
	v := s.VolumeL() / 1000
	for range 100 {
		// The binaries are looked up by mass per volume.
		p := fractionOfConcentration(s.EthanolKg/v, iso20.ethanolWater)
		w := fractionOfConcentration(s.ExtractKg/v, iso20.sucrose)
		rho := iso20.ethanolWater(p) + iso20.sucrose(w) - waterDensity20
		v = s.MassKg() / rho
	}
	return s.MassKg() / v / waterDensity20
}

// fractionOfConcentration returns the mass fraction p of a binary of density
// rho(p) that holds c kg/m3 of the solute.
func fractionOfConcentration(c float64, rho func(float64) float64) float64 {
	p := c / 1000
	for range 100 {
		p = c / rho(p)
	}
	return p
}

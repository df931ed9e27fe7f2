package dilution

// isotherm holds both density formulas at one temperature, collapsed to
// polynomials in the mass fraction, so that a volume costs two short Horner
// sums.
type isotherm struct {
	ew [12]float64 // ethanol-water, of p^0..p^11, kg/m3
	su [7]float64  // sucrose-water, of w^0..w^6, kg/m3
}

// iso20 is the isotherm of the reference temperature: there every term with
// (t-20) is zero. It is never written to.
var iso20 = isotherm{
	ew: oimlA,
	su: [7]float64{waterDensity20, sps4[0][0], sps4[0][1], sps4[0][2], sps4[0][3], sps4[0][4], sps4[0][5]},
}

// isothermAt returns the isotherm at tempC: the inner sums of both formulas over
// powers of the temperature, one for each power of the mass fraction. Above 40 C
// only the sucrose side is meaningful; callers refuse ethanol there.
func isothermAt(tempC float64) isotherm {
	// nearly every volume and gravity is at 20 C, in every draw
	if tempC == 20 {
		return iso20
	}
	var iso isotherm
	tau, x := tempC-20, (tempC-20)/100
	rhoW := water(tempC)
	iso.ew[0], iso.su[0] = rhoW, rhoW
	for k := range oimlC[0] {
		c := oimlC[4][k]
		for i := 3; i >= 0; i-- {
			c = c*tau + oimlC[i][k]
		}
		iso.ew[k+1] = oimlA[k+1] + c*tau
	}
	for k := range sps4[0] {
		s := sps4[4][k]
		for i := 3; i >= 0; i-- {
			s = s*x + sps4[i][k]
		}
		iso.su[k+1] = s
	}
	return iso
}

// ethanolWater returns the density of an ethanol-water mixture, kg/m3.
func (iso *isotherm) ethanolWater(p float64) float64 {
	rho := 0.0
	for k := len(iso.ew) - 1; k >= 0; k-- {
		rho = rho*p + iso.ew[k]
	}
	return rho
}

// sucrose returns the density of a sucrose solution, kg/m3.
func (iso *isotherm) sucrose(w float64) float64 {
	rho := 0.0
	for k := len(iso.su) - 1; k >= 0; k-- {
		rho = rho*w + iso.su[k]
	}
	return rho
}

// ethanolWaterSlope returns density and its derivative by p.
func (iso *isotherm) ethanolWaterSlope(p float64) (rho, slope float64) {
	for k := len(iso.ew) - 1; k >= 0; k-- {
		slope = slope*p + rho
		rho = rho*p + iso.ew[k]
	}
	return rho, slope
}

// sucroseSlope returns density and its derivative by w.
func (iso *isotherm) sucroseSlope(w float64) (rho, slope float64) {
	for k := len(iso.su) - 1; k >= 0; k-- {
		slope = slope*w + rho
		rho = rho*w + iso.su[k]
	}
	return rho, slope
}

// volumeM3 returns the volume in m3 of w kg water, e kg ethanol and x kg
// extract:
//
//	V = (e+w)/rhoEW + (x+w)/rhoS - w/rhoW
//
// It needs w+e and w+x above zero, or nothing of the pair at all.
func (iso *isotherm) volumeM3(w, e, x float64) float64 {
	v := -w / iso.ew[0]
	// a pair of nothing has no share to take a density of
	if w+e > 0 {
		v += (e + w) / iso.ethanolWater(e/(e+w))
	}
	if w+x > 0 {
		v += (x + w) / iso.sucrose(x/(x+w))
	}
	return v
}

// volumeSlopesM3 returns the volume with its partial derivatives by e and x
// (m3 per kg),
//
//	dV/de = (1 - rho'(1-p)/rho)/rho,  p = e/(e+w)
//
// and alike for x. It needs w above zero.
func (iso *isotherm) volumeSlopesM3(w, e, x float64) (v, dvde, dvdx float64) {
	p, q := e/(e+w), x/(x+w)
	re, se := iso.ethanolWaterSlope(p)
	rs, ss := iso.sucroseSlope(q)
	v = (e+w)/re + (x+w)/rs - w/iso.ew[0]
	dvde = (1 - se*(1-p)/re) / re
	dvdx = (1 - ss*(1-q)/rs) / rs
	return v, dvde, dvdx
}

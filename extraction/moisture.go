package extraction

// RefMoisture is the moisture of "as dried", mass fraction: growers dry herbs to
// about 10 % [20].
const RefMoisture = 0.10

// freshMoisture parts fresh from dried goods. Limits for traded spice are 8 to 14 %, dried fruit and
// cured pods reach 25 %; the border is a judgement.
const freshMoisture = 0.30

// wetMass is a mass with its moisture (mass fraction of water).
type wetMass struct{ MassG, Moisture float64 }

// dryG returns m (1-M), the dry matter in g.
func (w wetMass) dryG() float64 { return w.MassG * (1 - w.Moisture) }

// ownWaterML returns the plant's own water in mL at 20 C.
func (w wetMass) ownWaterML() float64 { return w.MassG * w.Moisture / waterGPerML }

// waterDensity returns the density of air-free water in kg/m3 at tempC, 0 to
// 150 C, by Kell's equation [17] (within 0.01 of the later formulas to 90 C). The
// equation is on the scale of 1968; a degree of today is 1.00024 of it.
func waterDensity(tempC float64) float64 {
	t := 1.00024 * tempC
	above := 999.83952 + t*(16.945176+t*(-7.9870401e-3+t*(-46.170461e-6+t*(105.56302e-9-280.54253e-12*t))))
	return above / (1 + 16.879850e-3*t)
}

// at20C returns the volume that volumeML of watery liquid at tempC takes at
// 20 C. Below 0 C it is taken as at 0 C.
func at20C(volumeML, tempC float64) float64 {
	return volumeML * waterDensity(max(tempC, 0)) / waterDensity(20)
}

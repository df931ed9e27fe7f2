package dilution

// Tea is a volume of water with solubles in it, an infusion. No solids makes it
// plain water.
//
// The density of the solubles is taken as that of sugar. It is not known for
// most plants, and hardly matters: 5 g/L give SG 1.0019, with apparent specific
// volumes from 0.70 to 0.55 L/kg anything from 1.0015 to 1.0023, which in a
// twentieth of a beer is less than 0.00002.
type Tea struct {
	VolumeL     float64 // as measured at TempC
	TempC       float64 // temperature at which the volume was measured, 0..100 C
	SolidsGPerL float64 // solubles per litre as measured, 0..400 g/L; 0 for water
	// Fermentability is the share of them that ferments, 0..1: none of herbs and
	// spices (common practice, no source), the sugar of fruit
	Fermentability float64
}

// Portion returns the component masses: X = solids times volume, W so that the
// volume fits at the temperature. Still water and tea bring no CO2. An *inputError is
// returned outside the ranges of the fields.
func (t Tea) Portion() (State, error) {
	if err := t.check(); err != nil {
		return State{}, err
	}
	return t.portion(), nil
}

// check validates the fields.
func (t Tea) check() error {
	return firstError(
		positive("volume in litres", t.VolumeL),
		within("temperature of the liquid", t.TempC, 0, 100, "give degrees Celsius"),
		within("solids in g/L", t.SolidsGPerL, 0, 400, "plain water has 0, a strong tea 5 to 20"),
		within("fermentable share of the solids", t.Fermentability, 0, 1, "give a share between 0 and 1"),
	)
}

// portion is Portion without the check.
func (t Tea) portion() State {
	iso := isothermAt(t.TempC)
	x := t.SolidsGPerL * t.VolumeL / 1000
	w := iso.waterForVolume(t.VolumeL/1000, x)
	return State{WaterKg: w, ExtractKg: x, UnfermentableKg: x * (1 - t.Fermentability)}
}

// waterForVolume returns the water w in kg that fills volumeM3 together with x kg
// of extract, the root of
//
//	(x+w)/rhoS(x/(x+w), t) = volume
//
// by Newton steps; the volume rises nearly straight with w.
func (iso *isotherm) waterForVolume(volumeM3, x float64) float64 {
	// the steps below stop at a share of x, and would never stop at nothing
	if x == 0 {
		return volumeM3 * iso.su[0]
	}
	// a kilogram of sugar takes the room of 0.6 kg of water; never none left, however strong
	w := max(volumeM3*iso.su[0]-0.6*x, 0.01*x)
	for range 30 {
		q := x / (x + w)
		rho, slope := iso.sucroseSlope(q)
		step := (volumeM3 - (x+w)/rho) * rho / (1 + slope*q/rho)
		w = max(w+step, 0)
		if step < newtonStep*x && step > -newtonStep*x {
			break
		}
	}
	return w
}

// juice is a volume of juice, wort or must known by its extract.
type juice struct {
	VolumeL        float64 // as measured at TempC
	TempC          float64 // temperature at which the volume was measured, 0..100 C
	Plato          float64 // extract, per cent by mass, 0..80
	Fermentability float64 // share of the extract that can ferment, 0..1
}

// check validates the fields.
func (j juice) check() error {
	return firstError(
		positive("volume in litres", j.VolumeL),
		within("temperature of the liquid", j.TempC, 0, 100, "give degrees Celsius"),
		within("extract in degrees Plato", j.Plato, 0, 80, "give per cent by mass"),
		checkShare("fermentable share", j.Fermentability),
	)
}

// portion is Portion without the check.
func (j juice) portion() State {
	iso := isothermAt(j.TempC)
	w := j.Plato / 100
	mass := j.VolumeL / 1000 * iso.sucrose(w)
	return State{
		WaterKg:         mass * (1 - w),
		ExtractKg:       mass * w,
		UnfermentableKg: mass * w * (1 - j.Fermentability),
	}
}

// crushedFruit is a weighed material of water, sugar and other solubles: whole fruit,
// puree, honey, syrup or a dry sugar. The rest of its mass is insoluble.
//
// Tables give water, carbohydrate, fibre, sugars and ash; other solubles are
// then about carbohydrate - fibre - sugars + ash. That has no meaning for starchy
// materials such as ginger or pumpkin [7].
type crushedFruit struct {
	MassKg         float64 // weighed mass
	Water          float64 // water, kg/kg
	Sugar          float64 // sugar, kg/kg
	Nonfermentable float64 // solubles that do not ferment, kg/kg
	Extraction     float64 // share of juice and solubles that reaches the beer, 0..1; usually 1
	Fermentability float64 // share of the sugar that ferments, 0..1; usually 1
}

// check validates the fields.
func (f crushedFruit) check() error {
	err := firstError(
		positive("mass in kg", f.MassKg),
		checkShare("water share", f.Water),
		checkShare("sugar share", f.Sugar),
		checkShare("share of other solubles", f.Nonfermentable),
		checkShare("extracted share", f.Extraction),
		checkShare("fermentable share of the sugar", f.Fermentability),
	)
	if err != nil {
		return err
	}
	// Table values are rounded to 0.01 %, so the sum may pass one by a hair.
	if solids := 1 - f.Water; f.Sugar+f.Nonfermentable > solids+5e-4 {
		return &inputError{
			What:    "sugar and other solubles together",
			Value:   f.Sugar + f.Nonfermentable,
			Allowed: "are more than the solids " + number(solids) + " that the water share leaves",
			Hint:    "give kg per kg of the material as weighed, water included",
		}
	}
	return nil
}

// portion is Portion without the check.
func (f crushedFruit) portion() State {
	m := f.MassKg * f.Extraction
	return State{
		WaterKg:         m * f.Water,
		ExtractKg:       m * (f.Sugar + f.Nonfermentable),
		UnfermentableKg: m * (f.Nonfermentable + f.Sugar*(1-f.Fermentability)),
	}
}

// Spirit is a volume of spirit or tincture.
type Spirit struct {
	VolumeL     float64 // solvent volume as measured at TempC
	TempC       float64 // temperature at which the volume was measured, 0..40 C
	ABVPct      float64 // strength, % vol at 20 C, 0..100
	SolidsGPerL float64 // solubles per litre of solvent, on top of its volume, 0..400
}

// Portion returns the component masses: p from the strength by OIML [1], then m =
// V rhoEW(p, t), E = p m, W = (1-p) m, X = solids times V. Solubles are taken not
// to ferment (common practice, no source). All of E counts as spirit: no wort was
// fermented for it, so an original gravity is only an equivalent afterwards. An
// *inputError is returned outside the ranges of the fields.
func (sp Spirit) Portion() (State, error) {
	if err := sp.check(); err != nil {
		return State{}, err
	}
	return sp.portion(), nil
}

// check validates the fields.
func (sp Spirit) check() error {
	return firstError(
		positive("volume in litres", sp.VolumeL),
		within("temperature of the spirit", sp.TempC, 0, maxEthanolTempC, "let it come to 40 C or less before measuring"),
		checkSpirit(sp.ABVPct),
		within("solids in g/L", sp.SolidsGPerL, 0, 400, "most tinctures have 5 to 20"),
	)
}

// portion is Portion without the check.
func (sp Spirit) portion() State {
	// a strength is defined at 20 C whatever the temperature at which the volume was read
	iso := isothermAt(sp.TempC)
	p := massFraction(sp.ABVPct / 100)
	mass := sp.VolumeL / 1000 * iso.ethanolWater(p)
	// solids are taken to need no room: the usual 5 to 20 g/L take 1 % of it, less than a jug is read
	// to
	x := sp.SolidsGPerL * sp.VolumeL / 1000
	return State{
		WaterKg:         mass * (1 - p),
		EthanolKg:       mass * p,
		SpiritKg:        mass * p,
		ExtractKg:       x,
		UnfermentableKg: x,
	}
}

// checkShare returns an *inputError unless v is a share, 0..1.
func checkShare(what string, v float64) error {
	return within(what, v, 0, 1, "give kg per kg: 5 % is 0.05")
}

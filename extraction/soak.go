package extraction

// Soak is a plant in a liquid, a tea as much as a whole batch: it brings its
// water, gives solids, and keeps liquid of the mixture when it is taken out.
type Soak struct {
	// LiquidL is the liquid before the plant goes in, L at 20 C.
	LiquidL float64
	// MassG is the plant as weighed, g.
	MassG float64
	// Moisture is its mass fraction of water.
	Moisture float64
	// SolidsPerDry is s X, g dissolved per g of dry matter: the soluble share times
	// the share of it that has come out.
	SolidsPerDry float64
	// HeldMLPerG is r, all liquid in the spent plant per g of its original dry
	// matter, mL.
	HeldMLPerG float64
	// OwnWaterFloor is psi, the share of its own water that a plant keeps however
	// little it holds by r; see Kind.
	OwnWaterFloor float64
	// EvaporatedL is what boiled off while it was in, L.
	EvaporatedL float64
}

// SoakBalance is what a Soak comes to. All volumes are at 20 C and taken to
// add.
type SoakBalance struct {
	// WaterG is the plant's own water, g.
	WaterG float64
	// DissolvedG are the solids that it gave, g.
	DissolvedG float64
	// InsolubleG is what never dissolves, g.
	InsolubleG float64
	// MixL is the liquid while the plant is in, L.
	MixL float64
	// HeldL is the liquid that the spent plant keeps, L.
	HeldL float64
	// AfterL is the liquid once it is out, L: 0 where nothing runs off.
	AfterL float64
}

// apparentMLPerG is v_s, the apparent volume of dissolved plant solids, mL/g:
// 0.55 to 0.66 for sugars and acids.
const apparentMLPerG = 0.60

// Balance works the soak out:
//
//	W = m M,  D = s X m (1 - M),  I = m (1 - M) - D
//	V_mix = V0 + (W/0.99820123 + v_s D)/1000 - evaporated
//	H = max(r m (1 - M), psi W/0.99820123)/1000,  V_after = V_mix - H
//
// with v_s = 0.60 mL/g. Taking the plant out changes no concentration, only the
// volume. It holds for teas and tinctures with psi = 0 and V0 as the liquid poured
// on. Valid for 0..1 of each share and r of 0 to 30 mL/g.
//
// Errors: a mass, volume or share outside its range; more evaporated than there
// was.
func (c Soak) Balance() (SoakBalance, error) {
	if err := c.check(); err != nil {
		return SoakBalance{}, err
	}
	dryG := c.MassG * (1 - c.Moisture)
	b := SoakBalance{WaterG: c.MassG * c.Moisture, DissolvedG: c.SolidsPerDry * dryG}
	b.InsolubleG = dryG - b.DissolvedG
	waterML := b.WaterG / waterGPerML
	b.MixL = c.LiquidL + (waterML+apparentMLPerG*b.DissolvedG)/1000 - c.EvaporatedL
	b.HeldL = max(c.HeldMLPerG*dryG, c.OwnWaterFloor*waterML) / 1000
	b.AfterL = max(b.MixL-b.HeldL, 0)
	return b, nil
}

// check validates the fields.
func (c Soak) check() error {
	err := firstError(checkNotNegative("liquid", c.LiquidL, "L"), checkNotNegative("mass", c.MassG, "g"),
		checkShare("moisture", c.Moisture), checkShare("dissolved share of the dry matter", c.SolidsPerDry),
		checkShare("share of its own water that it keeps", c.OwnWaterFloor),
		checkNotNegative("evaporated", c.EvaporatedL, "L"), checkHeld(c.HeldMLPerG))
	if err == nil && c.EvaporatedL > 0 && c.EvaporatedL >= c.LiquidL {
		return Refuse("give what was left, or the volume before the boil",
			"%s L evaporated is not below the %s L there were", number(c.EvaporatedL), number(c.LiquidL))
	}
	return err
}

// mostHeldMLPerG is the most that any spent plant holds, mL per g of dry matter.
const mostHeldMLPerG = 30.0

// checkHeld refuses a held liquid that no plant has.
func checkHeld(mlPerG float64) error {
	if mlPerG >= 0 && mlPerG <= mostHeldMLPerG {
		return nil
	}
	return Refuse("give mL of liquid per g of dry matter, such as 4", "held liquid %s mL/g is outside 0 to 30",
		number(mlPerG))
}

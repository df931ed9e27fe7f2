package extraction

// DoseTerms are the factors of one effective dose, as the definition has them.
type DoseTerms struct {
	// Mass is what was weighed in, with its moisture.
	Mass WetMass
	// RefMoisture is M_ref, the moisture of "as dried".
	RefMoisture float64
	// Ceiling is u, the share that the solvent can ever carry.
	Ceiling float64
	// Yield is Y, the share in the liquid that is kept.
	Yield float64
	// Survival is S, what heat has left.
	Survival float64
	// Added is f, the share of the extract poured in.
	Added float64
	// MixL is V_mix, right after mixing and with the added liquid.
	MixL float64
	// AfterL is the volume after later dilution or boil-off; MixL if none.
	AfterL float64
}

// PerL returns ED = m_eq u Y S f / V_mix * V_mix/V_after, g per litre. It errs
// for shares outside 0 to 1, volumes that are not above zero, and as
// WetMass.AsDried does.
func (d DoseTerms) PerL() (float64, error) {
	equivalentG, err := d.Mass.AsDried(d.RefMoisture)
	err = firstError(err, checkShare("class ceiling", d.Ceiling), checkShare("yield", d.Yield), checkShare("survival", d.Survival),
		checkShare("share added", d.Added), checkPositive("volume after mixing", d.MixL, "L"),
		checkPositive("volume after dilution", d.AfterL, "L"))
	if err != nil {
		return 0, err
	}
	return equivalentG * d.Ceiling * d.Yield * d.Survival * d.Added / d.MixL * (d.MixL / d.AfterL), nil
}

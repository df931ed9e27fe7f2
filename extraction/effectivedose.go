package extraction

// DoseTerms are the factors of one effective dose, as the definition has them.
type DoseTerms struct {
	Mass        WetMass
	RefMoisture float64 // M_ref
	Ceiling     float64 // u
	Yield       float64 // Y
	Survival    float64 // S
	Added       float64 // f, share of the extract poured in
	MixL        float64 // V_mix, right after mixing and with the added liquid
	AfterL      float64 // volume after later dilution or boil-off; MixL if none
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

package extraction

// Mix says where an extract, or the material itself, goes.
type Mix struct {
	IntoL float64 // beer before
	// AddedML is how much of the extract is poured in; nil = all of it.
	AddedML *float64
	// TopUpML is water added to the extract first.
	TopUpML float64
	// Later are dilutions and boil-offs after mixing. Losses that take solute
	// and beer alike do not belong here.
	Later []VolumeChange
}

// VolumeChange is a later change of volume that leaves the solutes behind.
type VolumeChange struct{ BeforeL, AfterL float64 }

// Dose is what a mix comes to.
type Dose struct {
	EffectiveGPerL ByClass  // ED by class
	WeighedGPerL   float64  // material as weighed per litre of beer after mixing
	AddedL         float64  // liquid added
	MixL           float64  // V_mix
	Share          float64  // f
	SolidsG        Estimate // that came along
}

// Dose returns the effective dose of a mix at the default figures:
// m_eq u Y S f / V_mix * prod(V_before/V_after) with V_mix = IntoL + added. It
// errs for volumes that are not above zero and for more extract than there is.
func (r *Result) Dose(m Mix) (Dose, error) { return r.Extract().Dose(m) }

// Dose returns what the extract comes to in a mix; see Result.Dose.
func (e Extract) Dose(m Mix) (Dose, error) {
	if err := m.check(); err != nil {
		return Dose{}, err
	}
	topped, err := e.TopUp(m.TopUpML)
	if err != nil {
		return Dose{}, err
	}
	part := topped
	if m.AddedML != nil {
		if part, _, err = topped.Take(*m.AddedML); err != nil {
			return Dose{}, err
		}
	}
	d := Dose{AddedL: part.VolumeML / 1000, MixL: m.IntoL + part.VolumeML/1000, SolidsG: part.SolidsG, Share: 1}
	if e.WeighedG > 0 {
		d.Share = part.WeighedG / e.WeighedG
	}
	perL := m.concentration() / d.MixL
	for c := range d.EffectiveGPerL {
		d.EffectiveGPerL[c] = part.CarriedG[c] * perL
	}
	d.WeighedGPerL = part.WeighedG * perL
	return d, nil
}

// check refuses volumes that are not above zero.
func (m Mix) check() error {
	if err := checkPositive("beer volume", m.IntoL, "L"); err != nil {
		return err
	}
	for _, v := range m.Later {
		if err := firstError(checkPositive("volume before", v.BeforeL, "L"), checkPositive("volume after", v.AfterL, "L")); err != nil {
			return err
		}
	}
	return nil
}

// concentration returns the product of V_before/V_after.
func (m Mix) concentration() float64 {
	product := 1.0
	for _, v := range m.Later {
		product *= v.BeforeL / v.AfterL
	}
	return product
}

package extraction

import "hedgerow/trials/figure"

// Mix says where an extract, or the material itself, goes.
type Mix struct {
	// IntoL is the beer before, L.
	IntoL float64
	// AddedML is how much of the extract is poured in; nil = all of it.
	AddedML *float64
	// TopUpML is water added to the extract first.
	TopUpML float64
	// Later are dilutions and boil-offs after mixing, in order. Losses that take
	// solute and beer alike (samples, trub, transfer) do not belong here: they
	// change no g/L.
	Later []VolumeChange
}

// VolumeChange is a later change of volume that leaves the solutes behind.
type VolumeChange struct{ BeforeL, AfterL float64 }

// Dose is what a mix comes to.
type Dose struct {
	// EffectiveGPerL is ED by class, g of fully extracted, as-dried material per
	// litre of beer.
	EffectiveGPerL byClass
	// WeighedGPerL is the material as weighed per litre of beer after mixing.
	WeighedGPerL float64
	// AddedL is the liquid added, L.
	AddedL float64
	// MixL is V_mix, beer and added liquid right after mixing.
	MixL float64
	// Share is f, the part of the extract that was poured in.
	Share float64
	// SolidsG are the dissolved solids that came along.
	SolidsG figure.Estimate
}

// Dose returns the effective dose of a mix at the default figures:
// m_eq u Y S f / V_mix * prod(V_before/V_after) with V_mix = IntoL + added. It
// errs for volumes that are not above zero and for more extract than there is.
func (r *Result) Dose(m Mix) (Dose, error) { return r.Extract().dose(m) }

// dose returns what the extract comes to in a mix; see Result.Dose.
func (e Extract) dose(m Mix) (Dose, error) {
	if err := m.check(); err != nil {
		return Dose{}, err
	}
	topped, err := e.topUp(m.TopUpML)
	if err != nil {
		return Dose{}, err
	}
	part := topped
	if m.AddedML != nil {
		if part, _, err = topped.take(*m.AddedML); err != nil {
			return Dose{}, err
		}
	}
	d := Dose{AddedL: part.VolumeML / 1000, MixL: m.IntoL + part.VolumeML/1000, SolidsG: part.SolidsG, Share: 1}
	if e.WeighedG > 0 {
		d.Share = part.WeighedG / e.WeighedG
	}
	// water boiled off or added later moves all that is dissolved alike
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
		if err := firstError(checkPositive("volume before", v.BeforeL, "L"),
			checkPositive("volume after", v.AfterL, "L")); err != nil {
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

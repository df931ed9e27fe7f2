package catalogue

import (
	"cmp"
	"slices"
)

// With returns a catalogue that also has the user's own materials; c itself
// stays as it was. An own material with the key of a built-in one takes its
// place: the own figures count, what was left empty is taken from the built-in
// one, and the built-in cautions stay. An own material under a new key that
// bears the common or botanical name of a built-in one gets the cautions of
// that one too. Of two own materials with one key the later one counts; with
// none, c itself is returned.
func (c *Catalogue) With(own []Material) *Catalogue {
	if len(own) == 0 {
		return c
	}
	byKey := map[string]Material{}
	for _, m := range c.materials {
		byKey[m.Key] = m
	}
	for _, m := range own {
		m.Own = true
		if m.Class == "" {
			m.Class = classOfSolute(m.DominantSolute)
		}
		m.CautionCodes = c.ownCodes(m)
		// the built-in one, not an own one before it: of two own ones the later counts alone
		if old, ok := c.Get(m.Key); ok {
			m = shadow(m, old)
		}
		byKey[m.Key] = m
	}
	with := *c
	with.materials = make([]Material, 0, len(byKey))
	for _, m := range byKey {
		with.materials = append(with.materials, m)
	}
	slices.SortFunc(with.materials, func(a, b Material) int { return cmp.Compare(a.Key, b.Key) })
	return &with
}

// ownCodes returns the caution codes of an own material: those given, and
// those of every built-in material that has its key or one of its names.
func (c *Catalogue) ownCodes(m Material) []string {
	codes := slices.Clone(m.CautionCodes)
	names := append([]string{fold(m.Key)}, foldedNames(m)...)
	for _, old := range c.materials {
		if old.Key != m.Key && !slices.ContainsFunc(foldedNames(old),
			func(n string) bool { return slices.Contains(names, n) }) {
			continue
		}
		for _, code := range old.CautionCodes {
			if !slices.Contains(codes, code) {
				codes = append(codes, code)
			}
		}
	}
	return codes
}

// shadow fills what an own material leaves empty from the built-in material of
// the same key.
func shadow(own, old Material) Material {
	// of another part of the plant nothing is known
	own.HardWhole = own.HardWhole || (old.HardWhole && own.PartUsed == "")
	// both ends or none: a range from two sources is nobody's advice
	if own.DoseLowGPerL == nil && own.DoseHighGPerL == nil {
		own.DoseLowGPerL, own.DoseLowSource = old.DoseLowGPerL, old.DoseLowSource
		own.DoseHighGPerL, own.DoseHighSource = old.DoseHighGPerL, old.DoseHighSource
		own.DoseBasis, own.DoseEvidence = old.DoseBasis, old.DoseEvidence
	}
	if own.SugarPct == nil {
		own.SugarPct, own.SugarState, own.SugarSource = old.SugarPct, old.SugarState, old.SugarSource
	}
	if own.HeatNotes == "" {
		own.HeatNotes, own.HeatSource = old.HeatNotes, old.HeatSource
	}
	if own.Class == "" {
		own.Class, own.DominantSolute = old.Class, old.DominantSolute
	}
	// always: own figures do not make a plant harmless
	own.DoseWithheld = old.DoseWithheld
	own.DefaultBasis, own.BasisAsk = cmp.Or(own.DefaultBasis, old.DefaultBasis), old.BasisAsk
	own.Kind = cmp.Or(own.Kind, old.Kind)
	if own.Allergens == nil {
		own.Allergens = old.Allergens
	}
	if len(own.TypicalForms) == 0 {
		own.TypicalForms = old.TypicalForms
	}
	orFigure(&own.MoistureFresh, &own.MoistureFreshSource, old.MoistureFresh, old.MoistureFreshSource)
	orFigure(&own.MoistureDried, &own.MoistureDriedSource, old.MoistureDried, old.MoistureDriedSource)
	orFigure(&own.DryYieldKgPer100Kg, &own.DryYieldSource, old.DryYieldKgPer100Kg, old.DryYieldSource)
	orFigure(&own.LiquidAbsorbedMLPerG, &own.LiquidAbsorbedSource, old.LiquidAbsorbedMLPerG, old.LiquidAbsorbedSource)
	own.CommonName = cmp.Or(own.CommonName, old.CommonName)
	own.BotanicalName = cmp.Or(own.BotanicalName, old.BotanicalName)
	own.PartUsed = cmp.Or(own.PartUsed, old.PartUsed)
	own.Category = cmp.Or(own.Category, old.Category)
	own.Notes = cmp.Or(own.Notes, old.Notes)
	return own
}

// orFigure takes the old figure with its source where the own one is missing.
func orFigure(own **float64, ownSource *string, old *float64, oldSource string) {
	if *own == nil {
		*own, *ownSource = old, oldSource
	}
}

package quantity

import (
	"slices"
	"strings"

	"hedgerow/trials/figure"
	"hedgerow/trials/spelling"
)

// replaceHyphens returns a word with spaces in place of its hyphens.
func replaceHyphens(word string) string { return strings.ReplaceAll(word, "-", " ") }

// check refuses an addition with a part missing or too many.
func (a *additionReader) check() error {
	if a.add.Kind == "" {
		return a.fail("say what it is, such as 600mL water or 500g sugar", "it does not say what is added")
	}
	if err := a.checkName(); err != nil {
		return err
	}
	rule := ruleOf(a.add.Kind)
	if err := a.checkAmount(rule); err != nil {
		return err
	}
	return a.checkParts(rule)
}

// checkName refuses a material that is more likely a kind typed wrongly: any word
// with a volume, and a near miss of a kind.
func (a *additionReader) checkName() error {
	if a.add.Kind != KindMaterial {
		return nil
	}
	if a.add.VolumeL != nil && a.add.MassG == nil {
		return a.fail(didYouMean(a.add.Material, kindWords(), "weigh it, such as 2.5kg "+a.add.Material+", or write 1L juice 12P"),
			"%q is not a known liquid", a.add.Material)
	}
	for _, near := range spelling.Misspelt(a.add.Material, kindWords()) {
		// Short words have honest neighbours: beet is not a slip for beer.
		if spelling.Distance(a.add.Material, near) == 1 && len(near) > 4 {
			return a.fail("did you mean "+near+"?", "unknown word %q", a.add.Material)
		}
	}
	return nil
}

// checkAmount refuses an addition without amount, with two, or with the wrong
// one.
func (a *additionReader) checkAmount(rule kindRule) error {
	byVolume, byMass := a.add.VolumeL != nil, a.add.MassG != nil
	kind := rule.words[0]
	switch {
	case byVolume && byMass:
		return a.fail("write the volume or the mass", "there are two amounts in it")
	case !byVolume && !byMass:
		return a.fail("write how much, such as "+rule.hint, "it does not say how much")
	case byVolume && rule.amount == "mass":
		return a.fail("weigh it, such as "+rule.hint, "%s is measured by weight here: its volume says too little", kind)
	case byMass && rule.amount == "volume":
		return a.fail("write a volume, such as "+rule.hint, "%s is measured by volume here", kind)
	case byMass && a.add.TempC != nil:
		return a.fail("leave the temperature out, such as "+rule.hint, "a mass does not depend on its temperature")
	}
	return nil
}

// parts returns the names of the parts that were written.
func (a *additionReader) parts() []string {
	var parts []string
	for _, p := range []struct {
		name  string
		field *figure.Limited
	}{
		{"strength", a.add.StrengthPct}, {"solids", a.add.SolidsGPerL}, {"plato", a.add.Plato}, {"gravity", a.add.SG},
		{"og", a.add.OG}, {"fg", a.add.FG}, {"retain", a.add.RetainKgKg}, {"ferments", a.add.FermentsPct}, {"extracted", a.add.ExtractedPct},
	} {
		if p.field != nil {
			parts = append(parts, p.name)
		}
	}
	return parts
}

// checkParts compares the parts with the rule of the kind.
func (a *additionReader) checkParts(rule kindRule) error {
	written := a.parts()
	allowed := slices.Clone(rule.may)
	for _, need := range rule.needs {
		choice := strings.Split(need, "|")
		allowed = append(allowed, choice...)
		found := slices.ContainsFunc(choice, func(c string) bool { return slices.Contains(written, c) })
		if !found {
			return a.fail("write it as "+rule.hint, "%s needs its %s", rule.words[0], strings.ReplaceAll(need, "|", " or "))
		}
	}
	for _, w := range written {
		if !slices.Contains(allowed, w) {
			return a.fail("write it as "+rule.hint, "%s has no %s", rule.words[0], w)
		}
	}
	if a.add.Plato != nil && a.add.SG != nil {
		return a.fail("write one of them, such as "+rule.hint, "it has both a gravity and degrees Plato")
	}
	if og, fg := a.add.OG, a.add.FG; og != nil && fg != nil && fg.Value > og.Value {
		return a.fail("usually the two were swapped", "the final gravity is above the original gravity")
	}
	return nil
}

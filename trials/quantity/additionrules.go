package quantity

import (
	"slices"
	"strings"

	"hedgerow/trials/figure"
	"hedgerow/trials/spelling"
)

// kindRule says which parts an addition of one kind may and must have.
type kindRule struct {
	words  []string // the first is the kind
	amount string   // "volume", "mass" or "either"
	needs  []string // all of these, a "|" between those of which one is enough
	may    []string
	hint   string // an example
}

// kindRules are the rules of all kinds but KindMaterial. Sugars and syrups are
// weighed because their density by the cup or litre says too little; a spirit
// needs its strength, and a juice, wort or beer its gravity, because without it
// neither the gravity nor the alcohol of the mixture can be worked out.
var kindRules = []kindRule{
	{words: []string{kindWater}, amount: "either", hint: "600mL water"},
	{words: []string{kindTea, "infusion", "decoction"}, amount: "volume", may: []string{"solids"}, hint: "500mL tea 8g/L"},
	{words: []string{kindSpirit, "spirits", "alcohol", "tincture"}, amount: "volume", needs: []string{"strength"},
		may: []string{"solids"}, hint: "250mL spirit 60%"},
	{words: []string{kindSugar, "sucrose", "table-sugar", "cane-sugar"}, amount: "mass", may: []string{"ferments"},
		hint: "500g sugar"},
	{words: []string{kindDextrose, "glucose", "corn-sugar"}, amount: "mass", may: []string{"ferments"},
		hint: "150g dextrose"},
	{words: []string{kindHoney}, amount: "mass", may: []string{"ferments"}, hint: "500g honey"},
	{words: []string{kindMaple, "maple-syrup"}, amount: "mass", may: []string{"ferments"}, hint: "500g maple"},
	{words: []string{kindAgave, "agave-syrup"}, amount: "mass", may: []string{"ferments"}, hint: "500g agave"},
	{words: []string{kindMolasses, "treacle"}, amount: "mass", may: []string{"ferments"}, hint: "200g molasses"},
	{words: []string{kindJuice}, amount: "either", needs: []string{"plato|gravity"}, may: []string{"ferments"},
		hint: "1L juice 12P"},
	{words: []string{kindWort}, amount: "volume", needs: []string{"plato|gravity"}, may: []string{"ferments"},
		hint: "1L wort 1.048"},
	{words: []string{kindBeer}, amount: "volume", needs: []string{"og", "fg"}, hint: "2L beer og=1.050 fg=1.010"},
}

// SpiritNames are spirits that people call by name. NamedSpiritPct is what they
// are sold at most often (common practice, no source): taken where no strength is
// written, and said.
var SpiritNames = []string{"vodka", "gin", "rum", "whisky", "whiskey", "brandy", "tequila"}

const NamedSpiritPct = 40

// materialRule is the rule of a material by weight.
var materialRule = kindRule{words: []string{KindMaterial}, amount: "mass", may: []string{"retain", "ferments",
	"extracted"}, hint: "2.5kg raspberry retain=0.5"}

// kindWords returns every word that stands for a kind.
func kindWords() []string {
	var words []string
	for _, k := range kindRules {
		words = append(words, k.words...)
	}
	return append(words, SpiritNames...)
}

// additionKeys are the words that a value with = follows.
var additionKeys = []string{"retain", "ferments", "extracted", "og", "fg", "sg"}

// kindOrKey reads a word: a kind, "retain=0.5", or the name of a material.
func (a *additionReader) kindOrKey() error {
	word := a.peek().text
	// before the kinds: what stands before = is a key, whatever else the word could be
	if t := a.peekAt(1); t.kind == markToken && t.text == "=" {
		a.at += 2
		return a.keyed(word)
	}
	for _, name := range SpiritNames {
		if a.word(name) {
			a.spirit = name
			return a.setKind(kindSpirit, "")
		}
	}
	for _, k := range kindRules {
		// hyphens are left out as often as they are written
		if a.phrase(k.words) || a.phrase(spaced(k.words)) {
			return a.setKind(k.words[0], "")
		}
	}
	if !isName(word) {
		return a.unexpected("write it as " + a.example)
	}
	a.at++
	// the first word of "maple syrup" has said it all
	if word == "syrup" && (a.add.Kind == kindMaple || a.add.Kind == kindAgave) {
		return nil
	}
	return a.setKind(KindMaterial, word)
}

// isName reports whether a word can be the name of a material: not a unit, nor a
// word that has another meaning in these languages.
func isName(word string) bool {
	_, isPart := partWord(word)
	// two letters are rather a unit mistyped
	return len(word) > 2 && !isPart && !isUnitWord(word) && !slices.Contains(perWords, word) &&
		!slices.Contains(plainWords, word) &&
		!slices.Contains(passWordList(), word) && !slices.Contains([]string{"fresh", "dry", "dried", "about", "between",
		"imp", "american", "british", "imperial", "metric"}, word)
}

// spaced returns the words with spaces in place of hyphens.
func spaced(words []string) []string {
	var out []string
	for _, w := range words {
		out = append(out, replaceHyphens(w))
	}
	return out
}

// setKind notes what the addition is. A second word for it is refused: it may
// be a slip in a key, a second addition, or the rest of a name.
func (a *additionReader) setKind(kind, material string) error {
	if a.add.Kind == "" {
		a.add.Kind, a.add.Material = kind, material
		return nil
	}
	if kind != KindMaterial {
		return a.fail("write each addition on its own", "%q is a second kind of addition in it", kind)
	}
	if a.add.Kind == KindMaterial {
		// a name with a space and a word too many look alike here: the hint serves the more frequent
		return a.fail("join the words of one name with hyphens, such as "+a.add.Material+"-"+material,
			"%q is a second name in it", material)
	}
	return a.unknownWord(material, additionKeys, "write it as "+ruleOf(a.add.Kind).hint)
}

// keyed reads the value after "word=".
func (a *additionReader) keyed(word string) error {
	switch word {
	case "og", "fg", "sg":
		g, err := a.gravity()
		field := map[string]**figure.Limited{"og": &a.add.OG, "fg": &a.add.FG, "sg": &a.add.SG}[word]
		a.add.Warnings = append(a.add.Warnings, g.Warnings...)
		return a.set(field, g.SG, err, word)
	case "ferments":
		l, err := a.percentage()
		return a.set(&a.add.FermentsPct, l, err, "share that ferments")
	case "extracted":
		l, err := a.percentage()
		return a.set(&a.add.ExtractedPct, l, err, "extracted share")
	case "retain":
		l, err := a.retain()
		return a.set(&a.add.RetainKgKg, l, err, "retain")
	}
	return a.unknownWord(word, additionKeys, "the words with = are retain, ferments, extracted, og, fg and sg")
}

// retain reads the kilograms of liquid that a kilogram of pulp keeps.
func (a *additionReader) retain() (figure.Limited, error) {
	const most = 10 // kg/kg; pulp that keeps more is no longer pulp (judgement)
	m, err := a.measure()
	if err != nil {
		return figure.Limited{}, err
	}
	l := m.base()
	switch {
	case m.unit.dim != none:
		err = a.fail("write retain=0.5, in kg of liquid per kg of fruit", "retain is a bare number")
	case l.Value < 0 || l.Value > most || l.HalfWidth > most:
		err = a.fail("write retain=0.5, in kg of liquid per kg of fruit", "retain %s is outside 0 to %d kg/kg",
			digits3(l.Value), most)
	}
	return l, err
}

// ruleOf returns the rule of a kind.
func ruleOf(kind string) kindRule {
	i := slices.IndexFunc(kindRules, func(k kindRule) bool { return k.words[0] == kind })
	if i < 0 {
		return materialRule
	}
	return kindRules[i]
}

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
	if a.spirit != "" && a.add.StrengthPct == nil {
		a.add.StrengthPct = &figure.Limited{Value: NamedSpiritPct}
		a.assume(a.spirit + " is taken at 40 % vol; write the strength on the label to be sure")
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
		return a.fail(didYouMean(a.add.Material, kindWords(),
			"weigh it, such as 2.5kg "+a.add.Material+", or write 1L juice 12P"),
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
		{"og", a.add.OG}, {"fg", a.add.FG}, {"retain", a.add.RetainKgKg}, {"ferments", a.add.FermentsPct}, {"extracted",
			a.add.ExtractedPct},
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

package quantity

import (
	"slices"

	"hedgerow/trials/figure"
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
	{words: []string{KindWater}, amount: "either", hint: "600mL water"},
	{words: []string{KindTea, "infusion", "decoction"}, amount: "volume", may: []string{"solids"}, hint: "500mL tea 8g/L"},
	{words: []string{KindSpirit, "spirits", "alcohol", "tincture"}, amount: "volume", needs: []string{"strength"}, may: []string{"solids"}, hint: "250mL spirit 60%"},
	{words: []string{KindSugar, "sucrose", "table-sugar", "cane-sugar"}, amount: "mass", may: []string{"ferments"}, hint: "500g sugar"},
	{words: []string{KindDextrose, "glucose", "corn-sugar"}, amount: "mass", may: []string{"ferments"}, hint: "150g dextrose"},
	{words: []string{KindHoney}, amount: "mass", may: []string{"ferments"}, hint: "500g honey"},
	{words: []string{KindMaple, "maple-syrup"}, amount: "mass", may: []string{"ferments"}, hint: "500g maple"},
	{words: []string{KindAgave, "agave-syrup"}, amount: "mass", may: []string{"ferments"}, hint: "500g agave"},
	{words: []string{KindMolasses, "treacle"}, amount: "mass", may: []string{"ferments"}, hint: "200g molasses"},
	{words: []string{KindJuice}, amount: "either", needs: []string{"plato|gravity"}, may: []string{"ferments"}, hint: "1L juice 12P"},
	{words: []string{KindWort}, amount: "volume", needs: []string{"plato|gravity"}, may: []string{"ferments"}, hint: "1L wort 1.048"},
	{words: []string{KindBeer}, amount: "volume", needs: []string{"og", "fg"}, hint: "2L beer og=1.050 fg=1.010"},
}

// materialRule is the rule of a material by weight.
var materialRule = kindRule{words: []string{KindMaterial}, amount: "mass", may: []string{"retain", "ferments", "extracted"}, hint: "2.5kg raspberry retain=0.5"}

// kindWords returns every word that stands for a kind.
func kindWords() []string {
	var words []string
	for _, k := range kindRules {
		words = append(words, k.words...)
	}
	return words
}

// additionKeys are the words that a value with = follows.
var additionKeys = []string{"retain", "ferments", "extracted", "og", "fg", "sg"}

// kindOrKey reads a word: a kind, "retain=0.5", or the name of a material.
func (a *additionReader) kindOrKey() error {
	word := a.peek().text
	if t := a.peekAt(1); t.kind == markToken && t.text == "=" {
		a.at += 2
		return a.keyed(word)
	}
	for _, k := range kindRules {
		if a.phrase(k.words) || a.phrase(spaced(k.words)) {
			return a.setKind(k.words[0], "")
		}
	}
	if !isName(word) {
		return a.unexpected("write it as " + a.example)
	}
	a.at++
	if word == "syrup" && (a.add.Kind == KindMaple || a.add.Kind == KindAgave) {
		return nil
	}
	return a.setKind(KindMaterial, word)
}

// isName reports whether a word can be the name of a material: not a unit, nor a
// word that has another meaning in these languages.
func isName(word string) bool {
	_, isPart := partWord(word)
	return len(word) > 2 && !isPart && !isUnitWord(word) && !slices.Contains(perWords, word) && !slices.Contains(plainWords, word) &&
		!slices.Contains(passWordList(), word) && !slices.Contains([]string{"fresh", "dry", "dried", "about", "between", "imp", "american", "british", "imperial", "metric"}, word)
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
		return a.fail("join the words of one name with hyphens, such as "+a.add.Material+"-"+material, "%q is a second name in it", material)
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
		err = a.fail("write retain=0.5, in kg of liquid per kg of fruit", "retain %s is outside 0 to %d kg/kg", digits3(l.Value), most)
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

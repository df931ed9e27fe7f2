package extraction

import (
	"hedgerow/trials/spelling"
	"slices"
	"strings"
)

// Method is how a material meets the beer.
type Method int

// The methods. Tea, ColdTea and Tincture make an extract that is poured in;
// the others put the material itself into wort or beer.
const (
	Tea      Method = iota // hot steep, strained, poured in
	ColdTea                // cold steep, strained, poured in
	Tincture               // steep in spirit, strained, poured in
	Boil                   // in the boiling wort
	FlameOut               // in the hot wort after the boil, or a whirlpool stand
	Contact                // in the fermenter, loose or in a bag
	JuiceIn                // juice poured in
	PureeIn                // puree poured in
)

// methodNames are the words of the methods, indexed by Method.
var methodNames = [...]string{"tea", "cold-tea", "tincture", "boil", "flame-out", "contact", "juice", "puree"}

// String returns the word of the method, as ParseMethod reads it.
func (m Method) String() string { return wordOf(methodNames[:], int(m)) }

// IsDirect reports whether the material itself goes into wort or beer, so that
// nothing is lost to held liquid and Y = X.
func (m Method) IsDirect() bool { return m >= Boil }

// methodWords returns the words of the methods in the order help shows them.
func methodWords() []string {
	return []string{"boil", "flame-out", "tea", "cold-tea", "contact", "tincture", "juice", "puree"}
}

// ParseMethod returns the method a word names: boil, flame-out (or whirlpool),
// tea, cold-tea, contact, tincture, juice, puree. An unknown word is an
// inputError that lists the allowed ones.
func ParseMethod(word string) (Method, error) {
	switch plain(word) {
	case "flameout", "whirlpool":
		return FlameOut, nil
	case "cold infusion", "cold steep":
		return ColdTea, nil
	}
	if i := indexOf(methodNames[:], word); i >= 0 {
		return Method(i), nil
	}
	return 0, unknownWord("method", word, methodWords())
}

// Agitation is how a steep is moved.
type Agitation int

// The states of agitation. Unstated counts as Still, and Boiling when the pass
// boils.
const (
	unstated Agitation = iota
	Still
	NowAndThen
	Stirred
	rollingBoil
)

// agitationNames are the words of the states, indexed by Agitation.
var agitationNames = [...]string{"not said", "still", "stirred now and then", "stirred", "boiling"}

// agitationWords returns the words of agitation in the order help shows them.
func agitationWords() []string {
	return []string{"boiling", "stirred", "stirred now and then", "still"}
}

// ParseAgitation returns the state a word names: boiling, stirred, stirred now
// and then, still. An unknown word is an inputError that lists the allowed ones.
func ParseAgitation(word string) (Agitation, error) {
	if w := plain(word); w == "now and then" || w == "stirred sometimes" {
		return NowAndThen, nil
	}
	if i := indexOf(agitationNames[1:], word); i >= 0 {
		return Agitation(i + 1), nil
	}
	return 0, unknownWord("agitation", word, agitationWords())
}

// Rate factors of agitation. That stirred leaf is leaf-controlled and still
// liquid is not was read [1][21]; the numbers are judgements. Still and cold is met by
// 0.10, half in a bag, in cold-brew plateaus and steeps of tea at 4 to 20 C [24].
const (
	rateStirred    = 1.0
	rateNowAndThen = 0.7
	rateStillHot   = 0.5
	rateStillCold  = 0.1
	rateInBag      = 0.5

	// StillHotC parts "still hot" from "still cold" by the highest temperature
	// of the pass; a judgement.
	StillHotC = 50.0
)

// rateFactor returns g for a pass whose highest temperature is hottestC:
// boiling or stirred 1, stirred now and then 0.7, still 0.5 if it was ever at
// 50 C or more and else 0.1; half of that in a bag or sock.
func (a Agitation) rateFactor(hottestC float64, inBag bool) float64 {
	g := rateStillCold
	switch {
	case a == Stirred || a == rollingBoil:
		g = rateStirred
	case a == NowAndThen:
		g = rateNowAndThen
	case hottestC >= StillHotC:
		g = rateStillHot
	}
	if inBag {
		g *= rateInBag
	}
	return g
}

// Separation is how the liquid leaves the spent material.
type Separation int

// The separations. LeftIn keeps liquid and material together.
const (
	Drained Separation = iota
	Squeezed
	ScrewPressed
	LeftIn
)

// separationNames are the words of the separations, indexed by Separation.
var separationNames = [...]string{"drained", "squeezed", "screw-pressed", "left in"}

// String returns the word of the separation, as ParseSeparation reads it.
func (s Separation) String() string { return wordOf(separationNames[:], int(s)) }

// separationWords returns the words of separation in the order help shows them.
func separationWords() []string { return slices.Clone(separationNames[:]) }

// ParseSeparation returns the separation a word names: drained, squeezed (or
// pressed, hand-pressed), screw-pressed, left in. An unknown word is an
// inputError that lists the allowed ones.
func ParseSeparation(word string) (Separation, error) {
	switch plain(word) {
	case "hand pressed", "pressed", "pressed by hand":
		return Squeezed, nil
	case "strained":
		return Drained, nil
	}
	if i := indexOf(separationNames[:], word); i >= 0 {
		return Separation(i), nil
	}
	return 0, unknownWord("separation", word, separationWords())
}

// wordOf returns names[i], or "unknown" outside the table.
func wordOf(names []string, i int) string {
	if i < 0 || i >= len(names) {
		return "unknown"
	}
	return names[i]
}

// indexOf returns where word stands in names once both are plain, or -1.
func indexOf(names []string, word string) int {
	w := plain(word)
	for i, n := range names {
		if plain(n) == w {
			return i
		}
	}
	return -1
}

// unknownWord refuses a word that is not in the list, names the allowed ones
// and, if there is one, the word that was probably meant.
func unknownWord(kind, word string, allowed []string) error {
	hint := "use one of " + strings.Join(allowed, ", ")
	if asked := spelling.DidYouMean(word, allowed); asked != "" {
		hint = asked + " allowed: " + strings.Join(allowed, ", ")
	}
	return Refuse(hint, "unknown %s %q", kind, word)
}

// plain makes words comparable: it lower-cases a word and turns hyphens, underscores and runs of blanks
// into single blanks, so that "flame-out" and "Flame out" are one word.
func plain(word string) string {
	word = strings.ToLower(strings.NewReplacer("-", " ", "_", " ").Replace(word))
	return strings.Join(strings.Fields(word), " ")
}

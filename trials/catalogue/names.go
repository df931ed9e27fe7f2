package catalogue

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"hedgerow/trials/spelling"
)

// vagueWords are words of names that say too little to find a material by:
// states, colours, parts of plants, and words that mean something else to a
// brewer or alone name another plant (lime).
var vagueWords = []string{
	"fresh", "dried", "roasted", "raw", "ground", "green", "black", "white", "brown", "red", "sweet", "bitter", "sour",
	"wild",
	"common", "table", "stinging", "german", "star", "sea", "marsh", "mountain", "ash", "lime", "wort", "grain", "syrup",
	"chip", "cube", "flower", "blossom", "root", "seed", "leaf", "berry", "peel", "zest", "tip", "bark", "powder", "nib",
	"petal", "branch", "fruit", "and", "or", "of", "st",
}

// Lookup returns the materials that a name may mean: none if it is not known,
// one if it is clear, several if it is ambiguous ("ginger"). A name is a key,
// a common name or part of it between commas, or a botanical name; case,
// spaces, hyphens and a plural s do not matter. A name that is none of these
// but a telling word of one ("coriander", "cinnamon") finds all that have it.
func (c *Catalogue) Lookup(name string) []Material {
	// records name a material by its key, thousands of times in a notebook of some years
	if m, ok := c.Get(name); ok {
		return []Material{m}
	}
	wanted := fold(name)
	if wanted == "" {
		return nil
	}
	found := c.matching(func(m Material) bool { return fold(m.Key) == wanted })
	if len(found) == 0 {
		found = c.matching(func(m Material) bool { return slices.Contains(foldedNames(m), wanted) })
	}
	// "fresh" or "dried" alone would find half the table, and "ivy" is not ground ivy
	if len(found) == 0 && !slices.Contains(vagueWords, wanted) && len(c.StopPlants(name)) == 0 {
		found = c.matching(func(m Material) bool { return slices.Contains(foldedWords(m), wanted) })
	}
	return found
}

// matching returns the materials for which keep holds, sorted by key.
func (c *Catalogue) matching(keep func(Material) bool) []Material {
	var found []Material
	for _, m := range c.materials {
		if keep(m) {
			found = append(found, m)
		}
	}
	return found
}

// mostSuggestions is how many keys Suggest returns at most.
const mostSuggestions = 5

// Suggest returns keys that come near a name, the nearest first, for a "did
// you mean". Near is: a name or a telling word of one that is as few slips off as
// spelling.Slips allows (none of three letters or fewer), or, from three letters
// on, a name that begins with what was typed, or a word that contains it or is
// contained in it.
func (c *Catalogue) Suggest(name string) []string {
	type near struct {
		key  string
		rank int
	}
	wanted := fold(name)
	var list []near
	for _, m := range c.materials {
		if rank, ok := nearest(wanted, m); ok {
			list = append(list, near{m.Key, rank})
		}
	}
	slices.SortFunc(list, func(a, b near) int { return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.key, b.key)) })
	var keys []string
	for _, n := range list[:min(len(list), mostSuggestions)] {
		keys = append(keys, n.key)
	}
	return keys
}

// The ranks of nearness: up to two letters off is ranked by the letters.
const (
	rankPrefix   = 3
	rankContains = 4
)

// nearest returns the rank of the nearest name or word of a material; ok is
// false if none is near.
func nearest(wanted string, m Material) (rank int, ok bool) {
	// two letters are in nearly every name
	long := len([]rune(wanted)) >= 3
	rank = rankContains + 1
	for _, name := range append(foldedNames(m), fold(m.Key)) {
		if d, near := slips(wanted, name); near {
			rank = min(rank, d)
		} else if long && strings.HasPrefix(name, wanted) {
			rank = min(rank, rankPrefix)
		}
	}
	for _, word := range foldedWords(m) {
		if slices.Contains(vagueWords, word) {
			continue
		}
		if d, near := slips(wanted, word); near && len(word) >= 3 {
			rank = min(rank, d)
		} else if long && strings.Contains(word, wanted) || len(word) >= 4 && strings.Contains(wanted, word) {
			rank = min(rank, rankContains)
		}
	}
	return rank, rank <= rankContains
}

// slips is spelling.Slips, but a name of three letters or fewer must be right:
// among so many plants it is one letter from a stranger (fig and fir).
func slips(wanted, name string) (d int, near bool) {
	d, near = spelling.Slips(wanted, name)
	return d, near && (d == 0 || len([]rune(wanted)) > 3)
}

// foldedNames returns the names of a material: common name whole and its
// parts between commas and brackets, botanical names likewise, all folded.
// Parts that are vague words ("Ginger, fresh") are no names.
func foldedNames(m Material) []string {
	names := make([]string, 0, 8)
	add := func(text string) {
		n := fold(strings.TrimPrefix(strings.TrimSpace(text), "and "))
		if n != "" && !slices.Contains(vagueWords, n) && !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	for _, text := range [...]string{m.CommonName, m.BotanicalName} {
		add(text)
		for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == '(' || r == ')' }) {
			add(part)
		}
	}
	return names
}

// foldedWords returns the single words of key and common name, folded.
func foldedWords(m Material) []string {
	words := wordsOf(m.Key + " " + m.CommonName)
	for i, w := range words {
		words[i] = singular(w)
	}
	return words
}

// fold brings a name to the form in which names are compared: lower case,
// letters and digits only, without the s of a plural at its end and the x of a
// hybrid.
func fold(name string) string {
	var b strings.Builder
	b.Grow(len(name))
	for _, w := range wordsOf(name) {
		if w != "x" {
			b.WriteString(w)
		}
	}
	return singular(b.String())
}

// wordsOf splits a name into lower-case words; an apostrophe is dropped.
func wordsOf(name string) []string {
	name = strings.ToLower(name)
	if strings.ContainsAny(name, apostrophes) {
		name = strings.Map(dropApostrophe, name)
	}
	return strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// apostrophes are the typewriter's and the typesetter's.
const apostrophes = "'\u2019"

// dropApostrophe maps an apostrophe to nothing, for strings.Map.
func dropApostrophe(r rune) rune {
	if strings.ContainsRune(apostrophes, r) {
		return -1
	}
	return r
}

// singular drops the ending of an English plural. Latin endings (-us, -is) and
// short words stay.
func singular(word string) string {
	switch {
	case len(word) < 4, strings.HasSuffix(word, "ss"), strings.HasSuffix(word, "us"), strings.HasSuffix(word, "is"):
		return word
	case strings.HasSuffix(word, "ies"):
		return word[:len(word)-3] + "y"
	case strings.HasSuffix(word, "s"):
		return word[:len(word)-1]
	}
	return word
}

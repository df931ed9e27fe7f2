package trials

import (
	"strings"
	"unicode"
)

// Likeness returns one text for all names that look alike, which count as the
// same name: it leaves out what has no width, takes letters of full width for
// plain ones, Cyrillic and Greek letters for the Latin ones that they cannot be
// told from (Unicode Technical Standard 39, confusables.txt; those that a brewer's
// keyboard has), and of each letter's forms the one that Unicode lists first.
func Likeness(name string) string {
	return caseless(strings.Map(func(r rune) rune {
		const fullWidth, endOfFullWidth, asASCII = '！', '～', '！' - '!'
		switch {
		case unicode.In(r, unicode.Cf, unicode.Mn, unicode.Cc):
			return -1
		case r >= fullWidth && r <= endOfFullWidth:
			return r - asASCII
		}
		if latin, ok := lookAlikes[unicode.ToUpper(r)]; ok {
			return latin
		}
		return r
	}, name))
}

// lookAlikes are capitals of Cyrillic and Greek with the Latin letter that looks
// the same.
var lookAlikes = map[rune]rune{
	'А': 'A', 'В': 'B', 'Е': 'E', 'К': 'K', 'М': 'M', 'Н': 'H', 'О': 'O', 'Р': 'P', 'С': 'C',
	'Т': 'T', 'У': 'Y', 'Х': 'X', 'І': 'I', 'Ј': 'J', 'Ѕ': 'S',
	'Α': 'A', 'Β': 'B', 'Ε': 'E', 'Ζ': 'Z', 'Η': 'H', 'Ι': 'I', 'Κ': 'K', 'Μ': 'M', 'Ν': 'N', 'Ο': 'O',
	'Ρ': 'P', 'Τ': 'T', 'Υ': 'Y', 'Χ': 'X',
}

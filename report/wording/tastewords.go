package wording

import "hedgerow/trials"

// WordOf is how an attribute is called in tables.
func WordOf(attribute string) string {
	if attribute == trials.Overall {
		return "liking"
	}
	return attribute
}

// Prefixed puts a word before each line.
func Prefixed(word string, lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = word + ": " + l
	}
	return out
}

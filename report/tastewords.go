package report

import "hedgerow/trials"

// wordOf is how an attribute is called in tables.
func wordOf(attribute string) string {
	if attribute == trials.Overall {
		return "liking"
	}
	return attribute
}

// prefixed puts a word before each line.
func prefixed(word string, lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = word + ": " + l
	}
	return out
}

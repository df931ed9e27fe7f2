package moment

import (
	"strings"
	"time"
	"unicode"
)

// split returns the words of text in lower case. Commas, and the T and the
// hyphens that join what has a word of its own, part words; the marks within a
// date or clock stay.
func split(text string) []string {
	fields := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return unicode.IsSpace(r) || r == ',' })
	var out []string
	for _, f := range fields {
		switch {
		case isWrittenDate(f):
			// 2026-03-05t18:30: a date with its clock
			day, clock, _ := strings.Cut(f, "t")
			out = append(out, day, clock)
		case strings.ContainsFunc(f, unicode.IsLetter) && strings.Contains(f, "-"):
			out = append(out, strings.FieldsFunc(f, func(r rune) bool { return r == '-' })...) // 15-nov-2025
		default:
			out = append(out, f)
		}
	}
	return out
}

// isWrittenDate reports whether f is a date and a clock joined by a t.
func isWrittenDate(f string) bool {
	day, clock, ok := strings.Cut(f, "t")
	return ok && day != "" && clock != "" && !strings.ContainsFunc(day+clock, unicode.IsLetter)
}

// passedOver are words that change nothing about a day or an hour.
var passedOver = map[string]bool{
	"at": true, "on": true, "the": true, "of": true, "in": true, "about": true, "around": true, "sorry": true,
	"no": true, "actually": true, "it": true, "was": true, "o'clock": true, "oclock": true,
}

// hourWords are the hours that words stand for (common practice, no source).
var hourWords = map[string]int{"morning": 9, "noon": 12, "midday": 12, "lunchtime": 12, "afternoon": 15, "evening": 18,
	"tonight": 21, "night": 21, "midnight": 0}

// dayWords are days counted from today.
var dayWords = map[string]int{"today": 0, "tonight": 0, "yesterday": -1, "tomorrow": 1}

// weekday returns the day of the week that word names, in full or by its first
// three letters or more.
func weekday(word string) (time.Weekday, bool) {
	for d := time.Sunday; d <= time.Saturday; d++ {
		if isName(word, strings.ToLower(d.String()), 3) {
			return d, true
		}
	}
	return 0, false
}

// month returns the month that word names, in full or by its first letters.
func month(word string) (time.Month, bool) {
	for m := time.January; m <= time.December; m++ {
		if isName(word, strings.ToLower(m.String()), 3) {
			return m, true
		}
	}
	return 0, false
}

// isName reports whether word is name or a beginning of it of at least n letters,
// with or without a full stop.
func isName(word, name string, n int) bool {
	word = strings.TrimSuffix(word, ".")
	return len(word) >= n && strings.HasPrefix(name, word)
}

// counts are the numbers that people write as words before a unit of time.
var counts = map[string]float64{"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
	"seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12}

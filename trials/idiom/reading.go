package idiom

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// measured is a reading in one text taken apart: each figure as it would be typed
// by itself, empty where it is not said.
type measured struct {
	SG, PH, SampleTemp, Temp string
	Notes                    []string // what was taken that was not typed
}

var (
	bareNumber  = pattern(`^\d+(?:[.,]\d+)?$`)
	temperature = pattern(`^\d+(?:[.,]\d+)?°?[cf]$`)
	platoNumber = pattern(`^\d+(?:[.,]\d+)?°?(?:p|plato)$`)
)

// Reading takes apart what was read: "1.010", "1010", "1.010 18C", "4.2 pH", "18
// degrees". A number that can only be a gravity is one; one that may be degrees
// Plato or a pH is asked about.
func Reading(text string) (measured, error) {
	var m measured
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(text, ", ", " ")))
	for i := 0; i < len(words); i++ {
		w, next := words[i], ""
		if i+1 < len(words) {
			next = words[i+1]
		}
		switch {
		case w == "sg" || w == "gravity" || w == "at" || w == "and":
		case w == "ph" && bareNumber().MatchString(next):
			m.PH, i = next, i+1
		case bareNumber().MatchString(w) && next == "ph":
			m.PH, i = w, i+1
		case strings.HasSuffix(w, "ph") && bareNumber().MatchString(strings.TrimSuffix(w, "ph")):
			m.PH = strings.TrimSuffix(w, "ph")
		case bareNumber().MatchString(w) && (next == "degrees" || next == "deg" || next == "°"):
			m.Temp, i = w+"C", i+1
			m.Notes = append(m.Notes, w+" degrees is read as "+w+" C")
		case bareNumber().MatchString(w) && (next == "c" || next == "f"):
			m.Temp, i = w+next, i+1
		case bareNumber().MatchString(w) && (next == "p" || next == "plato"):
			m.SG, i = w+"P", i+1
		case temperature().MatchString(w):
			m.Temp = w
		case platoNumber().MatchString(w):
			m.SG = w
		case bareNumber().MatchString(w):
			sg, err := bareGravity(w, text)
			if err != nil {
				return m, err
			}
			m.SG = sg
		default:
			return m, trials.Refuse(`write 1.010, "1.010 18C" or "4.2 pH"`, "reading %q: %q is not understood", text, w)
		}
	}
	// beside a gravity the temperature is that of the sample
	if m.SG != "" && m.Temp != "" {
		m.SampleTemp, m.Temp = m.Temp, ""
	}
	return m, nil
}

// bareGravity returns a number without unit as a gravity where it can be nothing
// else.
func bareGravity(word, text string) (string, error) {
	v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
	if err != nil {
		return "", trials.Refuse("write 1.010", "reading %q is no number", text)
	}
	switch {
	case v >= figure.SGMin && v <= figure.SGMax:
		return word, nil
	case v >= 1000*figure.SGMin && v <= 1000*figure.SGMax:
		return strconv.FormatFloat(v/1000, 'f', -1, 64), nil
	case v > 0 && v <= 40:
		return "", trials.Refuse(fmt.Sprintf(`write %sP, %.4f, "%s pH" or %sC`, word, 1+v/1000, word, word),
			"reading %q may be degrees Plato, a pH or a temperature", text)
	}
	return "", trials.Refuse(`write 1.010, "1.010 18C" or "4.2 pH"`, "reading %q has no unit", text)
}

// pattern compiles an expression when it is first used: few commands read one, and
// every command would pay for it at the start.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

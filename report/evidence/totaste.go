package evidence

import (
	"cmp"
	"strings"
)

// A ToTaste is one series of one taster who dosed a glass to taste: extract goes
// in by steps of one factor, going up from far too little or down, with fresh base
// beer, from far too much, and the taster says at which step the glass changed.
type ToTaste struct {
	Taster  string `json:"taster"`
	Tasting string `json:"tasting"` // the evening; "" is not known
	// Extract tells whether it was the very extract that goes into the beer.
	Extract   Extract   `json:"extract"`
	Direction Direction `json:"direction"`
	// StepFactor is how many times more or less each step is; nil: 1.25.
	StepFactor *float64 `json:"step_factor"`
	// RightGPerL and TooMuchGPerL are the first steps beyond the ends of "just right":
	// going up where it first was right and first too much, going down where it first was
	// too little and first right. Nil is not noted.
	RightGPerL   *float64 `json:"right_g_per_l"`
	TooMuchGPerL *float64 `json:"too_much_g_per_l"`
	// StoppedAtGPerL is the last step that was tasted: an end that was not noted lies
	// beyond it. Nil: nothing is known of an end that was not noted.
	StoppedAtGPerL *float64 `json:"stopped_at_g_per_l"`
	Method         string   `json:"method"` // how the extract was made; "" is the reference method
}

// Extract says how an extract that was dosed to taste is related to the beer.
type Extract string

// The extracts.
const (
	Used  Extract = "used"  // what was tasted goes into the beer
	Other Extract = "other" // the beer gets an extract, or a steep, of its own
)

// Direction says whether the steps of a series rise or fall.
type Direction string

// The directions.
const (
	Up   Direction = "up"
	Down Direction = "down"
)

// Limits of a step: below 1.05 no dropper and no tongue can follow, beyond 3 the
// step alone is as wide as the claims are apart (judgement).
const (
	leastStepFactor = 1.05
	mostStepFactor  = 3.0
)

// Noted reports whether the series says anything: one without a note is no series.
func (l ToTaste) Noted() bool { return l.RightGPerL != nil || l.TooMuchGPerL != nil }

// validate checks one series, called by its taster in messages.
func (l ToTaste) validate() error {
	if l.Taster == "" {
		return Bad("give every series a taster, a name or a letter", "dosed_to_taste: a series has no taster")
	}
	if l.Extract != Used && l.Extract != Other {
		return Bad("write used (it goes into the beer) or other",
			"dosed_to_taste, taster %s: extract %q is unknown", l.Taster, string(l.Extract))
	}
	if l.Direction != Up && l.Direction != Down {
		return Bad("write up or down", "dosed_to_taste, taster %s: direction %q is unknown", l.Taster, string(l.Direction))
	}
	if f := l.StepFactor; f != nil && !(*f >= leastStepFactor && *f <= mostStepFactor) {
		return Bad("a step is from 1.05 to 3 times the one before; leave it out for 1.25",
			"dosed_to_taste, taster %s: step_factor %g is no step", l.Taster, *f)
	}
	return l.validateNotes()
}

// validateNotes checks the noted steps, and that they lie in the order in which they
// were tasted.
func (l ToTaste) validateNotes() error {
	for _, note := range []struct {
		name string
		dose *float64
	}{
		{"right_g_per_l", l.RightGPerL}, {"too_much_g_per_l", l.TooMuchGPerL}, {"stopped_at_g_per_l", l.StoppedAtGPerL},
	} {
		if d := note.dose; d != nil && !(*d >= minDoseGPerL && *d <= MaxDoseGPerL) {
			return Bad("a noted step is a dose in g/L, above 0 and at most 1000; leave out what was not noted",
				"dosed_to_taste, taster %s: %s %g is not a dose", l.Taster, note.name, *d)
		}
	}
	if r, m := l.RightGPerL, l.TooMuchGPerL; r != nil && m != nil && !(*m > *r) {
		return Bad("going up it is right before it is too much; going down right_g_per_l is where it first was too little",
			"dosed_to_taste, taster %s: too_much_g_per_l %g is not above right_g_per_l %g", l.Taster, *m, *r)
	}
	if stop := l.StoppedAtGPerL; stop != nil {
		for _, d := range []*float64{l.RightGPerL, l.TooMuchGPerL} {
			if d != nil && (l.Direction == Up && *d > *stop || l.Direction == Down && *d < *stop) {
				return Bad("stopped_at_g_per_l is the last step that was tasted",
					"dosed_to_taste, taster %s: step %g lies beyond stopped_at_g_per_l %g, going %s",
					l.Taster, *d, *stop, string(l.Direction))
			}
		}
	}
	return nil
}

// compareToTaste orders series by their contents.
func compareToTaste(a, b ToTaste) int {
	return cmp.Or(
		strings.Compare(a.Taster, b.Taster),
		strings.Compare(a.Method, b.Method),
		strings.Compare(string(a.Extract), string(b.Extract)),
		strings.Compare(string(a.Direction), string(b.Direction)),
		compareKnown(a.RightGPerL, b.RightGPerL),
		compareKnown(a.TooMuchGPerL, b.TooMuchGPerL),
		compareKnown(a.StoppedAtGPerL, b.StoppedAtGPerL),
		compareKnown(a.StepFactor, b.StepFactor),
		strings.Compare(a.Tasting, b.Tasting),
	)
}

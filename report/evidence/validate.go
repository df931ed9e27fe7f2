package evidence

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
)

// ErrNotEnough is returned when a study has neither claims nor the score of a
// dosed trial.
var ErrNotEnough = errors.New("neither claims nor scores")

// An InputError says which value of a study cannot be used and what to type
// instead.
type InputError struct {
	Message string // names the trial, taster and value
	Hint    string // what is allowed, or what to type instead
}

// Error returns the message.
func (e *InputError) Error() string { return e.Message }

// Bad builds an InputError from a hint and the parts of its message.
func Bad(hint, format string, args ...any) error {
	return &InputError{Message: fmt.Sprintf(format, args...), Hint: hint}
}

// maxDoseGPerL bounds the doses that are taken for meant: nothing is put
// into beer at more than its own weight (common practice, no source).
const MaxDoseGPerL = 1000.0

// minDoseGPerL is the smallest dose above 0 that is taken for a dose: below a
// microgram per litre no kitchen or laboratory balance can work.
const minDoseGPerL = 1e-6

// Validate returns the first value of the study that cannot be used, as an
// *InputError, or nil. It goes through claims, trials with their scores, series
// dosed to taste, and wishes in the order in which they stand, maps by name, so that a study always
// has the same first fault. NaN fails every range.
func (s Study) Validate() error {
	for _, c := range s.ClaimsGPerL {
		if err := checkClaim(c); err != nil {
			return err
		}
	}
	ids := map[string]bool{}
	for i, t := range s.Trials {
		name := TrialName(t, i)
		if err := t.validate(name); err != nil {
			return err
		}
		// trials without an id are called by their number and cannot clash
		if t.ID != "" && ids[t.ID] {
			return Bad("give every trial its own id", "two trials have the id %q", t.ID)
		}
		ids[t.ID] = true
	}
	for _, l := range s.DosedToTaste {
		if err := l.validate(); err != nil {
			return err
		}
	}
	if err := s.validateBrewers(); err != nil {
		return err
	}
	return s.validateWishes(ids)
}

// TrialName returns how messages call the trial with index i.
func TrialName(t Trial, i int) string {
	if t.ID != "" {
		return t.ID
	}
	return fmt.Sprintf("#%d", i+1)
}

// checkClaim refuses a claim [low, high] with low above high, or with a limit
// outside the doses that can be meant. Low may equal high.
func checkClaim(c [2]float64) error {
	for _, d := range c {
		if !(d >= minDoseGPerL && d <= MaxDoseGPerL) {
			return Bad("a claim is [low, high] in g/L, each above 0 and at most 1000",
				"claim [%g, %g] g/L is not a range of doses", c[0], c[1])
		}
	}
	if c[0] > c[1] {
		return Bad(fmt.Sprintf("write [%g, %g]", c[1], c[0]),
			"claim [%g, %g] g/L has its low above its high", c[0], c[1])
	}
	return nil
}

// validate checks the numbers of one trial, called name in messages, and of its
// scores.
func (t Trial) validate(name string) error {
	if !(t.DoseGPerL == 0 || (t.DoseGPerL >= minDoseGPerL && t.DoseGPerL <= MaxDoseGPerL)) {
		return Bad("a dose is in g/L, from 0 (a control) to 1000",
			"trial %s: dose %g g/L is not a dose", name, t.DoseGPerL)
	}
	if !(t.DoseSDLn >= 0 && t.DoseSDLn <= 3) {
		return Bad("0 is exact, 0.2 is about a fifth, at most 3",
			"trial %s: dose_sd_ln %g is not an SD of a ln dose", name, t.DoseSDLn)
	}
	switch t.Kind {
	case "", Batch, Jar, Glass:
	default:
		return Bad("write batch, jar or glass", "trial %s: kind %q is unknown", name, string(t.Kind))
	}
	if err := t.validateTimes(name); err != nil {
		return err
	}
	for _, sc := range t.Scores {
		if err := sc.validate(name); err != nil {
			return err
		}
	}
	return nil
}

// maxDays bounds the ages that are taken for meant: a hundred years.
const maxDays = 36500.0

// validateTimes checks the age of a trial and the time its plant was in the beer.
// Only a glass can be tasted on the day it was made.
func (t Trial) validateTimes(name string) error {
	if d := t.DaysOld; d != nil && t.Kind == Glass && !(*d >= 0 && *d <= maxDays) {
		return Bad("the age of a glass is in days, 0 or more", "trial %s: days_old %g is not an age", name, *d)
	}
	if d := t.DaysOld; d != nil && t.Kind != Glass && !(*d > 0 && *d <= maxDays) {
		return Bad("the age of a beer is in days, above 0; leave it out if it is not known",
			"trial %s: days_old %g is not the age of a beer", name, *d)
	}
	if d := t.ContactDays; d != nil && !(*d > 0 && *d <= maxDays) {
		return Bad("contact_days is how long the plant was in the beer, above 0; leave it out if it is not known",
			"trial %s: contact_days %g is no time of contact", name, *d)
	}
	return nil
}

// validate checks that each given field of a score lies on its scale.
func (sc Score) validate(trial string) error {
	if sc.Taster == "" {
		return Bad("give every score a taster, a name or a letter", "trial %s: a score has no taster", trial)
	}
	if v := sc.Vote; v != nil && (*v < -1 || *v > 1) {
		return Bad("a vote is -1 (too little), 0 (just right) or 1 (too much)",
			"trial %s, taster %s: vote %d is outside its scale", trial, sc.Taster, *v)
	}
	if y := sc.Intensity; y != nil && !(*y >= 0 && *y <= 10) {
		return Bad("an intensity goes from 0 to 10",
			"trial %s, taster %s: intensity %g is outside its scale", trial, sc.Taster, *y)
	}
	if l := sc.Liking; l != nil && !(*l >= 1 && *l <= 9) {
		return Bad("a liking goes from 1 to 9",
			"trial %s, taster %s: liking %g is outside its scale", trial, sc.Taster, *l)
	}
	return nil
}

// validateWishes checks method priors, wish, target, remembered tasters and the
// tastes to avoid; ids are those of the trials.
func (s Study) validateWishes(ids map[string]bool) error {
	for _, m := range slices.Sorted(maps.Keys(s.MethodPrior)) {
		p := s.MethodPrior[m]
		// a thousandfold ratio: beyond it a typed factor was taken for its ln, or the other way round
		if !(math.Abs(p.Ln) <= 7) || !(p.SD >= 0 && p.SD <= 3) {
			return Bad("ln from -7 to 7, sd from 0 to 3", "method_prior of %q: ln %g, sd %g", m, p.Ln, p.SD)
		}
	}
	if s.Wish != nil && !(s.Wish.Liking >= 1 && s.Wish.Liking <= 9) {
		return Bad("a liking goes from 1 to 9", "wish: liking %g is outside its scale", s.Wish.Liking)
	}
	if d := s.DrinkAtDays; d != nil && !(*d > 0 && *d <= maxDays) {
		return Bad("the age at which it will be drunk is in days, above 0", "drink_at_days %g is not the age of a beer", *d)
	}
	if y := s.TargetIntensity; y != nil && !(*y > 0 && *y < 10) {
		return Bad("a target lies between 0 and 10", "target intensity %g is outside its scale", *y)
	}
	for _, name := range slices.Sorted(maps.Keys(s.Remembered)) {
		if err := s.Remembered[name].validate(name); err != nil {
			return err
		}
	}
	for _, a := range s.Avoid {
		if err := a.validate(ids); err != nil {
			return err
		}
	}
	return nil
}

// validate checks what is remembered of the named taster. An SD of 0 would be
// certainty, which no study can give.
func (r TasterPrior) validate(name string) error {
	if !(r.OffsetSDLn > 0 && r.OffsetSDLn <= 3) || !(math.Abs(r.OffsetLn) <= 7) {
		return Bad("offset_ln from -7 to 7, offset_sd_ln above 0 and at most 3",
			"remembered taster %s: offset_ln %g, offset_sd_ln %g", name, r.OffsetLn, r.OffsetSDLn)
	}
	if !(r.ScaleSD > 0 && r.ScaleSD <= 10) || !(math.Abs(r.Scale) <= 10) {
		return Bad("scale from -10 to 10, scale_sd above 0 and at most 10",
			"remembered taster %s: scale %g, scale_sd %g", name, r.Scale, r.ScaleSD)
	}
	if !(r.Sharpness == 0 || (r.Sharpness >= 0.1 && r.Sharpness <= 10)) {
		return Bad("sharpness from 0.1 to 10, 1 is common", "remembered taster %s: sharpness %g", name, r.Sharpness)
	}
	return nil
}

// validate checks a taste to avoid and that its scores name known trials.
func (a Avoid) validate(ids map[string]bool) error {
	if !(a.AtMost > 0 && a.AtMost <= 10) {
		return Bad("a limit lies above 0 and at most 10", "avoid %q: limit %g is outside its scale", a.Attribute, a.AtMost)
	}
	for _, sc := range a.Scores {
		if sc.Trial == "" || !ids[sc.Trial] {
			return Bad("name the id of a trial of this study", "avoid %q: trial %q is unknown", a.Attribute, sc.Trial)
		}
		if !(sc.Intensity >= 0 && sc.Intensity <= 10) {
			return Bad("an intensity goes from 0 to 10",
				"avoid %q, trial %s: intensity %g is outside its scale", a.Attribute, sc.Trial, sc.Intensity)
		}
	}
	return nil
}

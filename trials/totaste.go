package trials

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"
)

// ToTaste is what makes a tasting an evening of dosing to taste: an extract is dropped
// into glasses of a beer, step by step, and who tastes says where it becomes right and
// where too much. A tasting has one at most.
type ToTaste struct {
	ID         string  `json:"id"`          // stable random id
	TastingID  string  `json:"tasting_id"`  // id of the tasting
	BatchID    string  `json:"batch_id"`    // the beer in the glasses
	ExtractID  string  `json:"extract_id"`  // what is dropped in
	Used       bool    `json:"used"`        // the very extract that goes into the beer at packaging
	StepFactor float64 `json:"step_factor"` // from the dose of one step to that of the next
	// Share is how much of what is in the stronger dropper is extract: a strong extract is
	// thinned with water, a tincture with plain spirit, so that its smallest step can be
	// measured.
	Share  float64 `json:"share"`
	GlassL float64 `json:"glass_l"` // beer in a glass before anything goes in
	SipL   float64 `json:"sip_l"`   // drunk at each step of the glass that goes up
	// UpL is what goes from the dropper into the glass that goes up at each step.
	UpL       []float64 `json:"up_l"`
	DownL     float64   `json:"down_l"`     // what is in the glass that goes down at its first step
	FillL     float64   `json:"fill_l"`     // drunk or poured away, and filled up with beer, at each further step
	DownSteps int       `json:"down_steps"` // of the glass that goes down
}

// Dropper is a bottle or syringe under a code, one of two strengths, so that how much went
// in tells no taster the dose.
type Dropper struct {
	ID        string `json:"id"`         // stable random id
	TastingID string `json:"tasting_id"` // id of the tasting
	Code      string `json:"code"`       // three digits
	Strength  int    `json:"strength"`   // 2 for the stronger one, 1 for one half as strong
}

// Dosing is one glass of one taster, dosed up or down step by step.
type Dosing struct {
	ID        string     `json:"id"`         // stable random id
	TastingID string     `json:"tasting_id"` // id of the tasting
	TasterID  string     `json:"taster_id"`  // id of the taster
	Number    int        `json:"number"`     // of the glass of that taster, from 1
	DropperID string     `json:"dropper_id"` // what was dropped in
	Direction string     `json:"direction"`  // up or down
	Right     *int       `json:"right_step"` // the first step that was right
	Past      *int       `json:"past_step"`  // the first step that was too much, going down too little
	Stopped   *int       `json:"stopped_at"` // the last step that was tasted
	At        *time.Time `json:"at"`         // when it was noted; nil before
}

// The directions of a dosing.
const (
	DirectionUp   = "up"
	DirectionDown = "down"
)

// The limits of a step: below the one nobody tells two steps apart, past the other the
// steps are coarser than the doses that people disagree on (judgement).
const leastStep, mostStep = 1.05, 3.0

// CheckStepFactor refuses a factor from one step to the next that nobody can follow.
func CheckStepFactor(factor float64) error {
	if !(factor >= leastStep && factor <= mostStep) {
		return Refuse("write --step 1.25", "steps of %s are outside 1.05 to 3", Number(factor))
	}
	return nil
}

// Validate refuses an evening whose steps cannot be poured.
func (s ToTaste) Validate() error {
	if err := CheckStepFactor(s.StepFactor); err != nil {
		return err
	}
	for _, v := range []struct {
		what string
		l    float64
	}{{"beer in a glass", s.GlassL}, {"sip", s.SipL}, {"start of the glass that goes down", s.DownL},
		{"beer filled up", s.FillL}} {
		if err := CheckPositive(v.what, v.l, "L"); err != nil {
			return err
		}
	}
	if !(s.Share > 0 && s.Share <= 1) {
		return Refuse("1 is the extract as it is", "a share of %s of extract in a dropper is outside 0 to 1", Number(s.Share))
	}
	for _, l := range s.UpL {
		if err := CheckPositive("a step from the dropper", l, "L"); err != nil {
			return err
		}
	}
	if len(s.UpL) == 0 || s.DownSteps < 1 {
		return Refuse("set it up anew with: hedgerow plan taste", "the evening has no steps")
	}
	return nil
}

// Steps is how many steps a glass has.
func (s ToTaste) Steps(direction string) int {
	if direction == DirectionDown {
		return s.DownSteps
	}
	return len(s.UpL)
}

// Validate refuses a dropper without a code or of no strength.
func (d Dropper) Validate() error {
	if len(d.Code) != 3 || strings.Trim(d.Code, "0123456789") != "" {
		return Refuse("three digits, such as 417", "the code %q of a dropper cannot be used", d.Code)
	}
	if d.Strength != 1 && d.Strength != 2 {
		return Refuse("write 1 or 2", "a dropper of strength %d is neither 1 nor 2", d.Strength)
	}
	return nil
}

// PastWord is what lies past the right step in a direction.
func PastWord(direction string) string {
	if direction == DirectionDown {
		return "too little"
	}
	return "too much"
}

// Validate refuses steps that were not poured or stand in no order.
func (d Dosing) Validate(s ToTaste) error {
	if d.Direction != DirectionUp && d.Direction != DirectionDown {
		return Refuse("write up or down", "direction %q is neither up nor down", d.Direction)
	}
	steps := s.Steps(d.Direction)
	past := PastWord(d.Direction)
	for _, v := range []struct {
		what string
		step *int
	}{{"right", d.Right}, {past, d.Past}, {"stopped", d.Stopped}} {
		if v.step != nil && (*v.step < 1 || *v.step > steps) {
			return Refuse("the glass "+d.Direction+" has the steps 1 to "+Number(float64(steps)),
				"%s at step %d: no such step was poured", v.what, *v.step)
		}
	}
	switch {
	case d.Right != nil && d.Past != nil && *d.Past <= *d.Right:
		return Refuse("first comes right, then "+past+"; leave out the one that was not noted",
			"%s at step %d is not past right at step %d", past, *d.Past, *d.Right)
	case d.Stopped != nil && d.Right != nil && *d.Stopped < *d.Right:
		return Refuse("the last step that was tasted", "stopped at step %d is before right at step %d", *d.Stopped, *d.Right)
	case d.Stopped != nil && d.Past != nil && *d.Stopped < *d.Past:
		return Refuse("the last step that was tasted", "stopped at step %d is before %s at step %d", *d.Stopped, past,
			*d.Past)
	}
	return nil
}

// LastStep is the last step that was tasted, as far as it was noted; nil before. Where it
// stopped is past what was called right or too much.
func (d Dosing) LastStep() *int { return cmp.Or(d.Stopped, d.Past, d.Right) }

// Noted reports whether anything was noted of a glass.
func (d Dosing) Noted() bool { return d.LastStep() != nil }

// ToTasteOf returns what makes a tasting one of dosing to taste; ok is false for any other.
func (n *Notebook) ToTasteOf(tastingID string) (s ToTaste, ok bool) {
	i := slices.IndexFunc(n.ToTastes, func(s ToTaste) bool { return s.TastingID == tastingID })
	if i < 0 {
		return s, false
	}
	return n.ToTastes[i], true
}

// DroppersOf returns the droppers of a tasting in the order of their codes.
func (n *Notebook) DroppersOf(tastingID string) []Dropper {
	list := slices.DeleteFunc(slices.Clone(n.Droppers), func(d Dropper) bool { return d.TastingID != tastingID })
	slices.SortFunc(list, func(a, b Dropper) int { return cmp.Compare(a.Code, b.Code) })
	return list
}

// DosingsOf returns the glasses of a tasting by taster and number.
func (n *Notebook) DosingsOf(tastingID string) []Dosing {
	list := slices.DeleteFunc(slices.Clone(n.Dosings), func(d Dosing) bool { return d.TastingID != tastingID })
	slices.SortFunc(list, func(a, b Dosing) int {
		return cmp.Or(cmp.Compare(n.TasterName(a.TasterID), n.TasterName(b.TasterID)), cmp.Compare(a.Number, b.Number))
	})
	return list
}

// InDropper is how much of what is in a dropper is extract.
func (s ToTaste) InDropper(strength int) float64 { return s.Share * float64(strength) / 2 }

// StepAt is the step by which so much had gone into a glass in all, 0 for none, with what
// the steps near it had.
func (s ToTaste) StepAt(direction string, litres float64) (step int, near string) {
	// half a drop, so that what is read off a syringe is found
	const slackL = 2.6e-5
	var sum, before float64
	for k := range s.Steps(direction) {
		before = sum
		switch {
		case direction == DirectionUp:
			sum += s.UpL[k]
		case k > 0:
			sum += s.FillL
		}
		if math.Abs(sum-litres) <= slackL {
			return k + 1, ""
		}
		if sum > litres {
			break
		}
	}
	return 0, Number(Tidy(1000*before)) + " and " + Number(Tidy(1000*sum)) + " mL"
}

package doseresponse

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"strings"

	"hedgerow/report/evidence"
	"hedgerow/trials/figure"
)

// An Answer is what is printed for one study.
type Answer struct {
	ID             string         `json:"id"`                  // of the study
	Headline       []string       `json:"headline"`            // the answer in one to three sentences
	RightDose      figure.Stated  `json:"right_dose_g_per_l"`  // level 0.9
	Next           answerNext     `json:"next"`                // dose to brew
	SpreadGPerL    []float64      `json:"spread_g_per_l"`      // four doses for a split
	GlassesGPerL   []float64      `json:"glasses_g_per_l"`     // five doses for a bench series
	PNearBest      float64        `json:"p_near_best"`         // of the next dose
	ExpectedRegret float64        `json:"expected_regret"`     // of the next dose
	Methods        []answerMethod `json:"methods"`             // the reference first; empty without scores
	Verdict        Verdict        `json:"verdict"`             // what to do
	PAnyDoseLiked  *float64       `json:"p_any_dose_liked"`    // null: no liking, or none that tells
	PLikedThis     *float64       `json:"p_liked_this_method"` // by a method at hand, at its right dose
	PLikedOther    *float64       `json:"p_liked_other_method"`
	NearRight      *bool          `json:"near_right_tasted"`   // a beer with a liking was near the right dose
	Camps          []AnswerCamp   `json:"camps"`               // two, or none
	PIgnoreDose    *float64       `json:"p_votes_ignore_dose"` // null without votes
	Fade           *answerFade    `json:"fade"`                // null where age plays no part
	PullAtDays     *figure.Stated `json:"pull_at_days"`        // null where nothing was tasted on the way
	Window         *Window        `json:"window"`              // of the tastes to avoid
	Others         *AnswerOthers  `json:"others,omitempty"`    // absent where the study has no other brewers
	Warnings       []Warning      `json:"warnings"`            // empty, never null
	WarningCodes   []string       `json:"warning_codes"`       // of the warnings, each once
	Facts          facts          `json:"-"`                   // for the headline
}

// An answerNext is the next dose with the votes to expect.
type answerNext struct {
	DoseGPerL  float64 `json:"dose_g_per_l"` // in the reference method
	PTooLittle float64 `json:"p_too_little"` // the three shares sum to 1
	PRight     float64 `json:"p_right"`
	PTooMuch   float64 `json:"p_too_much"`
}

// An answerMethod is a method with its potency against the reference.
type answerMethod struct {
	Method          string        `json:"method"`           // as in the study
	RelativePotency figure.Stated `json:"relative_potency"` // level 0.9; the reference has the value 1 alone
}

// An AnswerCamp is one side of a panel that wants two beers.
type AnswerCamp struct {
	Tasters []string      `json:"tasters"`
	Dose    figure.Stated `json:"dose_g_per_l"` // its own right dose, level 0.9
	PRight  float64       `json:"p_right"`      // share of the side that finds its own dose just right
}

// An answerFade is how the taste fades with age.
type answerFade struct {
	LnPerWeek     figure.Stated `json:"ln_per_week"`     // loss of the ln of the effective dose, level 0.9
	HalfLifeWeeks *float64      `json:"half_life_weeks"` // null when it does not fade
	DrinkAtDays   float64       `json:"drink_at_days"`   // the age that the doses are for
	At30          float64       `json:"dose_g_per_l_at_30_days"`
	At90          float64       `json:"dose_g_per_l_at_90_days"`
	OldestDays    float64       `json:"-"` // the oldest age that was tasted
}

// splitJars is the number of jars in an answer.
const splitJars = 4

// Answer returns the answer to the study, ready for encoding/json: all numbers
// are finite. The doses of the bench series leave out the undosed anchor of
// Glasses. The headline is left to whoever puts it into words.
func (p *Posterior) Answer() Answer {
	r := p.ruleOnce()
	a := Answer{
		ID:             p.study.ID,
		Headline:       []string{},
		RightDose:      p.RightDose(),
		Next:           answerNext{r.next.DoseGPerL, r.next.PTooLittle, r.next.PRight, r.next.PTooMuch},
		SpreadGPerL:    p.Spread(splitJars),
		GlassesGPerL:   p.Glasses()[1:],
		PNearBest:      r.next.PNearBest,
		ExpectedRegret: r.next.ExpectedRegret,
		Methods:        []answerMethod{},
		Verdict:        r.verdict,
		Camps:          []AnswerCamp{},
		Others:         p.Others(),
		Warnings:       p.warnings(),
		Facts:          p.weighFacts(),
	}
	a.WarningCodes = codesOf(a.Warnings)
	if p.scored() {
		for _, m := range p.methodPotencies() {
			a.Methods = append(a.Methods, answerMethod{m.Method, m.Potency})
		}
	}
	p.answerLiked(&a)
	p.answerEdges(&a)
	return a
}

// answerLiked fills in what the likings say; nothing where the votes do not follow
// the dose.
func (p *Posterior) answerLiked(a *Answer) {
	l := p.likedNear()
	if !l.Known || a.Verdict == Retaste {
		return
	}
	near, liked := l.NearEnough(), max(l.Here, l.Other)
	a.PAnyDoseLiked, a.PLikedThis, a.PLikedOther, a.NearRight = &liked, &l.Here, &l.Other, &near
}

// answerEdges fills in camps, fade, pull and window.
func (p *Posterior) answerEdges(a *Answer) {
	if s := p.servedCamps(); s.Likely {
		for _, c := range s.Camps {
			a.Camps = append(a.Camps, AnswerCamp{c.Tasters, c.Dose, c.PRight})
		}
	}
	if len(p.prob.Votes) > 0 {
		ignored := p.ignored()
		a.PIgnoreDose = &ignored
	}
	if f, ok := p.fade(); ok {
		a.Fade = &answerFade{f.LnPerWeek, f.HalfLifeWeeks, f.DrinkAtDays, f.At30, f.At90, f.Oldest}
	}
	if q, ok := p.pulled(); ok && q.Days.Low != nil {
		a.PullAtDays = &q.Days
	}
	if w, ok := p.bestBoth(); ok {
		a.Window = &w
	}
}

// An errorAnswer stands in for an answer.
type errorAnswer struct {
	ID    string      `json:"id,omitempty"` // of the study, when it could be read
	Error errorDetail `json:"error"`
}

// An errorDetail is what is wrong with a line and what to write instead.
type errorDetail struct {
	Code    string `json:"code"` // bad_study or not_enough
	Message string `json:"message"`
	Hint    string `json:"hint"`
}

// AnswerLine returns the answer to one line of JSON, without a line end; headline
// puts it into words. For
// a line that cannot be answered it is an error object, and err tells why:
// ErrNotEnough, or an *InputError.
func AnswerLine(line []byte, headline func(Answer) []string) (answer []byte, err error) {
	s, err := readStudy(line)
	if err == nil {
		var p *Posterior
		if p, err = Fit(s, Options{}); err == nil {
			a := p.Answer()
			a.Headline = headline(a)
			answer, err = json.Marshal(a)
		}
	}
	if err != nil {
		// a reader of many lines expects an object for each, refused or not
		answer, _ = json.Marshal(refusal(s.ID, err)) // strings only: cannot fail
	}
	return answer, err
}

// refusal returns the error object of a study with the given id, which may be
// unknown.
func refusal(id string, err error) errorAnswer {
	d := errorDetail{Code: "bad_study", Message: err.Error(), Hint: "write one JSON study a line"}
	var input *evidence.InputError
	switch {
	case errors.Is(err, evidence.ErrNotEnough):
		d.Code = "not_enough"
		d.Hint = "add claims_g_per_l, or trials with a dose above 0 and scores"
	case errors.As(err, &input):
		d.Hint = input.Hint
	}
	return errorAnswer{ID: id, Error: d}
}

// A required holds the fields that a study cannot do without, to tell absent
// from zero.
type required struct {
	ID     *string `json:"id"`
	Trials []struct {
		DoseGPerL *float64 `json:"dose_g_per_l"`
	} `json:"trials"`
}

// readStudy returns the study written in one line of JSON. It returns an
// *InputError when the line is not JSON, has a field of the wrong kind, or
// lacks the id or the dose of a trial; it does not check the values.
func readStudy(line []byte) (evidence.Study, error) {
	var s evidence.Study
	if err := decode(line, &s); err != nil {
		return evidence.Study{}, err
	}
	// a second reading: in Study itself an absent dose would look like the 0 of a control
	var r required
	if err := decode(line, &r); err != nil {
		return evidence.Study{}, err
	}
	if r.ID == nil {
		return s, evidence.Bad(`give the study an id: {"id":"..","trials":[..]}`, "the study has no id")
	}
	for i, t := range r.Trials {
		if t.DoseGPerL == nil {
			return s, evidence.Bad("write dose_g_per_l, 0 for a control",
				"trial %s has no dose_g_per_l", evidence.TrialName(s.Trials[i], i))
		}
	}
	return s, nil
}

// inJSON names a type of ours as whoever writes JSON calls it.
func inJSON(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Slice, reflect.Array:
		return "a list"
	case reflect.Struct, reflect.Map:
		return "an object"
	case reflect.String:
		return "a text"
	case reflect.Int:
		return "a whole number"
	}
	return "a number"
}

// decode reads one JSON object with nothing after it. Keys that it does not
// know are left alone, so that a later version may add some.
func decode(line []byte, into any) error {
	// the decoder takes null for an empty study, and the fault would then seem to be a missing id
	if first := bytes.TrimLeft(line, " \t\r\n"); len(first) == 0 || first[0] != '{' {
		return evidence.Bad("write one JSON object a line", "the line is not a JSON object")
	}
	d := json.NewDecoder(bytes.NewReader(line))
	if err := d.Decode(into); err != nil {
		var kind *json.UnmarshalTypeError
		if errors.As(err, &kind) {
			if strings.Contains(kind.Field, "conditions") {
				return evidence.Bad(`write conditions as text: {"sugar":"10 g/L"}`, "%s is a %s, not a text",
					kind.Field, kind.Value)
			}
			return evidence.Bad("see hedgerow help study-format", "%s is a %s, not %s", kind.Field, kind.Value,
				inJSON(kind.Type))
		}
		return evidence.Bad("write one JSON object a line", "the line is not JSON: %v", err)
	}
	// the decoder stops after the first value: a second study on the line would be lost unsaid
	if _, err := d.Token(); err != io.EOF {
		return evidence.Bad("write one JSON object a line", "there is something after the JSON object")
	}
	return nil
}

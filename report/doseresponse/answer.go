package doseresponse

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"

	"hedgerow/trials/figure"
)

// An Answer is what is printed for one study.
type Answer struct {
	ID             string         `json:"id"`                 // of the study
	RightDose      figure.Stated  `json:"right_dose_g_per_l"` // level 0.9
	Next           answerNext     `json:"next"`               // dose to brew
	SpreadGPerL    []float64      `json:"spread_g_per_l"`     // four doses for a split
	GlassesGPerL   []float64      `json:"glasses_g_per_l"`    // five doses for a bench series
	PNearBest      float64        `json:"p_near_best"`        // of the next dose
	ExpectedRegret float64        `json:"expected_regret"`    // of the next dose
	Methods        []answerMethod `json:"methods"`            // the reference first; empty without scores
	Verdict        Verdict        `json:"verdict"`            // try, repeat, settled or drop
	PAnyDoseLiked  *float64       `json:"p_any_dose_liked"`   // null: no liking, or none that tells
	Warnings       []Warning      `json:"warnings"`           // empty, never null
	WarningCodes   []string       `json:"warning_codes"`      // of the warnings, each once
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

// splitJars is the number of jars in an answer.
const splitJars = 4

// Answer returns the answer to the study, ready for encoding/json: all numbers
// are finite. The doses of the bench series leave out the undosed anchor of
// Glasses.
func (p *Posterior) Answer() Answer {
	a := Answer{
		ID:             p.study.ID,
		RightDose:      p.RightDose(),
		Next:           answerNext{p.next.DoseGPerL, p.next.PTooLittle, p.next.PRight, p.next.PTooMuch},
		SpreadGPerL:    p.Spread(splitJars),
		GlassesGPerL:   p.Glasses()[1:],
		PNearBest:      p.next.PNearBest,
		ExpectedRegret: p.next.ExpectedRegret,
		Methods:        []answerMethod{},
		Verdict:        p.verdict(),
		Warnings:       p.warnings(),
	}
	a.WarningCodes = codesOf(a.Warnings)
	if len(p.prob.trials) > 0 {
		for _, m := range p.methodPotencies() {
			a.Methods = append(a.Methods, answerMethod{m.Method, m.Potency})
		}
	}
	if prob, ok := p.anyDoseLiked(); ok {
		a.PAnyDoseLiked = &prob
	}
	return a
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

// AnswerLine returns the answer to one line of JSON, without a line end. For
// a line that cannot be answered it is an error object, and err tells why:
// ErrNotEnough, or an *InputError.
func AnswerLine(line []byte) (answer []byte, err error) {
	s, err := readStudy(line)
	if err == nil {
		var p *Posterior
		if p, err = Fit(s, Options{}); err == nil {
			answer, err = json.Marshal(p.Answer())
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
	var input *InputError
	switch {
	case errors.Is(err, ErrNotEnough):
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
func readStudy(line []byte) (Study, error) {
	var s Study
	if err := decode(line, &s); err != nil {
		return Study{}, err
	}
	// a second reading: in Study itself an absent dose would look like the 0 of a control
	var r required
	if err := decode(line, &r); err != nil {
		return Study{}, err
	}
	if r.ID == nil {
		return s, bad(`give the study an id: {"id":"..","trials":[..]}`, "the study has no id")
	}
	for i, t := range r.Trials {
		if t.DoseGPerL == nil {
			return s, bad("write dose_g_per_l, 0 for a control",
				"trial %s has no dose_g_per_l", trialName(s.Trials[i], i))
		}
	}
	return s, nil
}

// decode reads one JSON object with nothing after it. Keys that it does not
// know are left alone, so that a later version may add some.
func decode(line []byte, into any) error {
	// the decoder takes null for an empty study, and the fault would then seem to be a missing id
	if first := bytes.TrimLeft(line, " \t\r\n"); len(first) == 0 || first[0] != '{' {
		return bad("write one JSON object a line", "the line is not a JSON object")
	}
	d := json.NewDecoder(bytes.NewReader(line))
	if err := d.Decode(into); err != nil {
		var kind *json.UnmarshalTypeError
		if errors.As(err, &kind) {
			if strings.Contains(kind.Field, "conditions") {
				return bad(`write conditions as text: {"sugar":"10 g/L"}`, "%s is a %s, not a text", kind.Field, kind.Value)
			}
			return bad("see the study format in the help of suggest",
				"%s is a %s, not a %s", kind.Field, kind.Value, kind.Type)
		}
		return bad("write one JSON object a line", "the line is not JSON: %v", err)
	}
	// the decoder stops after the first value: a second study on the line would be lost unsaid
	if _, err := d.Token(); err != io.EOF {
		return bad("write one JSON object a line", "there is something after the JSON object")
	}
	return nil
}

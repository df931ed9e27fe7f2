package doseresponse

import (
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"hedgerow/report/evidence"
)

// The line is the example of the machine-readable contract, filled in.
const contractLine = `{"id":"s1","material":"yarrow","claims_g_per_l":[[1,8]],"attribute":"aroma",
"trials":[{"id":"T1","dose_g_per_l":2.5,"kind":"batch","group":"B1","method":"tea","days_old":30,"dose_sd_ln":0.1,
"scores":[{"taster":"A","vote":-1,"intensity":4.0,"liking":6},{"taster":"B","vote":0}]},
{"id":"T2","dose_g_per_l":4,"kind":"batch","group":"B2","method":"contact","scores":[{"taster":"A","intensity":6}]}],
"method_prior":{"tea":{"ln":0,"sd":0.5}},"wish":{"liking":6}}`

// keys returns the sorted keys of a JSON object.
func keys(t *testing.T, raw json.RawMessage) []string {
	t.Helper()
	var m map[string]json.RawMessage
	if err := json.Unmarshal(raw, &m); err != nil {
		t.Fatalf("%v in %s", err, raw)
	}
	return slices.Sorted(maps.Keys(m))
}

// The keys of the contract, word for word.
func TestAnswerKeys(t *testing.T) {
	out, err := AnswerLine([]byte(contractLine), wordless)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Fields("camps expected_regret fade glasses_g_per_l headline id methods near_right_tasted next " +
		"p_any_dose_liked p_liked_other_method p_liked_this_method p_near_best p_votes_ignore_dose pull_at_days " +
		"right_dose_g_per_l spread_g_per_l verdict warning_codes warnings window")
	if got := keys(t, out); !slices.Equal(got, want) {
		t.Errorf("keys %v\nwant %v", got, want)
	}
	var a struct {
		ID        string          `json:"id"`
		RightDose json.RawMessage `json:"right_dose_g_per_l"`
		Next      json.RawMessage `json:"next"`
		Spread    []float64       `json:"spread_g_per_l"`
		Glasses   []float64       `json:"glasses_g_per_l"`
		Methods   []struct {
			Method  string          `json:"method"`
			Potency json.RawMessage `json:"relative_potency"`
		} `json:"methods"`
	}
	if err := json.Unmarshal(out, &a); err != nil {
		t.Fatal(err)
	}
	if got := keys(t, a.RightDose); !slices.Equal(got, strings.Fields("high level low value")) {
		t.Errorf("right dose has %v", got)
	}
	if got := keys(t, a.Next); !slices.Equal(got, strings.Fields("dose_g_per_l p_right p_too_little p_too_much")) {
		t.Errorf("next has %v", got)
	}
	if a.ID != "s1" || len(a.Spread) != 4 || len(a.Glasses) != 5 || len(a.Methods) != 2 {
		t.Errorf("answer %s", out)
	}
	if got := keys(t, a.Methods[0].Potency); !slices.Equal(got, []string{"value"}) {
		t.Errorf("the reference method has %v, want a value alone", got)
	}
}

// A line that cannot be answered gives an error object that names the value.
func TestAnswerLineRefusals(t *testing.T) {
	tests := []struct{ name, line, code, message string }{
		{"not JSON", `{"id":`, "bad_study", "not JSON"},
		{"empty", ``, "bad_study", "not a JSON object"},
		{"an array", `[1,2]`, "bad_study", "not a JSON object"},
		{"two objects", `{"id":"a","claims_g_per_l":[[1,2]]} {}`, "bad_study", "after the JSON object"},
		{"wrong kind", `{"id":"a","trials":[{"dose_g_per_l":"much"}]}`, "bad_study", "dose_g_per_l"},
		{"a text for a list", `{"id":"a","trials":"x"}`, "bad_study", "trials is a string, not a list"},
		{"no id", `{"claims_g_per_l":[[1,2]]}`, "bad_study", "no id"},
		{"no dose", `{"id":"a","trials":[{"id":"T1","scores":[]}]}`, "bad_study", "trial T1 has no dose_g_per_l"},
		{"no taster", `{"id":"a","trials":[{"id":"T1","dose_g_per_l":1,"scores":[{"vote":0}]}]}`, "bad_study",
			"no taster"},
		{"nothing to go by", `{"id":"a"}`, "not_enough", "neither claims nor scores"},
		{"a condition that is a number", `{"id":"a","trials":[{"id":"T1","dose_g_per_l":1,"conditions":{"sugar":10}}]}`,
			"bad_study", "conditions is a number, not a text"},
		{"low above high", `{"id":"a","claims_g_per_l":[[8,1]]}`, "bad_study", "claim [8, 1]"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := AnswerLine([]byte(tt.line), wordless)
			if err == nil {
				t.Fatalf("answered: %s", out)
			}
			var got errorAnswer
			if err := json.Unmarshal(out, &got); err != nil {
				t.Fatal(err)
			}
			if got.Error.Code != tt.code || !strings.Contains(got.Error.Message, tt.message) || got.Error.Hint == "" {
				t.Errorf("error %+v, want %s with %q and a hint", got.Error, tt.code, tt.message)
			}
		})
	}
}

func TestReadStudy(t *testing.T) {
	s, err := readStudy([]byte(contractLine))
	if err != nil {
		t.Fatal(err)
	}
	tr := s.Trials[0]
	if s.Material != "yarrow" || s.Attribute != "aroma" || s.Wish.Liking != 6 || s.MethodPrior["tea"].SD != 0.5 {
		t.Errorf("study %+v", s)
	}
	if tr.DoseGPerL != 2.5 || tr.DoseSDLn != 0.1 || tr.Kind != evidence.Batch || tr.Group != "B1" || *tr.DaysOld != 30 {
		t.Errorf("trial %+v", tr)
	}
	if sc := tr.Scores[1]; sc.Taster != "B" || *sc.Vote != 0 || sc.Intensity != nil || sc.Liking != nil {
		t.Errorf("score %+v: absent is not zero", sc)
	}
}

// Without a liking the chance is unknown, which is null and not 0.
func TestUnknownLiking(t *testing.T) {
	a := mustFit(t, eightfold(trial("1", 3, 0)), Options{Approximate: true}).Answer()
	if a.PAnyDoseLiked != nil {
		t.Errorf("chance %g out of no liking", *a.PAnyDoseLiked)
	}
}

func TestValidate(t *testing.T) {
	num := func(x float64) *float64 { return &x }
	three := 3
	tests := []struct {
		name, want string
		change     func(*evidence.Study)
	}{
		{"claim of 0", "claim [0, 8]", func(s *evidence.Study) { s.ClaimsGPerL[0][0] = 0 }},
		{"claim turned round", "low above its high", func(s *evidence.Study) { s.ClaimsGPerL[0] = [2]float64{8, 1} }},
		{"negative dose", "dose -1 g/L", func(s *evidence.Study) { s.Trials[0].DoseGPerL = -1 }},
		{"dose beyond weight", "dose 2000 g/L", func(s *evidence.Study) { s.Trials[0].DoseGPerL = 2000 }},
		{"dose error", "dose_sd_ln -0.1", func(s *evidence.Study) { s.Trials[0].DoseSDLn = -0.1 }},
		{"kind", `kind "bucket"`, func(s *evidence.Study) { s.Trials[0].Kind = "bucket" }},
		{"age", "days_old -2", func(s *evidence.Study) { s.Trials[0].DaysOld = num(-2) }},
		{"age of a beer", "days_old 0", func(s *evidence.Study) { s.Trials[0].DaysOld = num(0) }},
		{"age of a glass", "days_old -1", func(s *evidence.Study) {
			s.Trials[0].Kind,
				s.Trials[0].DaysOld = evidence.Glass, num(-1)
		}},
		{"contact", "contact_days 0", func(s *evidence.Study) { s.Trials[0].ContactDays = num(0) }},
		{"drunk", "drink_at_days -3", func(s *evidence.Study) { s.DrinkAtDays = num(-3) }},
		{"two of one name", `the id "1"`, func(s *evidence.Study) { s.Trials = append(s.Trials, s.Trials[0]) }},
		{"vote", "vote 3", func(s *evidence.Study) { s.Trials[0].Scores[0].Vote = &three }},
		{"intensity", "intensity 11", func(s *evidence.Study) { s.Trials[0].Scores[0].Intensity = num(11) }},
		{"liking", "liking 0", func(s *evidence.Study) { s.Trials[0].Scores[0].Liking = num(0) }},
		{"method prior", `method_prior of "tea"`,
			func(s *evidence.Study) { s.MethodPrior = map[string]evidence.MethodPrior{"tea": {Ln: 0, SD: -1}} }},
		{"wish", "wish: liking 12", func(s *evidence.Study) { s.Wish = &evidence.Wish{Liking: 12} }},
		{"target", "target intensity 10", func(s *evidence.Study) { s.TargetIntensity = num(10) }},
		{"memory", "remembered taster A", func(s *evidence.Study) {
			s.Remembered = map[string]evidence.TasterPrior{"A": {}}
		}},
		{"scale memory", "scale_sd 0", func(s *evidence.Study) {
			s.Remembered = map[string]evidence.TasterPrior{"A": {OffsetSDLn: 1}}
		}},
		{"sharpness", "sharpness -1", func(s *evidence.Study) {
			s.Remembered = map[string]evidence.TasterPrior{"A": {OffsetSDLn: 1, ScaleSD: 1, Sharpness: -1}}
		}},
		{"avoid limit", "limit 0", func(s *evidence.Study) { s.Avoid = []evidence.Avoid{{Attribute: "harsh"}} }},
		{"avoid trial", `trial "9"`, func(s *evidence.Study) {
			s.Avoid = []evidence.Avoid{{Attribute: "harsh", AtMost: 3,
				Scores: []evidence.AvoidScore{{Trial: "9", Taster: "A", Intensity: 1}}}}
		}},
		{"avoid score", "intensity 12", func(s *evidence.Study) {
			s.Avoid = []evidence.Avoid{{Attribute: "harsh", AtMost: 3,
				Scores: []evidence.AvoidScore{{Trial: "1", Taster: "A", Intensity: 12}}}}
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := eightfold(trial("1", 3, 0))
			tt.change(&s)
			_, err := Fit(s, Options{})
			var input *evidence.InputError
			if !errors.As(err, &input) || !strings.Contains(input.Message, tt.want) || input.Hint == "" {
				t.Errorf("err = %v, want an InputError with %q and a hint", err, tt.want)
			}
		})
	}
	if err := eightfold(trial("1", 3, 0)).Validate(); err != nil {
		t.Errorf("good study refused: %v", err)
	}
}

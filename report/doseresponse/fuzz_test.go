package doseresponse

import (
	"encoding/json"
	"testing"
)

// FuzzAnswerLine: whatever the line, the answer is one JSON object, and an
// error object exactly when there is an error.
func FuzzAnswerLine(f *testing.F) {
	for _, line := range []string{
		contractLine,
		`{"id":"a"}`,
		`{"id":"a","claims_g_per_l":[[1,1]],"trials":null}`,
		`{"id":"a","claims_g_per_l":[[0.000001,1000]],"trials":[` +
			`{"dose_g_per_l":1000,"kind":"glass","scores":[{"taster":"A","vote":-1}]}]}`,
		`{"id":"a","trials":[{"dose_g_per_l":0,"scores":[{"taster":"A","vote":0,"intensity":0,"liking":1}]},` +
			`{"dose_g_per_l":3,"dose_sd_ln":3,"scores":[{"taster":"A","intensity":10}]}]}`,
		`{"id":"a","claims_g_per_l":[[1,8]],"target_intensity":6,"avoid":[{"attribute":"harsh","at_most":3}]}`,
		`{"id":"a","dosed_to_taste":[{"taster":"A","extract":"used","direction":"down","step_factor":3,` +
			`"too_much_g_per_l":9,"stopped_at_g_per_l":0.000001,"method":"tea"}]}`,
		`null`, `{`, "\x00", `{"id":1e999}`,
	} {
		f.Add([]byte(line))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		out, err := AnswerLine(line, wordless)
		var got struct {
			Error   *errorDetail `json:"error"`
			Verdict *Verdict     `json:"verdict"`
		}
		if bad := json.Unmarshal(out, &got); bad != nil {
			t.Fatalf("answer %q: %v", out, bad)
		}
		if (err != nil) != (got.Error != nil) || (err == nil) != (got.Verdict != nil) {
			t.Fatalf("err %v, answer %s", err, out)
		}
	})
}

package decisions

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// study is one line: a claim, and two trials with one vote each.
func study(id string) string {
	return fmt.Sprintf(`{"id":%q,"material":"heather","claims_g_per_l":[[1,4]],"attribute":"floral","trials":[`+
		`{"id":"T1","dose_g_per_l":1,"kind":"batch","group":"B1","method":"tea","scores":[{"taster":"A","vote":-1}]},`+
		`{"id":"T2","dose_g_per_l":4,"kind":"batch","group":"B2","method":"tea","scores":[{"taster":"A","vote":1}]}]}`, id)
}

// answers runs studies and returns the lines.
func answers(t testing.TB, in string, workers int) ([]string, int) {
	t.Helper()
	var out strings.Builder
	bad, err := AnswerStudies(context.Background(), strings.NewReader(in), &out, workers)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n"), bad
}

// Answers come in the order of the questions, however many work on them, one
// line each, and do not depend on the number of workers.
func TestStudiesAreAnsweredInOrder(t *testing.T) {
	var in []string
	for i := range 8 {
		in = append(in, study(fmt.Sprint("S", i)), "", "  ")
	}
	one, _ := answers(t, strings.Join(in, "\n"), 1)
	three, bad := answers(t, strings.Join(in, "\n")+"\n", 3)
	if len(three) != 8 || bad != 0 {
		t.Fatalf("%d answers, %d bad", len(three), bad)
	}
	for i, line := range three {
		var a struct {
			ID   string `json:"id"`
			Next struct {
				Dose float64 `json:"dose_g_per_l"`
			} `json:"next"`
		}
		if err := json.Unmarshal([]byte(line), &a); err != nil || a.ID != fmt.Sprint("S", i) || line != one[i] {
			t.Errorf("line %d: %s, %v", i, line, err)
		}
		// Too little at 1, too much at 4: the next dose lies between.
		if a.Next.Dose < 1 || a.Next.Dose > 4 {
			t.Errorf("next dose %g", a.Next.Dose)
		}
	}
}

// A bad line is answered by an error object in its place; the rest goes on.
func TestBadStudiesAreAnsweredToo(t *testing.T) {
	lines, bad := answers(t, strings.Join([]string{study("S0"), "{", `{"id":"empty"}`, study("S3")}, "\n"), 2)
	if len(lines) != 4 || bad != 2 {
		t.Fatalf("%d answers, %d bad: %q", len(lines), bad, lines)
	}
	for i, isBad := range []bool{false, true, true, false} {
		var a struct {
			Error *struct{ Code, Message, Hint string } `json:"error"`
		}
		if err := json.Unmarshal([]byte(lines[i]), &a); err != nil || (a.Error != nil) != isBad {
			t.Errorf("line %d: %s, %v", i, lines[i], err)
		}
		if isBad && (a.Error.Code == "" || a.Error.Message == "") {
			t.Errorf("line %d: %s", i, lines[i])
		}
	}
}

// A reader that breaks, a writer that is full and an interruption end in an
// error, never in a hang.
func TestStudiesThatBreakOff(t *testing.T) {
	boom := errors.New("boom")
	if _, err := AnswerStudies(context.Background(), broken{boom}, &strings.Builder{}, 2); !errors.Is(err, boom) {
		t.Errorf("a broken reader: %v", err)
	}
	if _, err := AnswerStudies(context.Background(), strings.NewReader(strings.Repeat(study("S")+"\n", 12)), full{boom},
		2); !errors.Is(err, boom) {
		t.Errorf("a full writer: %v", err)
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := AnswerStudies(stopped, strings.NewReader(strings.Repeat(study("S")+"\n", 5)), &strings.Builder{},
		2); !errors.Is(err, context.Canceled) {
		t.Errorf("an interruption: %v", err)
	}
	if _, err := AnswerStudies(context.Background(), strings.NewReader(strings.Repeat("x", longestStudy+1)),
		&strings.Builder{}, 2); err == nil {
		t.Error("a line without end was taken")
	}
}

// broken is a reader, full a writer, that only fails.
type broken struct{ err error }

func (b broken) Read([]byte) (int, error) { return 0, b.err }

type full struct{ err error }

func (f full) Write([]byte) (int, error) { return 0, f.err }

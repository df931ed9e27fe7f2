package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hedgerow/trials"
)

// pair is two invented notebooks with what must come of joining them, written from
// the rules of the package before there was a program.
type pair struct {
	Ours   json.RawMessage `json:"ours"`
	Theirs json.RawMessage `json:"theirs"`
	Cases  []struct {
		Drop       []string `json:"drop"`
		AsDatabase string   `json:"as_database"`
		Told       struct {
			Tasters     map[string]string `json:"tasters"`
			Materials   map[string]string `json:"materials"`
			ChangedBoth map[string]string `json:"changed_both"`
		} `json:"told"`
		Twice    bool                        `json:"twice"`
		Outcome  string                      `json:"outcome"`
		Exit     int                         `json:"exit"`
		Asks     []struct{ Kind, ID string } `json:"asks"`
		Warnings []struct {
			About string
			Say   []string
		} `json:"warnings"`
		Errors []struct {
			Record string
			Say    []string
		} `json:"errors"`
		After struct {
			Counts  map[string]int              `json:"counts"`
			Records map[string][]map[string]any `json:"records"`
			Gone    []string                    `json:"gone"`
		} `json:"after"`
	} `json:"cases"`
}

// codes are the exit codes of kinds of problems.
var codes = map[int]trials.Code{2: trials.Invalid, 3: trials.NotFound, 6: trials.ForeignNotebook}

// Each pair of notebooks gives what is written down for it.
func TestMergePairs(t *testing.T) {
	names, _ := filepath.Glob(filepath.Join("testdata", "m*.json"))
	if len(names) != 3 {
		t.Fatalf("%d pairs", len(names))
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var p pair
		if err := json.Unmarshal(text, &p); err != nil {
			t.Fatal(err)
		}
		for i, c := range p.Cases {
			if c.AsDatabase != "" {
				continue // whole files are joined in the tests of the command
			}
			t.Run(fmt.Sprint(filepath.Base(name), i), func(t *testing.T) { p.check(t, i) })
		}
	}
}

// dropped takes records out of an export.
func dropped(t *testing.T, raw json.RawMessage, ids []string) []byte {
	t.Helper()
	var f map[string]any
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	records := f["records"].(map[string]any)
	for kind, list := range records {
		records[kind] = slices.DeleteFunc(list.([]any), func(r any) bool {
			return slices.Contains(ids, r.(map[string]any)["id"].(string))
		})
	}
	text, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// check plays one case.
func (p pair) check(t *testing.T, number int) {
	c := p.Cases[number]
	ours, err := Read(bytes.NewReader(p.Ours))
	if err != nil {
		t.Fatal(err)
	}
	told := Told{Tasters: c.Told.Tasters, Materials: c.Told.Materials, Answers: c.Told.ChangedBoth}
	theirs, err := Read(bytes.NewReader(dropped(t, p.Theirs, c.Drop)))
	var out Merged
	if err == nil {
		out, err = Merge(ours, theirs, told)
	}
	if c.Outcome == "refuse" {
		checkRefusal(t, err, c.Exit, c.Errors[0].Record, c.Errors[0].Say)
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	if c.Twice {
		if out, err = Merge(out.Whole, theirs, told); err != nil {
			// the question of the first time need not be asked again once theirs was taken
			told.Answers = nil
			out, err = Merge(out.Whole, theirs, told)
		}
		if err != nil || len(out.Counts) > 0 {
			t.Errorf("a second time: %v %v", out.Counts, err)
		}
	}
	if (len(out.Asks) > 0) != (c.Outcome == "ask") {
		t.Errorf("questions are %+v", out.Asks)
	}
	for _, q := range c.Asks {
		if !slices.ContainsFunc(out.Asks, func(a Ask) bool {
			return a.Kind == q.Kind && a.ID == q.ID &&
				len(a.Fields) == 2
		}) {
			t.Errorf("no question about %s %s in %+v", q.Kind, q.ID, out.Asks)
		}
	}
	for _, w := range c.Warnings {
		if !slices.ContainsFunc(out.Remarks, func(m Remark) bool { return m.About == w.About && saysAll(m.Text, w.Say) }) {
			t.Errorf("no remark %+v in %+v", w, out.Remarks)
		}
	}
	checkAfter(t, out.Whole, c.After.Counts, c.After.Records, c.After.Gone)
}

// saysAll reports whether all texts stand in a message.
func saysAll(message string, texts []string) bool {
	for _, s := range texts {
		if !strings.Contains(message, s) {
			return false
		}
	}
	return true
}

// checkRefusal demands a refusal with an exit code that says some texts.
func checkRefusal(t *testing.T, err error, exit int, record string, say []string) {
	t.Helper()
	var p *trials.Problem
	if !errors.As(err, &p) || p.Code != codes[exit] {
		t.Fatalf("refused with %v, want exit %d", err, exit)
	}
	if text := p.Message + p.Hint; !saysAll(text, say) || !strings.Contains(text, record) || p.Hint == "" {
		t.Errorf("%q does not say %q of %s", text, say, record)
	}
}

// checkAfter compares the joined notebook.
func checkAfter(t *testing.T, n *trials.Notebook, counts map[string]int, want map[string][]map[string]any,
	gone []string) {
	t.Helper()
	var text bytes.Buffer
	if err := Write(&text, n); err != nil {
		t.Fatal(err)
	}
	var f struct{ Records map[string][]map[string]any }
	if err := json.Unmarshal(text.Bytes(), &f); err != nil {
		t.Fatal(err)
	}
	for kind, count := range counts {
		if len(f.Records[kind]) != count {
			t.Errorf("%d records of kind %s, want %d", len(f.Records[kind]), kind, count)
		}
	}
	for kind, list := range want {
		for _, w := range list {
			if !slices.ContainsFunc(f.Records[kind], func(r map[string]any) bool { return agrees(r, w) }) {
				t.Errorf("no %s is %v in %v", kind, w, f.Records[kind])
			}
		}
	}
	for _, id := range gone {
		if strings.Contains(text.String(), `"id": "`+id+`"`) {
			t.Errorf("%s is still there", id)
		}
	}
}

// agrees reports whether a record has every figure that is written down.
func agrees(r, want map[string]any) bool {
	for key, v := range want {
		if r[key] != v {
			return false
		}
	}
	return true
}

package sheets

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the answers are for one time zone, which the machine may not have

	"hedgerow/trials"
)

// expectations is testdata/expected.json: what each of the invented sheets must
// give. It was written from the rules of the sheets (see the package comment) before
// there was a program to read them, and each record in it was checked by a person.
type expectations struct {
	TimeZone string `json:"time_zone"`
	Notebook struct {
		Batches []struct {
			Name      string    `json:"name"`
			VolumeL   float64   `json:"volume_l"`
			OG        float64   `json:"og"`
			StartedAt time.Time `json:"started_at"`
		} `json:"batches"`
	} `json:"notebook"`
	Files map[string]expectation `json:"files"`
}

// expectation is what one sheet must give.
type expectation struct {
	outcome
	Given    map[string]string `json:"given"`
	Then     []outcome         `json:"then"`
	Repaired *struct {
		Replace map[string]string `json:"replace"`
		outcome
	} `json:"repaired"`
}

// outcome is the answer to one reading.
type outcome struct {
	Kind      *string            `json:"kind"`
	Outcome   string             `json:"outcome"`
	Answers   map[string]string  `json:"answers"`
	Records   []map[string]any   `json:"records"`
	Warnings  []said             `json:"warnings"`
	Asks      []said             `json:"asks"`
	Errors    []said             `json:"errors"`
	Tolerance map[string]float64 `json:"tolerance"`
	Free      string             `json:"free"`
}

// said is a remark, a question or a fault.
type said struct {
	About   string   `json:"about"`
	Line    any      `json:"line"`
	Column  int      `json:"column"`
	Header  string   `json:"header"`
	Value   string   `json:"value"`
	Say     []string `json:"say"`
	Options []string `json:"options"`
	Why     string   `json:"why"`
}

// expected reads the expectations.
func expected(t *testing.T) expectations {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var e expectations
	if err := json.Unmarshal(text, &e); err != nil {
		t.Fatal(err)
	}
	if len(e.Files) != 14 {
		t.Fatalf("%d sheets are expected, not 14", len(e.Files))
	}
	return e
}

// notebook makes the notebook that the sheets are read against.
func (e expectations) notebook() *trials.Notebook {
	n := &trials.Notebook{}
	for i, b := range e.Notebook.Batches {
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: fmt.Sprint("batch", i), Name: b.Name},
			Kind: trials.KindBatch, VolumeL: b.VolumeL, OG: &b.OG, StartedAt: b.StartedAt})
	}
	return n
}

// options are what is told beside a sheet.
func (e expectations) options(t *testing.T, given map[string]string) Options {
	t.Helper()
	zone, err := time.LoadLocation(e.TimeZone)
	if err != nil {
		t.Fatal(err)
	}
	return Options{Tasting: given["tasting"], At: given["at"], Now: time.Date(2026, 5, 1, 12, 0, 0, 0, zone),
		// the gravity of a sugar solution by its first two terms suffices here: ASBC, SG = 1 + P/(258.6 - 227.1 P/258.2)
		SGOfPlato: func(p float64) float64 { return 1 + p/(258.6-227.1*p/258.2) }}
}

// Each sheet gives the records, remarks, questions and faults that are written down
// for it, and nothing the second time.
func TestSheets(t *testing.T) {
	e := expected(t)
	for name, want := range e.Files {
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join("testdata", name))
			if err != nil {
				t.Fatal(err)
			}
			o := e.options(t, want.Given)
			e.check(t, data, o, want.outcome)
			for _, then := range want.Then {
				then.Outcome, then.Kind = "read", want.Kind
				with := o
				for key, answer := range then.Answers {
					with.Answers = append(with.Answers, key+"="+answer)
				}
				e.check(t, data, with, then)
			}
			if want.Repaired != nil {
				text := string(data)
				for old, put := range want.Repaired.Replace {
					text = strings.ReplaceAll(text, old, put)
				}
				want.Repaired.Kind = want.Kind
				e.check(t, []byte(text), o, want.Repaired.outcome)
			}
		})
	}
}

// check reads a sheet and compares it with what is expected.
func (e expectations) check(t *testing.T, data []byte, o Options, want outcome) {
	t.Helper()
	n := e.notebook()
	s, err := Read(data, n, o)
	if err != nil {
		t.Fatal(err)
	}
	if want.Kind != nil && s.Kind != *want.Kind {
		t.Errorf("kind is %q, want %q", s.Kind, *want.Kind)
	}
	if got := outcomeOf(s); got != want.Outcome {
		// the only one that may be refused though it is to be read
		if want.Free != "" && strings.Contains(want.Free, "refuse") && got == "refuse" {
			return
		}
		t.Errorf("outcome is %s, want %s: %+v %+v", got, want.Outcome, s.Faults, s.Asks)
	}
	if want.Outcome == "read" {
		compareRecords(t, s, want)
		twice(t, data, n, o, s)
	}
	for _, w := range want.Warnings {
		if !slices.ContainsFunc(s.Remarks, func(m Remark) bool { return w.fits(m) }) {
			t.Errorf("no remark fits %+v; there are\n%s", w, show(s.Remarks))
		}
	}
	for _, q := range want.Asks {
		if !slices.ContainsFunc(s.Asks, func(a Ask) bool { return q.isAsk(a) }) {
			t.Errorf("no question fits %+v; there are\n%s", q, show(s.Asks))
		}
	}
	if len(s.Asks) != len(want.Asks) {
		t.Errorf("%d questions, want %d: %s", len(s.Asks), len(want.Asks), show(s.Asks))
	}
	for _, f := range want.Errors {
		if !slices.ContainsFunc(s.Faults, func(x Fault) bool { return f.isFault(x) }) {
			t.Errorf("no fault fits %+v; there are\n%s", f, show(s.Faults))
		}
	}
	if len(s.Faults) != len(want.Errors) {
		t.Errorf("%d faults, want %d: %s", len(s.Faults), len(want.Errors), show(s.Faults))
	}
}

// outcomeOf is the outcome of a reading in one word.
func outcomeOf(s Sheet) string {
	switch {
	case len(s.Faults) > 0:
		return "refuse"
	case len(s.Asks) > 0:
		return "ask"
	}
	return "read"
}

// show prints a list for a message.
func show(list any) string {
	text, _ := json.MarshalIndent(list, "", " ")
	return string(text)
}

// lines are the lines of a remark that is expected, none if it does not matter.
func (w said) lines() []int {
	switch line := w.Line.(type) {
	case float64:
		return []int{int(line)}
	case []any:
		var list []int
		for _, l := range line {
			list = append(list, int(l.(float64)))
		}
		return list
	}
	return nil
}

// fits reports whether a remark is the one expected.
func (w said) fits(m Remark) bool {
	if w.About != m.About || w.Header != "" && w.Header != m.Header || w.Column != 0 && w.Column != m.Column {
		return false
	}
	for _, line := range w.lines() {
		if !slices.Contains(m.Lines, line) {
			return false
		}
	}
	for _, text := range w.Say {
		if !strings.Contains(strings.ToLower(m.Text), strings.ToLower(text)) {
			return false
		}
	}
	return true
}

// isAsk reports whether a question is the one expected.
func (w said) isAsk(a Ask) bool {
	if a.About != w.About || a.Header != w.Header || a.Column != w.Column || a.Value != w.Value ||
		!slices.Contains(w.lines(), a.Line) {
		return false
	}
	for _, o := range w.Options {
		if !slices.Contains(a.Options, o) {
			return false
		}
	}
	return true
}

// isFault reports whether a fault is the one expected.
func (w said) isFault(f Fault) bool {
	return slices.Contains(w.lines(), f.Line) && (w.Header == "" || w.Header == f.Header) &&
		(w.Column == 0 || w.Column == f.Column) && w.Value == f.Value && f.Do != "" &&
		strings.Contains(strings.ToLower(f.Why), strings.ToLower(w.Why))
}

// compareRecords compares the rows that were read with those expected.
func compareRecords(t *testing.T, s Sheet, want outcome) {
	t.Helper()
	text, err := json.Marshal(s.AllRecords())
	if err != nil {
		t.Fatal(err)
	}
	var got []map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if len(got) != len(want.Records) {
		t.Errorf("%d records, want %d: %s", len(got), len(want.Records), show(got))
	}
	for _, w := range want.Records {
		if !slices.ContainsFunc(got, func(g map[string]any) bool { return sameRecord(g, w, want) }) {
			t.Errorf("no record is %v", w)
		}
	}
}

// besides are the keys that a record may have though it is not written down.
var besides = []string{"line", "column", "tasting", "stage", "position", "basis"}

// sameRecord reports whether a record is the one expected, unknown where that is.
func sameRecord(got, want map[string]any, o outcome) bool {
	for key, w := range want {
		a, isNumber := w.(float64)
		b, alsoNumber := got[key].(float64)
		tolerance := 1e-5 * math.Abs(a)
		if wide, ok := o.Tolerance[key]; ok {
			tolerance = wide
		}
		switch {
		case isNumber && (!alsoNumber || math.Abs(a-b) > tolerance):
			return false
		case !isNumber && w != got[key]:
			return false
		}
	}
	for key := range got {
		if _, expected := want[key]; !expected && !slices.Contains(besides, key) {
			return false
		}
	}
	return true
}

// twice puts what was read into the notebook and reads the sheet again: nothing may
// be new.
func twice(t *testing.T, data []byte, n *trials.Notebook, o Options, before Sheet) {
	t.Helper()
	kept := put(n, before.New)
	again, err := Read(data, kept, o)
	if err != nil {
		t.Fatal(err)
	}
	if !again.Ready() || again.Count() != 0 || again.Already != before.Count() {
		t.Errorf("read again: %d new, %d already there of %d, %s %s", again.Count(), again.Already, before.Count(),
			show(again.Asks), show(again.Faults))
	}
}

// put adds records to a notebook as the store would.
func put(n *trials.Notebook, r newRecords) *trials.Notebook {
	with := *n
	with.Batches = append(slices.Clone(n.Batches), r.Batches...)
	with.Extracts, with.Additions = append(with.Extracts, r.Extracts...), append(with.Additions, r.Additions...)
	with.Readings, with.Claims = append(with.Readings, r.Readings...), append(with.Claims, r.Claims...)
	for _, e := range r.Evenings {
		with.Tastings = append(with.Tastings, e.Tasting)
		with.Servings, with.Tasters = append(with.Servings, e.Servings...), append(with.Tasters, e.Tasters...)
		with.Scores, with.TasterNotes = append(with.Scores, e.Scores...), append(with.TasterNotes, e.Notes...)
	}
	return &with
}

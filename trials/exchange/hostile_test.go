package exchange

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hedgerow/trials"
)

// one is an export with one record, or several parts with commas between them.
func one(records string) string {
	return `{"format": "hedgerow-export", "version": 1, "records": {` + records + `}}`
}

// times are those that a record must have.
const times = `"created_at": "2026-03-01T12:00:00Z", "changed_at": "2026-03-01T12:00:00Z"`

// A record that typed input would refuse, or that refers to one that is not there, is
// refused with its name, and nothing is joined.
func TestHostileExports(t *testing.T) {
	batch := func(figures string) string {
		return `"batch": [{"id": "aa", "name": "moor-1", ` + times +
			`, "kind": "batch", "started_at": "2026-03-01T12:00:00Z", ` +
			figures + `}]`
	}
	for _, c := range []struct{ export, says string }{
		{one(batch(`"volume_l": -3`)), "moor-1"},
		{one(batch(`"volume_l": 12, "og": 48`)), "moor-1"},
		{one(batch(`"volume_l": "12"`)), "moor-1"},
		{one(strings.Replace(batch(`"volume_l": 12`), `"started_at": "2026`, `"started_at": "99999`, 1)), "is no time"},
		{one(strings.Replace(batch(`"volume_l": 12`), `"started_at": "2026`, `"started_at": "0000`, 1)),
			"started_at is in the year 0"},
		{one(`"extract": [{"id": "e1", "name": "tea", ` + times + `, "made_at": "2026-03-01T12:00:00Z", ` +
			`"material_key": "heather", "method": "tea", "form": "cut", "mass_g": 36, "passes": [{"id": "p1", "volume_l": 1, ` +
			`"start_c": 90, "minutes": 20, "separation": "drained", "ended_at": "9999-03-01T12:00:00Z"}]}]`),
			"ended_at is in the year 9999"},
		{one(strings.Replace(batch(`"volume_l": 12`), "moor-1", "moor 1\u202e", 1)), "cannot be used"},
		{one(strings.Replace(batch(`"volume_l": 12`), `"aa"`, `"a'; DROP TABLE batch"`, 1)), "cannot be used"},
		{one(batch(`"volume_l": 12, "parent_id": "zz"`)), "in neither notebook"},
		{one(batch(`"volume_l": 12, "og_meter_id": "zz"`)), "in neither notebook"},
		{one(`"addition": [{"id": "a1", "name": "x.a1", ` + times + `, "batch_id": "zz", "at": "2026-03-01T12:00:00Z", ` +
			`"stage": "secondary", "material_key": "heather", "method": "contact", "form": "cut", "mass_g": 3}]`), "x.a1"},
		{one(batch(`"volume_l": 12`) + `, "addition": [{"id": "a1", "name": "moor-1.a1", ` + times + `, "batch_id": "aa", ` +
			`"at": "2026-03-01T12:00:00Z", "stage": "secondary", "material_key": "wolfsbane-of-mars", "method": "contact", ` +
			`"form": "cut", "mass_g": 3}]`), "wolfsbane-of-mars"},
		{one(`"taster": [{"id": "t1", "name": "A;B", ` + times + `}]`), "A;B"},
		{one(`"score": [{"id": "s1", "tasting_id": "x", "serving_id": "y", "taster_id": "z", "attribute": "pine"}]`), "s1"},
		{one(`"plan": [{"id": "p1", "name": "heather-plan", ` + times + `, "kind": "split", "material_key": "heather", ` +
			`"batch_id": "aa", "at": "2026-03-01T12:00:00Z", "design": {"material": "heather", "vessels": []}}]`), "no vessel"},
		{one(`"plan": [{"id": "p1", "name": "heather-plan", ` + times + `, "kind": "split", "material_key": "heather", ` +
			`"batch_id": "aa", "at": "2026-03-01T12:00:00Z", "design": {"class": 99, "vessels": [{"beer_l": 2}]}}]`),
			"solute class 99"},
		{one(`"batch": {}`), "no list"},
	} {
		theirs, err := Read(strings.NewReader(c.export))
		if err == nil {
			_, err = Merge(&trials.Notebook{}, theirs, Told{})
		}
		var p *trials.Problem
		if !errors.As(err, &p) || !strings.Contains(p.Message, c.says) || p.Hint == "" {
			t.Errorf("%s: refused with %v, which does not say %q", c.export, err, c.says)
		}
	}
}

// Whatever the bytes, reading and joining end; what is joined makes an export that can
// be read again, and joining it twice adds nothing. Longer:
// go test -fuzz FuzzMerge ./trials/exchange
func FuzzMerge(f *testing.F) {
	names, _ := filepath.Glob(filepath.Join("testdata", "m*.json"))
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(one(`"setting": [{"key": "units", "value": "us"}]`)))
	f.Fuzz(func(t *testing.T, text []byte) {
		theirs, err := Read(bytes.NewReader(text))
		if err != nil {
			return
		}
		out, err := Merge(&trials.Notebook{}, theirs, Told{})
		if err != nil || len(out.Asks) > 0 {
			return
		}
		var b bytes.Buffer
		if err := Write(&b, out.Whole); err != nil {
			t.Fatal(err)
		}
		again, err := Read(&b)
		if err != nil {
			t.Fatal(err)
		}
		second, err := Merge(out.Whole, again, Told{})
		if err != nil || len(second.Counts) > 0 || len(second.Asks) > 0 {
			t.Errorf("a second time: %v %v %v", err, second.Counts, second.Asks)
		}
	})
}

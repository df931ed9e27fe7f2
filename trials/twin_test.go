package trials

import (
	"testing"
	"time"
)

// A record that says the same as one of the last ten minutes is its twin; one of
// before, one that says anything else, one of another time and an edited one are not.
func TestTwin(t *testing.T) {
	now := time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	sg := func(v float64) *float64 { return &v }
	made := func(name string, ago time.Duration) Record {
		return Record{ID: name, Name: name, CreatedAt: now.Add(-ago), ChangedAt: now.Add(-ago)}
	}
	n := &Notebook{Now: now,
		Readings: []Reading{
			{Record: made("moor.r1", 9*time.Minute), BatchID: "b", At: now.Add(-9 * time.Minute), SG: sg(1.012)},
			{Record: made("moor.r2", 11*time.Minute), BatchID: "b", At: now.Add(-11 * time.Minute), SG: sg(1.020)},
			{Record: made("moor.r3", time.Minute), BatchID: "b", At: now.AddDate(0, 0, -3), SG: sg(1.030)},
		},
		Extracts: []Extract{{Record: made("moor-a1", time.Minute), MaterialKey: "heather", Method: MethodTea, MassG: 36,
			Passes: []Pass{{ID: "p", VolumeL: 0.45, StartC: 94, Minutes: 45, LoggedAt: now}}}},
		Claims: []Claim{{Record: made("heather.c1", time.Minute), MaterialKey: "heather", AsWritten: "3 g/L"}},
	}
	old := "moor-a1"
	n.Additions = []Addition{{Record: made("moor.a1", time.Minute), BatchID: "b", At: now, ExtractID: &old}}
	n.Additions = append(n.Additions, Addition{Record: made(old, 0), BatchID: "b", At: now.AddDate(0, 0, 1)})
	fresh := "new"
	tea := func(mass float64) []any {
		return []any{&Extract{Record: Record{ID: fresh, Name: "moor-a2"}, MaterialKey: "heather", Method: MethodTea,
			MassG: mass, Passes: []Pass{{VolumeL: 0.45, StartC: 94, Minutes: 45}}},
			&Addition{Record: Record{ID: "x", Name: "moor.a2"}, BatchID: "b", At: now, ExtractID: &fresh}}
	}
	for what, c := range map[string]struct {
		records []any
		want    string
	}{
		"the same":            {[]any{&Reading{BatchID: "b", At: now, SG: sg(1.012)}}, "moor.r1"},
		"another figure":      {[]any{&Reading{BatchID: "b", At: now, SG: sg(1.013)}}, ""},
		"another batch":       {[]any{&Reading{BatchID: "c", At: now, SG: sg(1.012)}}, ""},
		"written long before": {[]any{&Reading{BatchID: "b", At: now, SG: sg(1.020)}}, ""},
		"of another day":      {[]any{&Reading{BatchID: "b", At: now, SG: sg(1.030)}}, ""},
		"of that day, too":    {[]any{&Reading{BatchID: "b", At: now.AddDate(0, 0, -3), SG: sg(1.030)}}, "moor.r3"},
		"not new":             {[]any{&Reading{Record: made("moor.r4", 0), BatchID: "b", At: now, SG: sg(1.012)}}, ""},
		"a tea":               {tea(36), "moor.a1"},
		"a tea of more":       {tea(40), ""},
		"poured again":        {[]any{&Addition{BatchID: "b", At: now, ExtractID: &old}}, "moor.a1"},
		"a claim":             {[]any{&Claim{MaterialKey: "heather", AsWritten: "3 g/L"}}, "heather.c1"},
		"itself, tried out": {[]any{&Addition{Record: Record{ID: old, Name: "a"}, BatchID: "b",
			At: now.AddDate(0, 0, 1)}}, ""},
		"another kind": {[]any{&BatchNote{BatchID: "b", At: now}}, ""},
	} {
		if twin, ok := n.Twin(c.records...); twin.Name != c.want || ok != (c.want != "") {
			t.Errorf("%s: twin %q, want %q", what, twin.Name, c.want)
		}
	}
}

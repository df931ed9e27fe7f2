package trials

import (
	"strings"
	"testing"
	"time"
)

// Passes end in their order, none before the extract was begun; one without a time
// is in nobody's way.
func TestPassesEndInTheirOrder(t *testing.T) {
	at := func(hours int) *time.Time { return new(time.Date(2026, 3, 1, hours, 0, 0, 0, time.Local)) }
	pass := func(ended *time.Time) Pass {
		return Pass{VolumeL: 0.4, StartC: 96, Minutes: 30, Separation: SeparationDrained, EndedAt: ended}
	}
	for _, c := range []struct {
		ends []*time.Time
		says string
	}{
		{[]*time.Time{at(10), nil, at(10)}, ""},
		{[]*time.Time{nil, at(9), at(11)}, ""},
		{[]*time.Time{at(8)}, "pass 1 would end at 2026-03-01 08:00, before the extract was begun at 2026-03-01 09:00"},
		{[]*time.Time{at(12), nil, at(11)}, "pass 3 would end at 2026-03-01 11:00, before pass 1 ended at"},
	} {
		x := Extract{MadeAt: *at(9), MaterialKey: "heather", Method: MethodTea, Form: "cut", MassG: 36}
		for _, ended := range c.ends {
			x.Passes = append(x.Passes, pass(ended))
		}
		err := x.Validate()
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v: %v, want %q", c.ends, err, c.says)
		}
	}
}

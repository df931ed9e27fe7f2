package ledger

import (
	"strings"
	"testing"

	"hedgerow/trials"
)

// The warning is there where one gravity alone is corrected, by whichever float, and
// nowhere else. By hand: 0.001 of the final gravity is 0.131 % vol and 0.001 of the
// original one 0.133 (reference page on dilution, section 7: 0.072 and 0.073 for u =
// 0.001 over the root of 3 of a beer thinned by 0.9524).
func TestOneGravityCorrected(t *testing.T) {
	floats := []trials.Meter{
		{Record: trials.Record{ID: "off", Name: "float-off"}, Kind: trials.MeterHydrometer, ZeroError: ptr(0.002)},
		{Record: trials.Record{ID: "true", Name: "float-true"}, Kind: trials.MeterHydrometer, ZeroError: ptr(0.0)},
		{Record: trials.Record{ID: "new", Name: "float-new"}, Kind: trials.MeterHydrometer},
	}
	for _, c := range []struct{ og, fg, says string }{
		{"", "off", "only the final gravity was read with float-off, so its zero error of +0.0020 moves the strength " +
			"by +0.26"},
		{"new", "off", "moves the strength by +0.26"},
		{"off", "", "only the original gravity was read with float-off, so its zero error of +0.0020 moves the " +
			"strength by -0.27"},
		{"off", "off", ""},
		{"true", "off", ""},
		{"off", "true", ""},
		{"", "true", ""},
		{"", "new", ""},
		{"", "", ""},
	} {
		n, b := readBeer(12, 1.048, 1.010, nil)
		n.Meters = floats
		if c.og != "" {
			n.Batches[0].OGMeterID = &c.og
			b.OGMeterID = &c.og
		}
		if c.fg != "" {
			n.Readings[0].MeterID = &c.fg
		}
		text := strings.Join(TextsOf(ledgerOf(t, n, b).Warnings), "\n")
		if c.says == "" && strings.Contains(text, CodeOneGravity) || !strings.Contains(text, c.says) {
			t.Errorf("original with %q, final with %q: %s", c.og, c.fg, text)
		}
	}
}

package main

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"hedgerow/trials/ledger"
	"hedgerow/trials/moment"
	"hedgerow/trials/quantity"
)

// Every example of the help is read by what reads it in a command, and no line is
// wider than a terminal.
func TestTopicsWork(t *testing.T) {
	start := time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)
	clock := moment.Clock{Now: start.Add(300 * time.Hour), Start: start}
	for _, x := range datesTopic.examples {
		in := clock
		if strings.Contains(x.text, "2025") || strings.Contains(x.text, "nov") {
			in.Start = time.Time{} // before this batch
		}
		if _, err := moment.Parse(x.text, in); err != nil {
			t.Errorf("%v", err)
		}
	}
	options := quantity.Options{PlatoToSG: ledger.SGFromPlato}
	for _, x := range amountsTopic.examples {
		_, asVolume := quantity.ParseVolume(x.text, options)
		_, asMass := quantity.ParseMass(x.text, options)
		_, asDose := quantity.ParseDose(x.text, options)
		_, asAddition := quantity.ParseAddition(x.text, options)
		if asVolume != nil && asMass != nil && asDose != nil && asAddition != nil {
			t.Errorf("%q is no amount: %v", x.text, asVolume)
		}
	}
	for _, x := range passesTopic.examples {
		if _, err := quantity.ParsePass(x.text, options); err != nil {
			t.Errorf("%v", err)
		}
	}
	for _, topic := range topics() {
		for line := range strings.Lines(topic.command().Long) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 80 {
				t.Errorf("help %s: %d columns: %s", topic.name, n, line)
			}
		}
	}
}

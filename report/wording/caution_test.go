package wording

import (
	"regexp"
	"testing"

	"hedgerow/trials"
)

// Every caution of the tables is said in one line that ends with what it rests on:
// this line is what commands, plans and suggestions print.
func TestCautionLinesEndWithTheirEvidence(t *testing.T) {
	materials, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	evidence := regexp.MustCompile(
		`\[((read|secondary|named, not reopened): [A-Z].+|common practice, no source|from memory)\]$`)
	list := materials.GeneralCautions()
	for _, m := range materials.All() {
		list = append(list, materials.Cautions(m)...)
	}
	if len(list) < 100 {
		t.Fatalf("%d cautions, want those of all materials", len(list))
	}
	for _, c := range CautionRows(list) {
		if line := CautionLine(c); !evidence.MatchString(line) {
			t.Errorf("%q says not what it rests on", line)
		}
	}
}

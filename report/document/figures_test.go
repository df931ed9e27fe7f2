package document

import (
	"strings"
	"testing"
)

// All that an answer holds is written, each list as a table of its own; what stands in
// the items of a list says of which one it is, and text that looks like a formula is
// harmless. Worked out by hand.
func TestWriteFigures(t *testing.T) {
	type estimate struct {
		Value float64 `json:"value"`
		Low   float64 `json:"low"`
	}
	payload := struct {
		Name  string   `json:"name"`
		Dose  estimate `json:"dose"`
		None  *float64 `json:"none"`
		Empty []string `json:"empty"`
		Rows  []any    `json:"rows"`
	}{"=1+1", estimate{2.5, -1}, nil, nil, []any{
		map[string]any{"a": 1, "by": []string{"x", "y"}},
		map[string]any{"b": "two, three"},
	}}
	var b strings.Builder
	if err := WriteFigures(&b, payload); err != nil {
		t.Fatal(err)
	}
	want := `answer
figure,value
name,'=1+1
dose.value,2.5
dose.low,-1
none,
empty,

rows
number,a,b
1,1,
2,,"two, three"

rows.by
number,of,value
1,1,x
2,1,y
`
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

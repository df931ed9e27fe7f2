package document

import "testing"

// A command that a text names stays on one line where it fits, and can be pasted where
// it does not: a shell reads on after a backslash.
func TestWrapKeepsCommandsWhole(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"correct the passes, or log: hedgerow extract top-up strong 200mL", 50,
			"correct the passes, or log:\n  hedgerow extract top-up strong 200mL"},
		{"type hedgerow undo, or hedgerow addition edit m.a1 --time 5d", 34,
			"type hedgerow undo, or\n  hedgerow addition edit m.a1 \\\n  --time 5d"},
		{"see hedgerow tasting show \"my night\"; then go", 40,
			"see hedgerow tasting show \"my night\";\n  then go"},
		{"no command at all, broken as ever it was", 21, "no command at all,\n  broken as ever it\n  was"},
	} {
		if got := Wrap(c.text, c.width); got != c.want {
			t.Errorf("got:\n%s\nwant:\n%s", got, c.want)
		}
	}
}

package extraction

import (
	"errors"
	"testing"
)

// Every word is either read, and then prints as a word that reads the same, or
// refused with a hint.
func FuzzWords(f *testing.F) {
	for _, w := range []string{"whole", "Cut ", "flame-out", "stirred now and then", "left in", "acid-colour-tannin",
		"", "\x00", "ﬀ"} {
		f.Add(w)
	}
	f.Fuzz(func(t *testing.T, word string) {
		form, err := FormFor(FormWords{Word: word})
		again, err2 := FormFor(FormWords{Word: form.String()})
		if err == nil && (err2 != nil || again != form) {
			t.Errorf("form %q prints as %q", word, form)
		}
		_, method := ParseMethod(word)
		_, agitation := ParseAgitation(word)
		_, separation := ParseSeparation(word)
		for _, err := range []error{err, method, agitation, separation} {
			var refused *inputError
			if err != nil && (!errors.As(err, &refused) || refused.Hint == "") {
				t.Errorf("%q: %v without a hint", word, err)
			}
		}
	})
}

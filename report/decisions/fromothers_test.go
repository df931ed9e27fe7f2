package decisions

import (
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"hedgerow/report/doseresponse"
	"hedgerow/trials/figure"
)

// others are 24 trials by three brewers, without whom the right dose were so many g/L.
func others(without float64) *doseresponse.AnswerOthers {
	e := figure.StatedExactly(without)
	return &doseresponse.AnswerOthers{Brewers: 3, Trials: 24, Without: &e}
}

// The second line says what others do to the dose, when it is as much as can be tasted
// (the dose is 11 g/L), and never that advice is all there is where they count.
func TestHeadlinesWithOthers(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*headline)
		want   string
	}{
		{"no own scores", func(h *headline) { h.Facts.Scored, h.Others = false, others(11) },
			"None of your own people has scored yet: this is what others like."},
		{"own people elsewhere", func(h *headline) {
			h.Facts.Scored, h.Others = false, others(11)
			h.Others.By = []doseresponse.AnsweredOther{{}, {Shared: []string{"A"}}}
		}, "So far your own people have scored beers of other brewers alone."},
		{"moved", func(h *headline) { h.Others = others(9.9) },
			"Without 24 trials of 3 other brewers the right dose would be 9.9 g/L."},
		{"moved down", func(h *headline) { h.Others = others(13) },
			"Without 24 trials of 3 other brewers the right dose would be 13 g/L."},
		{"hardly moved", func(h *headline) { h.Others = others(10.2) }, "31 % sure that"},
		{"left out", func(h *headline) { h.Facts.Scored, h.Others = false, &doseresponse.AnswerOthers{} },
			"No beer has been scored yet: this rests on advice alone."},
		{"something graver", func(h *headline) { h.Facts.Side, h.Others = 1, others(9) }, "Every vote so far said too much"},
	} {
		if got := spoken(c.change); len(got) != 3 || !strings.HasPrefix(got[1], c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	rng := rand.New(rand.NewPCG(7, 7))
	for range 200 {
		o := others(1e-3 * float64(rng.IntN(900_000)+1))
		o.Brewers, o.Trials = rng.IntN(10000), rng.IntN(100000)
		if l := spoken(func(h *headline) { h.Others = o })[1]; utf8.RuneCountInString(l) > headlineWidth {
			t.Errorf("%q is wider than %d", l, headlineWidth)
		}
	}
}

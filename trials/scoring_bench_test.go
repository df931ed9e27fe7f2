package trials

import (
	"fmt"
	"testing"
)

// A table of 100 lines pasted in.
func BenchmarkScoreTableOf100Lines(b *testing.B) {
	n, g := evening()
	text := "serving,taster,floral,floral vote,liking,note\n"
	for i := range 100 {
		text += fmt.Sprintf("%s,T%d,%d,right,7,soft\n", []string{"417", "286", "953"}[i%3], i, i%11)
	}
	b.ReportAllocs()
	for b.Loop() {
		marks, err := table(text)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := n.Enter(g, marks, false, day(41)); err != nil {
			b.Fatal(err)
		}
	}
}

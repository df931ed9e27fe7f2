package trials

import (
	"fmt"
	"strings"
	"testing"
)

// Tables of scores pasted in and entered, of a large club night and of years of
// them: the cost grows with the lines, not with their square.
func BenchmarkScoreTable(b *testing.B) {
	for _, lines := range []int{100, 2_000, 22_000} {
		b.Run(fmt.Sprint(lines), func(b *testing.B) {
			n, g := longEvening()
			text := longTable(lines)
			b.ReportAllocs()
			for b.Loop() {
				marks, err := ParseScoreTable(strings.NewReader(text), g)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := n.Enter(g, marks, false, day(41)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

package spelling

// Distance returns how many slips lie between a and b: the least number of
// letters to insert, delete or replace, or of neighbours to swap, that turns one
// into the other when no letter is touched twice. It is symmetric, and 0 for
// equal words only. The four slips are those of [1].
func Distance(a, b string) int {
	from, to := []rune(a), []rune(b)
	// Three rows of the table of prefixes are enough: a swap looks two back.
	before, last, row := make([]int, len(to)+1), make([]int, len(to)+1), make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(from); i++ {
		before, last, row = last, row, before
		row[0] = i
		for j := 1; j <= len(to); j++ {
			replaced := last[j-1]
			if from[i-1] != to[j-1] {
				replaced++
			}
			row[j] = min(replaced, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && from[i-1] == to[j-2] && from[i-2] == to[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(to)]
}

// Slips returns the distance of a typed word from one that was perhaps meant; ok
// is false where it is too far: more than a third of the letters of the longer
// word, or more than two.
//
// With more, the answer would be other words of the trade: nearly every short
// word is one letter from nearly every other ("g", "kg", "mg"), and at two
// letters of five sumac is as near to sugar as a mistyped sugar is. The longer
// word counts since letters are left out more than put in: hethr is two short of
// heather. A third slip in a long word is rare: four errors in five are a single
// one [1], and the second is allowed for. The bounds are a judgement.
func Slips(typed, meant string) (d int, ok bool) {
	longer := max(len([]rune(typed)), len([]rune(meant)))
	d = Distance(typed, meant)
	return d, d <= min(2, longer/3)
}

package panel

import (
	"fmt"
	"math/rand/v2"
)

// codeCount is the number of three-digit codes: 9 first digits (no zero), 9
// second, 8 third, all different.
const codeCount = 9 * 9 * 8

// Codes returns n different random codes from 102 to 987, three digits all
// different, none of them in used. A code drawn at random tells nothing about
// the order of the doses; give every glass of a tasting its own. The same seed
// and used codes give the same codes.
//
// Errors: n below 1 or above what is left of the 648 codes.
func Codes(n int, seed uint64, used []int) ([]int, error) {
	taken := make(map[int]bool)
	for _, c := range used {
		taken[c] = true
	}
	var free []int
	for c := 100; c < 1000; c++ {
		if allDifferent(c) && !taken[c] {
			free = append(free, c)
		}
	}
	if n < 1 || n > len(free) {
		return nil, fmt.Errorf("%d codes: of the %d with three different digits %d are left; give a number from 1 to that",
			n, codeCount, len(free))
	}
	r := rand.New(rand.NewPCG(seed, codeCount))
	// all of them are shuffled and not n drawn: a plan that asks for one code more keeps the others
	r.Shuffle(len(free), func(i, j int) { free[i], free[j] = free[j], free[i] })
	return free[:n], nil
}

// allDifferent tells whether the three digits of a code differ.
func allDifferent(code int) bool {
	a, b, c := code/100, code/10%10, code%10
	return a != b && b != c && a != c
}

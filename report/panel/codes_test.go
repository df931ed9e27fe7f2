package panel

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// There are 9*9*8 = 648 numbers of three different digits without a leading zero.
func TestCodesAll(t *testing.T) {
	all, err := Codes(648, 3, nil)
	if err != nil {
		t.Fatal(err)
	}
	sorted := slices.Sorted(slices.Values(all))
	if slices.Equal(sorted, all) {
		t.Error("codes come in rising order")
	}
	if len(slices.Compact(sorted)) != 648 || sorted[0] != 102 || sorted[647] != 987 {
		t.Errorf("%d different codes from %d to %d, want 648 from 102 to 987", len(slices.Compact(sorted)),
			sorted[0], sorted[647])
	}
}

func TestCodesProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		used, err := Codes(rapid.IntRange(1, 300).Draw(t, "used"), seed, nil)
		if err != nil {
			t.Fatal(err)
		}
		n := rapid.IntRange(1, 300).Draw(t, "n")
		codes, err := Codes(n, seed, used)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := Codes(n, seed, used)
		if !slices.Equal(codes, again) {
			t.Fatal("the same seed gives other codes")
		}
		seen := make(map[int]bool)
		for _, c := range append(codes, used...) {
			if seen[c] || c < 100 || c > 999 || c/100 == c/10%10 || c/100 == c%10 || c/10%10 == c%10 {
				t.Fatalf("code %d is used twice or has equal digits", c)
			}
			seen[c] = true
		}
	})
}

func TestCodesRefuses(t *testing.T) {
	if _, err := Codes(649, 1, nil); err == nil {
		t.Error("649 codes accepted")
	}
	if _, err := Codes(0, 1, nil); err == nil {
		t.Error("0 codes accepted")
	}
	all, _ := Codes(648, 1, nil)
	if _, err := Codes(1, 1, all); err == nil {
		t.Error("a 649th code found")
	}
}

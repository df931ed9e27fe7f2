package panel

import (
	"math"
	"testing"
)

// R 4.2.2 pf(f, d1, d2, lower.tail = FALSE), 12 digits.
func TestFTail(t *testing.T) {
	cases := []struct{ f, d1, d2, want float64 }{
		{0, 2, 5, 1},
		{0.5, 3, 7, 0.694036387569},
		{9.019586507, 4, 36, 3.74440689626e-05},
		{4.1, 1, 1e6, 0.0428834787062},
		{93.43783229, 9, 4491, 2.99969207589e-160},
	}
	for _, c := range cases {
		// 12 digits, less what the power behind a chance near 1e-160 takes.
		if got := fTail(c.f, c.d1, c.d2); math.Abs(got/c.want-1) > 1e-9 {
			t.Errorf("F %v with %v and %v: %v, want %v", c.f, c.d1, c.d2, got, c.want)
		}
	}
}

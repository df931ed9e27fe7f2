package document

import (
	"math"
	"testing"

	"hedgerow/trials/figure"

	"pgregory.net/rapid"
)

// The rule of digits: the half-width keeps one significant digit, two when it
// begins with 1 (GUM 7.2.6: two digits at most). Worked by hand.
func TestDigitsFollowTheInterval(t *testing.T) {
	cases := []struct {
		value, half     float64
		atLeast, atMost int
		want            string
	}{
		{4.72312, 0.28218, 1, 2, "4.7 ±0.3"},
		{4.72312, 0.1922, 1, 2, "4.72 ±0.19"},
		{4.72312, 0.196, 1, 2, "4.7 ±0.2"},
		{4.72312, 0.0099, 1, 2, "4.72 ±0.01"},
		{4.72312, 0.0099, 1, 4, "4.723 ±0.010"},
		{4.72312, 3.4, 1, 2, "4.7 ±3.4"},
		{4.72312, 34, 0, 2, "5 ±34"},
		{1.0095045, 0.00091, 3, 4, "1.0095 ±0.0009"},
		{12.6002, 0.228, 1, 2, "12.6 ±0.2"},
		{-0.004, 0.3, 1, 2, "0.0 ±0.3"},
	}
	for _, c := range cases {
		e := figure.StatedBetween(c.value, c.value-c.half, c.value+c.half, 0.95)
		if got := PlusMinus(e, c.atLeast, c.atMost); got != c.want {
			t.Errorf("%g within %g is %q, want %q", c.value, c.half, got, c.want)
		}
	}
	if got := PlusMinus(figure.StatedExactly(4.72312), 1, 2); got != "4.72" {
		t.Errorf("without interval %q", got)
	}
	if got := Spread(figure.StatedBetween(1.31, 0.9, 1.52, 0.95), 1, 2); got != "1.3 (0.9 to 1.5)" {
		t.Errorf("spread %q", got)
	}
}

func TestNumbersAsText(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Fixed(-0.04, 1), "0.0"}, {Fixed(-0.06, 1), "-0.1"}, {Fixed(2.5, 0), "2"},
		{Significant(0.0123456, 3), "0.0123"}, {Significant(123456, 3), "123456"}, {Significant(0, 3),
			"0"}, {Significant(-1.25, 2), "-1.2"},
		{Significant(9.999, 3), "10.00"}, {OrDash(nil, 2), "-"},
		{Count(1, "glass"), "1 glass"}, {Count(2, "glass"), "2 glasses"}, {Count(13, "batch"), "13 batches"},
		{Count(0, "trial"), "0 trials"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// However wide or narrow the interval: the printed value lies within the printed
// half-width, or a rounding, of the value, and never has an exponent.
func TestPrintedValueIsNearTheValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "value")
		half := math.Pow(10, rapid.Float64Range(-6, 6).Draw(t, "exponent"))
		d := decimals(half, 0, 6)
		if d < 0 || d > 6 {
			t.Fatalf("%d decimals", d)
		}
		// What rounding may do to the value is at most a quarter of the half-width
		// (of 0.00195, which is printed as 0.0020), as far as six decimals go.
		if step := math.Pow(10, -float64(d)); d < 6 && half < 19 && step/2 > 0.26*half {
			t.Fatalf("a half-width of %g has %d decimals", half, d)
		}
		for _, r := range Fixed(v, d) {
			if (r < '0' || r > '9') && r != '-' && r != '.' {
				t.Fatalf("%q", Fixed(v, d))
			}
		}
	})
}

// A change has its sign, and as many digits as its limit needs.
func TestChangesAreSigned(t *testing.T) {
	for _, c := range []struct {
		value, half float64
		want        string
	}{
		{-0.2363, 0.0155, "-0.24 ±0.02"},
		{0.6002, 0.0057, "+0.60 ±0.01"},
		{-0.0581, 0.0039, "-0.058 ±0.004"},
		{0.0506, 0.0005, "+0.051 ±0.001"},
		{0.0506, 0.0002, "+0.05"},
		{0.00001, 0.00001, "0.00"},
		{1.2, 0.3, "+1.2 ±0.3"},
	} {
		e := figure.StatedBetween(c.value, c.value-c.half, c.value+c.half, 0.95)
		if got := SignedPlusMinus(&e, 1, 2, 3); got != c.want {
			t.Errorf("%v ±%v is %q, want %q", c.value, c.half, got, c.want)
		}
	}
	if got := SignedPlusMinus(nil, 1, 2, 3); got != "-" {
		t.Errorf("an unknown change is %q", got)
	}
}

package phones

import (
	"fmt"
	"strings"
	"testing"

	"rsc.io/qr"
)

// address is as long as the links are.
const address = "http://192.168.0.20:8137/t/ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// The picture and the characters have a dark module exactly where the library's code has one, and
// the quiet zone around it; its codes were read back from a picture of the brewer's page
// with a reader of another make, by hand.
func TestDrawnCodes(t *testing.T) {
	c, err := qr.Encode(address, qr.M)
	if err != nil {
		t.Fatal(err)
	}
	d, err := draw(address)
	if err != nil || d.Side != c.Size+8 {
		t.Fatalf("side %d of a code of %d, %v", d.Side, c.Size, err)
	}
	dark := map[[2]int]bool{}
	for _, run := range strings.Split(strings.TrimSuffix(d.Path, "z"), "z") {
		var x, y, long, back int
		if _, err := fmt.Sscanf(run, "M%d %dh%dv1h-%d", &x, &y, &long, &back); err != nil || long != back {
			t.Fatalf("%q: %v", run, err)
		}
		for i := range long {
			dark[[2]int{x + i - 4, y - 4}] = true
		}
	}
	letters, err := Letters(address)
	if err != nil {
		t.Fatal(err)
	}
	small, _ := qr.Encode(address, qr.L)
	rows := strings.Split(strings.TrimSuffix(letters, "\n"), "\n")
	for y := -4; y < c.Size+4; y++ {
		for x := -4; x < c.Size+4; x++ {
			if dark[[2]int{x, y}] != c.Black(x, y) {
				t.Fatalf("the picture is wrong at %d, %d", x, y)
			}
		}
	}
	for y := -4; y < small.Size+4; y++ {
		for x := -4; x < small.Size+4; x++ {
			letter := []rune(rows[(y+4)/2])[x+4]
			half := map[bool]rune{true: '▀', false: '▄'}[(y+4)%2 == 0]
			if got := letter == '█' || letter == half; got != small.Black(x, y) {
				t.Fatalf("the characters are wrong at %d, %d: %q", x, y, letter)
			}
		}
	}
	// a finder pattern in the corner, as every QR code has: seven dark modules and a white ring
	if !strings.HasPrefix(rows[2], "    █▀▀▀▀▀█ ") {
		t.Errorf("no finder pattern: %q", rows[2])
	}
}

package phones

import (
	"fmt"
	"strings"

	"rsc.io/qr"
)

// quiet is how many modules must stay white around a code (ISO/IEC 18004, 4 of them; the
// standard was not read, the figure is common knowledge).
const quiet = 4

// drawing is a QR code as a picture: the side of the square and the dark modules.
type drawing struct {
	Side int
	Path string
}

// draw makes the picture of a QR code. Neighbours in a row are one rectangle.
func draw(text string) (drawing, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return drawing{}, err
	}
	var b strings.Builder
	for y := range c.Size {
		for x := 0; x < c.Size; x++ {
			from := x
			for x < c.Size && c.Black(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", from+quiet, y+quiet, x-from, x-from)
			}
		}
	}
	return drawing{c.Size + 2*quiet, b.String()}, nil
}

// Letters draws a QR code in characters, two modules of a column in one, dark where
// there is a block: it is read where characters are dark on light.
func Letters(text string) (string, error) {
	c, err := qr.Encode(text, qr.L)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for y := -quiet; y < c.Size+quiet; y += 2 {
		for x := -quiet; x < c.Size+quiet; x++ {
			switch upper, lower := c.Black(x, y), c.Black(x, y+1); {
			case upper && lower:
				b.WriteRune('\u2588')
			case upper:
				b.WriteRune('\u2580')
			case lower:
				b.WriteRune('\u2584')
			default:
				b.WriteByte(' ')
			}
		}
		b.WriteByte('\n')
	}
	return b.String(), nil
}

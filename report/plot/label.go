package plot

import (
	"strings"
	"unicode/utf8"
)

// size is that of all type in a picture, pixels; line the height of a line of it.
const size, line = 13.0, 15.0

// The widths that labels are placed for, pixels between the left and the right end of a
// picture. The narrowest of each class (see Plot.Class) is what a phone of 320 pixels
// leaves: rows 84, panels 162, pic 222. No gap that is there
// at one width and at the next is lost between them by more than a mark's breadth.
var widths = []float64{84, 162, 222, 250, 290, 340, 420, 560, 800, 1000}

// advance holds the widths of the characters from space to ~ in thousandths of the size [1].
var advance = [...]int{278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
	556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
	667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
	333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
	556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584}

// textWidth returns how wide a text is in pixels; a character outside ASCII counts as an
// em, which few are wider than.
func textWidth(s string, heavy bool) float64 {
	total := 0
	for _, r := range s {
		if k := int(r) - ' '; k >= 0 && k < len(advance) {
			total += advance[k]
			continue
		}
		total += 1000
	}
	w := float64(total) * size / 1000
	if heavy {
		// Helvetica Bold is wider by 0 to 10 % [1]
		w *= 1.1
	}
	return w
}

// shorten cuts a text to a width, with dots where something is left out.
func shorten(s string, width float64) string {
	for textWidth(s, false) > width && utf8.RuneCountInString(s) > 2 {
		_, last := utf8.DecodeLastRuneInString(strings.TrimSuffix(s, ".."))
		s = strings.TrimSuffix(s, "..")
		s = s[:len(s)-last] + ".."
	}
	return s
}

// A box is what something takes up: from left to right pixels beside a place that is a
// share of the width, and from top to bottom.
type box struct{ share, left, right, top, bottom float64 }

// overlaps reports whether two boxes meet at any of some widths.
func (b box) overlaps(c box, widths []float64) bool {
	if b.bottom <= c.top || c.bottom <= b.top {
		return false
	}
	for _, w := range widths {
		if b.share*w+b.left < c.share*w+c.right && c.share*w+c.left < b.share*w+b.right {
			return true
		}
	}
	return false
}

// inside reports whether a box stays within pixels left of the picture's left end and
// right of its right end, at all of some widths.
func (b box) inside(left, right float64, widths []float64) bool {
	for _, w := range widths {
		if b.share*w+b.left < -left || b.share*w+b.right > w+right {
			return false
		}
	}
	return true
}

// textBox is the box of a text whose baseline is at y, anchored at its start, middle or
// end at dx pixels beside a share of the width.
func textBox(s string, heavy bool, share, dx, y float64, anchor string) box {
	w := textWidth(s, heavy)
	left := dx
	switch anchor {
	case "middle":
		left -= w / 2
	case "end":
		left -= w
	}
	// a pixel on either side: two that touch read as one
	return box{share, left - 1, left + w + 1, y - 11, y + 4}
}

// free reports whether a box meets none of those that are taken.
func (d *drawing) free(b box) bool {
	for _, t := range d.taken {
		if b.overlaps(t, d.widths) {
			return false
		}
	}
	return true
}

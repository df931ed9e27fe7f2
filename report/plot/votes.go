package plot

import (
	"fmt"
	"strings"
)

// A Ballot is what a taster may vote.
type Ballot int

// The ballots; NoBallot is for a column that holds none.
const (
	NoBallot Ballot = iota
	TooLittle
	JustRight
	TooMuch
)

// word is what the ballot says.
func (b Ballot) word() string { return [...]string{"", "too little", "just right", "too much"}[b] }

// ink is the colour of the ballot.
func (b Ballot) ink() Ink { return [...]Ink{Black, Little, Right, Much}[b] }

// mostSquares is how many votes are drawn one by one; more are a bar.
const mostSquares = 12

// Squares draws votes one by one: hollow squares for too little, full ones for just
// right, full ones with a point for too much; empty for none. The count stands beside it
// as text, so the picture itself is hidden from a screen reader.
func Squares(n int, b Ballot) string {
	if n <= 0 || b == NoBallot {
		return ""
	}
	const each = 8
	wide := each*min(n, mostSquares) - 1
	root := element("svg", "xmlns", "http://www.w3.org/2000/svg", "width", number(float64(wide)), "height", "11",
		"aria-hidden", "true")
	if n > mostSquares {
		root.add(element("rect", "y", "2", "width", number(float64(wide)), "height", "9", "fill", string(b.ink())))
	}
	for i := 0; i < n && n <= mostSquares; i++ {
		x := each * i
		switch b {
		case TooLittle:
			root.add(element("rect", "x", number(float64(x)+.75), "y", "2.75", "width", "5.5", "height", "7.5",
				"fill", "none", "stroke", string(b.ink()), "stroke-width", "1.5"))
		case JustRight:
			root.add(element("rect", "x", number(float64(x)), "y", "2", "width", "7", "height", "9", "fill", string(b.ink())))
		case TooMuch:
			root.add(element("path", "d", fmt.Sprintf("M%d 11V4L%g 0 %d 4V11Z", x, float64(x)+3.5, x+7), "fill",
				string(b.ink())))
		}
	}
	var out strings.Builder
	root.write(&out)
	return out.String()
}

// Hundred draws what to expect of 100 votes as one bar, which must add to 100.
func Hundred(little, right, much int) string {
	root := element("svg", "xmlns", "http://www.w3.org/2000/svg", "width", "100%", "height", "36", "overflow", "visible",
		"role", "img", "font-family", "Arial, Helvetica, 'Liberation Sans', sans-serif", "font-size", number(size))
	title := fmt.Sprintf("Of 100 votes %d too little, %d just right, %d too much", little, right, much)
	root.add(&node{name: "title", text: title}, &node{name: "desc", text: "one bar in three parts"})
	at := 0.0
	for i, n := range []int{little, right, much} {
		b, share := TooLittle+Ballot(i), float64(n)/100
		bar := element("rect", "x", percent(at+.003), "y", "1", "width", percent(max(share-.006, .001)), "height", "14",
			"fill", string(b.ink()))
		if b == TooLittle {
			bar.attrs[len(bar.attrs)-1] = "none"
			bar.with("stroke", string(b.ink()), "stroke-width", "1.5")
		}
		if n > 0 {
			root.add(bar)
		}
		// the words stand at the left, in the middle and at the right whatever the parts are: so they never meet
		anchor := [...]string{"start", "middle", "end"}[i]
		word := element("text", "x", percent(float64(i)/2), "y", "31", "text-anchor", anchor, "fill", string(b.ink()))
		if b == JustRight {
			word.with("font-weight", "700")
		}
		word.text = fmt.Sprintf("%d %s", n, b.word())
		root.add(word)
		at += share
	}
	var out strings.Builder
	root.write(&out)
	return out.String()
}

// Glyph draws one mark in a line of text.
func Glyph(s Shape, ink Ink) string {
	root := element("svg", "xmlns", "http://www.w3.org/2000/svg", "width", "14", "height", "13", "viewBox",
		"-7 -6.5 14 13", "aria-hidden", "true").add(shape(s, 0, 0, ink, ""))
	var out strings.Builder
	root.write(&out)
	return out.String()
}

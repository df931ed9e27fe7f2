package plot

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// labelled lists the labels of ticks.
func labelled(list []tick) string {
	var words []string
	for _, t := range list {
		if t.label != "" {
			words = append(words, t.label)
		}
	}
	return strings.Join(words, " ")
}

// By hand: the multiples of the smallest 1-2-5 step that parts the span into at most
// eight parts and whose labels fit; 1, 2 and 5 times powers of ten on a log axis.
func TestTicks(t *testing.T) {
	need := func(label string) float64 { return textWidth(label, false) + 8 }
	for _, c := range []struct {
		axis   Axis
		length float64
		want   string
	}{
		{Axis{Low: 0, High: 100}, 240, "0 20 40 60 80 100"},
		{Axis{Low: 0, High: 30}, 240, "0 5 10 15 20 25 30"},
		{Axis{Low: 1, High: 1.05, Decimals: 3}, 400, "1.000 1.010 1.020 1.030 1.040 1.050"},
		{Axis{Low: 0, High: 92}, 222, "0 20 40 60 80"},
		{Axis{Low: -0.3, High: 0.3}, 200, "-0.3 -0.2 -0.1 0.0 0.1 0.2 0.3"},
		{Axis{Low: 1, High: 10, Log: true}, 222, "1 2 5 10"},
		{Axis{Low: 0.5, High: 2, Log: true}, 100, "0.5 1 2"},
		{Axis{Low: 2, High: 5, Log: true}, 222, "2 3 4 5"},
		{Axis{Low: 0.05, High: 200, Log: true}, 222, "0.1 1 10 100"},
	} {
		if got := labelled(c.axis.ticks(c.length, need)); got != c.want {
			t.Errorf("ticks of %+v: %s, want %s", c.axis, got, c.want)
		}
	}
}

// By hand: the round numbers next to the outermost values.
func TestAround(t *testing.T) {
	for _, c := range []struct {
		log       bool
		values    []float64
		low, high float64
	}{
		{true, []float64{1.2, 9.4}, 1, 10}, {true, []float64{2, 5}, 2, 5}, {true, []float64{0.03}, 0.02, 0.05},
		{true, []float64{1}, 1, 2}, {true, nil, 1, 10}, {true, []float64{0, -1, math.NaN(), 3}, 2, 5},
		{false, []float64{0, 28}, 0, 30}, {false, []float64{3, 3}, 3, 6}, {false, nil, 0, 1},
		{false, []float64{0, math.Inf(1), 7}, 0, 8},
	} {
		a := Around(c.log, c.values...)
		if math.Abs(a.Low-c.low) > 1e-9 || math.Abs(a.High-c.high) > 1e-9 {
			t.Errorf("around %v (log %v): %g to %g, want %g to %g", c.values, c.log, a.Low, a.High, c.low, c.high)
		}
	}
}

// Helvetica.afm: H 722, e 556, d 556, g 556, e 556, r 333, o 556, w 722: 4557 / 1000 of 13.
func TestTextWidth(t *testing.T) {
	if got := textWidth("Hedgerow", false); math.Abs(got-13*4.557) > 1e-9 {
		t.Errorf("Hedgerow is %g wide", got)
	}
	if got := shorten("Taster Bartholomew the Elder", 80); textWidth(got, false) > 80 || !strings.HasSuffix(got, "..") {
		t.Errorf("shortened to %q", got)
	}
}

// A drawn text or mark, found in the SVG by reading it.
type drawn struct {
	name, text string
	x          float64 // share of the width
	attrs      map[string]string
	inner      bool // in a stretched SVG
}

// read parses an SVG as XML and returns what is in it; it fails on anything that is not
// well formed or that a strict policy would drop.
func read(t *testing.T, svg string) []drawn {
	t.Helper()
	var list []drawn
	var stack []int
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return list
		}
		if err != nil {
			t.Fatalf("not well formed: %v\n%s", err, svg)
		}
		switch e := token.(type) {
		case xml.StartElement:
			n := drawn{name: e.Name.Local, attrs: map[string]string{}}
			for _, a := range e.Attr {
				n.attrs[a.Name.Local] = a.Value
			}
			for _, not := range []string{"style", "class", "id", "onload", "href"} {
				if _, has := n.attrs[not]; has {
					t.Fatalf("attribute %s on %s", not, n.name)
				}
			}
			if n.name == "style" || n.name == "script" {
				t.Fatalf("element %s", n.name)
			}
			n.x, _ = strconv.ParseFloat(strings.TrimSuffix(n.attrs["x"], "%"), 64)
			n.x /= 100
			n.inner = len(stack) > 0 && list[stack[len(stack)-1]].attrs["viewBox"] != ""
			list = append(list, n)
			stack = append(stack, len(list)-1)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if len(stack) > 0 {
				list[stack[len(stack)-1]].text += string(e)
			}
		}
	}
}

// at returns the box in pixels of a text at a width of the picture.
func (n drawn) at(w float64) (left, right, top, bottom float64) {
	y, _ := strconv.ParseFloat(n.attrs["y"], 64)
	dx, _ := strconv.ParseFloat(n.attrs["dx"], 64)
	wide := textWidth(n.text, n.attrs["font-weight"] == "700")
	left = n.x*w + dx
	switch n.attrs["text-anchor"] {
	case "middle":
		left -= wide / 2
	case "end":
		left -= wide
	}
	return left, left + wide, y - 9, y + 3
}

// sample is a picture of random doses, votes, claims and names.
func sample(r *rand.Rand, points int) Plot {
	p := Plot{Title: "Votes", Desc: "Random ones", None: "none", Under: "effective dose, g/L",
		Panel: []Panel{{Label: "% of votes", Y: Axis{High: 100}, Height: 236}}}
	var values []float64
	for range points {
		q := Point{X: math.Exp(3 * r.NormFloat64()), Y: 100 * r.Float64(), Shape: Disc, Ink: Black, Char: 'O',
			Label: fmt.Sprintf("%d of %d", r.IntN(20), 20), Apart: r.IntN(5) == 0}
		values = append(values, q.X)
		p.Panel[0].Points = append(p.Panel[0].Points, q)
	}
	p.X = Around(true, values...)
	x := []float64{p.X.Low, 1, p.X.High}
	p.Panel[0].Bands = []Band{{X: x, Low: []float64{0, 10, 0}, High: []float64{20, 90, 20}, Ink: Right, Opacity: .2,
		Char: '.'}}
	p.Panel[0].Lines = []Line{{X: x, Y: []float64{10, 50, 10}, Ink: Right, Width: 3, Char: '#'}}
	if points%2 == 0 {
		p.Panel = append(p.Panel, Panel{Label: "liking, 1 to 9", Y: Axis{Low: 1, High: 9}, Height: 110,
			Points: p.Panel[0].Points})
		p.Panel[0].Lines = []Line{{X: []float64{p.X.Low, p.X.High}, Y: []float64{10, 50}, Ink: Right, Width: 3}}
		if points%4 == 0 {
			p.Panel[0].End, p.Panel[0].Limit = "1.0040", "±0.0009"
		}
		for i, v := range values {
			p.Marks = append(p.Marks, Mark{X: v, Label: fmt.Sprintf("%d to %d", 9*i, 9*i+8), Ink: Black, Shape: Disc})
		}
	}
	best := values[0]
	p.Lanes = []Lane{{Label: "next", Heavy: true, Strips: []Strip{{Low: best / 2, High: best * 2, At: &best, Ink: Right,
		Label: "2.9 (2.2 to 4.0)"}}}, {Label: "advice"}}
	for range r.IntN(6) {
		low := math.Exp(r.NormFloat64())
		p.Lanes[1].Strips = append(p.Lanes[1].Strips, Strip{Low: low, High: low * 1.5, Ink: Rule, Label: "1 oz per 5 gal"})
	}
	return p
}

// Property: at every width no two texts meet, no label of a mark leaves the page, and
// all marks and lines stay inside the frame, however many points there are.
func TestNothingOverlaps(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := sample(r, 1+int(seed))
		list := read(t, p.SVG())
		for w := map[string]float64{"panels": 162, "pic": 222}[p.Class()]; w < 1100; w += 17 {
			checkApart(t, p, list, w)
		}
		for _, n := range list {
			if n.x < -1e-9 || n.x > 1+1e-9 {
				t.Fatalf("seed %d: %s %q at %g of the width", seed, n.name, n.text, n.x)
			}
		}
	}
}

// checkApart fails where two texts of a picture meet at a width.
func checkApart(t *testing.T, p Plot, list []drawn, w float64) {
	t.Helper()
	left, right := p.room()
	for i, a := range list {
		if a.name != "text" {
			continue
		}
		al, ar, at, ab := a.at(w)
		// 16 px is the edge of a page on a phone
		if al < -left-16 || ar > w+right+16 {
			t.Fatalf("%q runs from %.0f to %.0f in a picture %g wide", a.text, al, ar, w)
		}
		for _, b := range list[i+1:] {
			if b.name != "text" {
				continue
			}
			bl, br, bt, bb := b.at(w)
			if al < br && bl < ar && at < bb && bt < ab {
				t.Fatalf("%q meets %q at a width of %g", a.text, b.text, w)
			}
		}
	}
}

// Each label that is drawn stands for a point, and a few points keep all of theirs.
func TestFewPointsAreLabelled(t *testing.T) {
	p := sample(rand.New(rand.NewPCG(7, 1)), 4)
	svg := p.SVG()
	if n := strings.Count(svg, " of 20</text>"); n < 4 {
		t.Errorf("%d of 4 points are labelled", n)
	}
}

// Hostile names and values that are no numbers leave a picture that can be read.
func TestHostileText(t *testing.T) {
	p := sample(rand.New(rand.NewPCG(2, 1)), 3)
	p.Title, p.Desc = `</title><script>alert(1)</script>`, "a\x00b\x1b[31m & <b>"
	p.Panel[0].Points[0].Label = `"><img src=x onerror=alert(1)>`
	p.Panel[0].Points[1].X, p.Panel[0].Points[1].Y = math.NaN(), math.Inf(1)
	p.Lanes[0].Label = "<svg onload=alert(1)>"
	svg := p.SVG()
	for _, n := range read(t, svg) {
		if n.name == "title" && strings.Contains(n.text, "<script>") {
			return
		}
	}
	t.Error("the title is not there as text")
}

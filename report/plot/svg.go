package plot

import (
	"strings"
)

// apart is the share of the width that is left for what has no place across, with the
// gap that parts it from the axis; spot how much of that the place itself takes.
const apart, spot = 0.16, 0.09

// A drawing is an SVG in the making.
type drawing struct {
	Plot
	base  float64 // share of the width left of the axis
	y     float64 // how far down everything reaches
	top   float64 // where the panels, or the lanes, begin
	root  *node
	back  *node // grid and lines, behind
	front *node // marks and text
	taken []box

	widths []float64 // that labels are placed for
}

// Class names the room that a page leaves beside the picture for its labels: rows (92
// pixels left, 112 right), panels (60 and 66) or pic (46 and 6).
func (p Plot) Class() string {
	if len(p.Panel) == 0 {
		return "rows"
	}
	for _, q := range p.Panel {
		if q.End != "" {
			return "panels"
		}
	}
	return "pic"
}

// room returns the pixels left and right of a picture that its labels may take.
func (p Plot) room() (left, right float64) {
	switch p.Class() {
	case "rows":
		return 92, 112
	case "panels":
		return 60, 66
	}
	return 46, 6
}

// SVG draws the picture.
func (p Plot) SVG() string {
	d := &drawing{Plot: p, back: element("g"), front: element("g")}
	d.widths = widths[map[string]int{"rows": 0, "panels": 1, "pic": 2}[p.Class()]:]
	if p.None != "" {
		d.base = apart
	}
	d.marks()
	for i := range p.Panel {
		d.panel(&p.Panel[i])
	}
	d.lanes()
	d.across()
	d.root = element("svg", "xmlns", "http://www.w3.org/2000/svg", "width", "100%", "height", number(d.y),
		"overflow", "visible", "role", "img", "font-family", "Arial, Helvetica, 'Liberation Sans', sans-serif",
		"font-size", number(size))
	d.root.add(&node{name: "title", text: p.Title}, &node{name: "desc", text: p.Desc}, d.back, d.front)
	var b strings.Builder
	d.root.write(&b)
	return b.String()
}

// across returns the share of the width at which a value stands.
func (d *drawing) share(v float64) float64 { return d.base + (1-d.base)*d.X.place(v) }

// text writes a text and notes what it takes up.
func (d *drawing) text(s string, share, dx, y float64, anchor string, ink Ink, heavy bool) {
	if s == "" {
		return
	}
	b := textBox(s, heavy, share, dx, y, anchor)
	d.taken = append(d.taken, b)
	n := element("text", "x", percent(share), "y", number(y), "fill", string(ink))
	if dx != 0 {
		n.with("dx", number(dx))
	}
	if anchor != "start" {
		n.with("text-anchor", anchor)
	}
	if heavy {
		n.with("font-weight", "700")
	}
	n.text = s
	d.front.add(n)
}

// halo parts a text from what lies behind it.
func (d *drawing) halo() {
	last := d.front.kids[len(d.front.kids)-1]
	last.with("paint-order", "stroke", "stroke", string(paper), "stroke-width", "4", "stroke-opacity", ".85",
		"stroke-linejoin", "round")
}

// rule draws a straight line between two places.
func rule(x1, y1, x2, y2 float64, ink Ink, width float64) *node {
	return element("line", "x1", percent(x1), "y1", number(y1), "x2", percent(x2), "y2", number(y2), "stroke", string(ink),
		"stroke-width", number(width))
}

// faint makes a line of the grid of a rule.
func faint(n *node) *node { return n.with("stroke-opacity", ".35") }

// shape draws a mark at a place. What is drawn stands in an SVG of its own, since a shape
// of fixed size can stand at a share of the width in no other way.
func shape(s Shape, share, y float64, ink Ink, title string) *node {
	n := element("svg", "x", percent(share), "y", number(y), "overflow", "visible")
	if title != "" {
		n.add(&node{name: "title", text: title})
	}
	fill, edge := string(ink), string(paper)
	var mark *node
	switch s {
	case Ring:
		mark, fill, edge = element("circle", "r", "4.2"), string(paper), string(ink)
	case Diamond:
		mark = element("path", "d", "M0-6.5 6.5 0 0 6.5-6.5 0Z")
	case Triangle:
		mark = element("path", "d", "M0-8 7 5H-7Z")
	case Square:
		mark = element("path", "d", "M-5-5h10v10h-10z")
	default:
		mark = element("circle", "r", "5")
	}
	return n.add(mark.with("fill", fill, "stroke", edge, "stroke-width", "1.5"))
}

// marks draws what stands above the panels: the line of events, or the labels of lines.
func (d *drawing) marks() {
	events, labels := false, false
	for _, m := range d.Marks {
		events, labels = events || m.Shape != noShape, labels || m.Label != ""
	}
	switch {
	case events:
		d.top = 36
		d.back.add(rule(0, 30, 1, 30, Rule, 1))
	case labels:
		d.top = 18
	default:
		d.top = 2
	}
	for _, m := range d.Marks {
		x := d.share(m.X)
		if m.Shape != noShape {
			d.front.add(shape(m.Shape, x, 30, m.Ink, m.Label))
		}
		// the number of a later event gives way: the table has them all
		b := textBox(m.Label, false, x, 0, 13, "middle")
		left, right := d.room()
		if m.Label != "" && b.inside(left, right, d.widths) && d.free(b) {
			d.text(m.Label, x, 0, 13, "middle", m.Ink, false)
		}
	}
	d.y = d.top
}

// panel draws one panel below what is drawn already.
func (d *drawing) panel(p *Panel) {
	left, _ := d.room()
	label := d.y + 14
	// clear of the events above, or of the lowest number of the panel above
	if d.top > 30 || d.y > d.top {
		label = d.y + 22
	}
	top, bottom := label+16, label+16+p.Height
	d.text(p.Label, 0, 2-left, label, "start", Black, true)
	for _, t := range p.Y.ticks(p.Height, func(string) float64 { return line + 1 }) {
		y := bottom - p.Height*p.Y.place(t.at)
		grid := rule(0, y, 1, y, Rule, 1)
		if t.at != p.Y.Low {
			faint(grid)
		}
		d.back.add(grid)
		d.text(t.label, 0, -8, y+4.5, "end", soft, false)
	}
	d.back.add(d.field(p, top))
	at := func(y float64) float64 { return bottom - p.Height*p.Y.place(y) }
	d.wordsOf(p, at)
	if n := len(p.Lines); n > 0 && p.End != "" {
		last := p.Lines[n-1]
		y := at(last.Y[len(last.Y)-1])
		d.text(p.End, 1, 8, y+4.5-line/2+3, "start", Black, true)
		d.text(p.Limit, 1, 8, y+4.5+line/2+3, "start", soft, false)
	}
	d.points(p, at, top, bottom)
	d.y = bottom
}

// field draws bands and lines of a panel, stretched to its width.
func (d *drawing) field(p *Panel, top float64) *node {
	n := element("svg", "x", percent(d.base), "y", number(top), "width", percent(1-d.base), "height", number(p.Height),
		"viewBox", "0 0 1000 1000", "preserveAspectRatio", "none")
	point := func(x, y float64) string {
		return number(1000*d.X.place(x)) + " " + number(1000-1000*p.Y.place(y))
	}
	for _, b := range p.Bands {
		var path []string
		for i := range b.X {
			path = append(path, point(b.X[i], b.High[i]))
		}
		for i := len(b.X) - 1; i >= 0; i-- {
			path = append(path, point(b.X[i], b.Low[i]))
		}
		if len(path) > 0 {
			n.add(element("path", "d", "M"+strings.Join(path, " ")+"Z", "fill", string(b.Ink), "fill-opacity",
				number(b.Opacity)))
		}
	}
	for _, l := range p.Lines {
		var path []string
		for i := range l.X {
			path = append(path, point(l.X[i], l.Y[i]))
		}
		if len(path) == 0 {
			continue
		}
		line := element("path", "d", "M"+strings.Join(path, " "), "fill", "none", "stroke", string(l.Ink), "stroke-width",
			number(l.Width), "vector-effect", "non-scaling-stroke")
		if l.Dash != "" {
			line.with("stroke-dasharray", l.Dash)
		}
		n.add(line)
	}
	return n
}

// wordsOf writes the words beside the lines of a panel.
func (d *drawing) wordsOf(p *Panel, at func(float64) float64) {
	for _, w := range p.Words {
		x, y, anchor := d.share(w.X), at(w.Y)-w.Lift, "middle"
		switch f := d.X.place(w.X); {
		case f < 0.25:
			anchor = "start"
		case f > 0.75:
			anchor = "end"
		}
		d.text(w.Text, x, 0, y, anchor, w.Ink, w.Heavy)
		d.halo()
	}
}

// points draws the points of a panel and as many of their labels as find a place.
func (d *drawing) points(p *Panel, at func(float64) float64, top, bottom float64) {
	// marks first, since a label may hide no mark
	for _, q := range p.Points {
		x, y := d.shareOf(q), at(q.Y)
		d.taken = append(d.taken, box{x, -6, 6, y - 6, y + 6})
	}
	for _, q := range p.Points {
		d.label(q.Label, d.shareOf(q), at(q.Y), top, bottom)
	}
	for _, q := range p.Points {
		x := d.shareOf(q)
		if q.Low != nil && q.High != nil {
			d.front.add(rule(x, at(*q.Low), x, at(*q.High), q.Ink, 1.5))
		}
		d.front.add(shape(q.Shape, x, at(q.Y), q.Ink, q.Title))
	}
}

// shareOf is the share of the width at which a point stands.
func (d *drawing) shareOf(q Point) float64 {
	if q.Apart {
		return spot / 2
	}
	return d.share(q.X)
}

// label writes a label beside a mark, where there is a place for it.
func (d *drawing) label(s string, share, y, top, bottom float64) {
	if s == "" {
		return
	}
	left, right := d.room()
	for _, c := range []struct {
		dx, dy float64
		anchor string
	}{{9, 4.5, "start"}, {-9, 4.5, "end"}, {0, -10, "middle"}, {0, 19, "middle"}, {7, -7, "start"}, {-7, -7, "end"},
		{7, 16, "start"}, {-7, 16, "end"}} {
		b := textBox(s, false, share, c.dx, y+c.dy, c.anchor)
		if b.top < top-22 || b.bottom > bottom+10 || !b.inside(left-2, right-2, d.widths) || !d.free(b) {
			continue
		}
		d.text(s, share, c.dx, y+c.dy, c.anchor, Black, false)
		d.halo()
		return
	}
}

// lanes draws the lanes below the panels.
func (d *drawing) lanes() {
	left, _ := d.room()
	if len(d.Panel) > 0 && len(d.Lanes) > 0 {
		d.y += 8
	}
	for _, l := range d.Lanes {
		y := d.y + 15
		d.text(shorten(l.Label, left-6), 0, -8, y+4.5, "end", Black, l.Heavy)
		d.text(l.Value, 1, 10, y+4.5, "start", Black, false)
		down := y + 11
		for _, s := range l.Strips {
			down = max(down, d.strip(s, y))
		}
		d.y = down
	}
}

// strip draws an interval or a bar and returns how far down it reaches.
func (d *drawing) strip(s Strip, y float64) float64 {
	low, high := d.share(s.Low), d.share(s.High)
	if s.At != nil {
		d.front.add(rule(low, y, high, y, s.Ink, 3), rule(low, y-4, low, y+4, s.Ink, 1.5),
			rule(high, y-4, high, y+4, s.Ink, 1.5), shape(Disc, d.share(*s.At), y, s.Ink, ""))
		return d.under(s.Label, d.share(*s.At), y)
	}
	bar := element("rect", "x", percent(low), "y", number(y-6), "width", percent(max(high-low, 0.005)), "height", "12",
		"fill", string(s.Ink))
	if s.Label != "" {
		bar.add(&node{name: "title", text: s.Label})
	}
	d.front.add(bar)
	return d.under(s.Label, (low+high)/2, y)
}

// under writes the label of a bar below it, in the first row that has room.
func (d *drawing) under(s string, share, y float64) float64 {
	if s == "" {
		return y + 11
	}
	left, right := d.room()
	for row := range 4 {
		base := y + 20 + float64(row)*line
		for _, anchor := range []string{"middle", "start", "end"} {
			b := textBox(s, false, share, 0, base, anchor)
			if b.inside(left-2, right-2, d.widths) && d.free(b) {
				d.text(s, share, 0, base, anchor, soft, false)
				return base + 6
			}
		}
	}
	return y + 11
}

// across draws the axis below everything, the grid and the marked lines.
func (d *drawing) across() {
	axis := d.y + 6
	need := func(label string) float64 { return textWidth(label, false) + 8 }
	if d.base > 0 {
		d.back.add(rule(0, axis, spot, axis, Rule, 1))
		d.text(d.None, spot/2, -6, axis+20, "middle", soft, false)
	}
	for _, t := range d.X.ticks(d.widths[0]*(1-d.base), need) {
		x, long := d.share(t.at), 3.0
		if t.label != "" {
			long = 6
			d.back.kids = append([]*node{faint(rule(x, d.top, x, axis, Rule, 1))}, d.back.kids...)
			// a long number at the very left would run into the word for none
			if d.free(textBox(t.label, false, x, 0, axis+20, "middle")) {
				d.text(t.label, x, 0, axis+20, "middle", soft, false)
			}
		}
		d.back.add(rule(x, axis, x, axis+long, Rule, 1))
	}
	d.back.add(rule(d.base, axis, 1, axis, Rule, 1))
	for _, m := range d.Marks {
		x := d.share(m.X)
		if m.Shape != noShape {
			d.back.add(faint(rule(x, d.top, x, axis, Rule, 1)))
			continue
		}
		d.back.add(rule(x, d.top, x, axis, m.Ink, 1.5))
	}
	d.y = axis + 26
	if d.Under != "" {
		d.text(d.Under, 1, 0, axis+38, "end", soft, false)
		d.y = axis + 44
	}
}

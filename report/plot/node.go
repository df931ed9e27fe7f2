package plot

import (
	"html"
	"strconv"
	"strings"
	"unicode"
)

// A node is an element of the SVG. Everything is written through it, so that no text
// can become markup.
type node struct {
	name  string
	attrs []string // names and values by turns
	text  string
	kids  []*node
}

// element returns a node with attributes, names and values by turns.
func element(name string, attrs ...string) *node { return &node{name: name, attrs: attrs} }

// add puts nodes into a node and returns it.
func (n *node) add(kids ...*node) *node {
	n.kids = append(n.kids, kids...)
	return n
}

// with adds attributes and returns the node.
func (n *node) with(attrs ...string) *node {
	n.attrs = append(n.attrs, attrs...)
	return n
}

// write writes the element.
func (n *node) write(b *strings.Builder) {
	b.WriteString("<" + n.name)
	for i := 0; i < len(n.attrs); i += 2 {
		b.WriteString(" " + n.attrs[i] + `="` + escape(n.attrs[i+1]) + `"`)
	}
	if n.text == "" && len(n.kids) == 0 {
		b.WriteString("/>")
		return
	}
	b.WriteString(">" + escape(n.text))
	for _, k := range n.kids {
		k.write(b)
	}
	b.WriteString("</" + n.name + ">")
}

// escape makes text harmless in XML and drops what XML 1.0 does not know at all
// (section 2.2, Char).
func escape(s string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar || r == '\uFFFE' || r == '\uFFFF' {
			return -1
		}
		return r
	}, s))
}

// number prints a coordinate with two decimals at most.
func number(v float64) string {
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 2, 64), "0")
	if s = strings.TrimSuffix(s, "."); s == "-0" {
		return "0"
	}
	return s
}

// percent prints a share as per cent.
func percent(share float64) string { return number(100*share) + "%" }

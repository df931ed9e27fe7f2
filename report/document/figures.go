package document

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// WriteFigures writes all that an answer holds as CSV, numbers as numbers: what stands
// by itself as a table of two columns, then each list as a table of its own, its name
// on the line above it and an empty line between. An estimate has the columns value,
// low and high.
func WriteFigures(w io.Writer, payload any) error {
	text, err := json.Marshal(payload)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	tree, err := readNode(d)
	if err != nil {
		return err
	}
	f := figures{out: csv.NewWriter(w)}
	f.object("answer", tree)
	f.out.Flush()
	return f.out.Error()
}

// node is a value of JSON whose keys keep their order.
type node struct {
	keys   []string         // of an object
	fields map[string]*node // of an object
	items  []*node          // of a list
	list   bool             // it is a list
	text   string           // of anything else
	null   bool             // it is null
}

// readNode reads one value.
func readNode(d *json.Decoder) (*node, error) {
	token, err := d.Token()
	if err != nil {
		return nil, err
	}
	switch token {
	case json.Delim('{'):
		n := &node{fields: map[string]*node{}}
		for d.More() {
			key, err := d.Token()
			if err != nil {
				return nil, err
			}
			field, err := readNode(d)
			if err != nil {
				return nil, err
			}
			n.keys = append(n.keys, fmt.Sprint(key))
			n.fields[fmt.Sprint(key)] = field
		}
		_, err := d.Token()
		return n, err
	case json.Delim('['):
		n := &node{list: true}
		for d.More() {
			item, err := readNode(d)
			if err != nil {
				return nil, err
			}
			n.items = append(n.items, item)
		}
		_, err := d.Token()
		return n, err
	case nil:
		return &node{null: true}, nil
	}
	return &node{text: fmt.Sprint(token)}, nil
}

// figures writes the tables of an answer.
type figures struct {
	out    *csv.Writer
	tables int
}

// object writes what stands by itself in an object, then the lists in it.
func (f *figures) object(name string, n *node) {
	var rows [][]string
	var lists []named
	flatten("", n, func(key, value string) { rows = append(rows, []string{key, value}) },
		func(key string, list *node) { lists = append(lists, named{key, list}) })
	if len(rows) > 0 {
		f.table(name, append([][]string{{"figure", "value"}}, rows...))
	}
	for _, l := range lists {
		f.list(l.key, l.list)
	}
}

// named is a list with the keys that lead to it.
type named struct {
	key  string
	list *node
}

// list writes a list as a table: a column for each figure that any item has, and one
// for the item that it is of. Lists in the items follow as tables of their own.
func (f *figures) list(name string, n *node) {
	columns := []string{"number"}
	place := map[string]int{}
	rows := make([][]string, 0, len(n.items))
	inner := map[string][]*node{}
	var order []string
	for i, item := range n.items {
		row := []string{fmt.Sprint(i + 1)}
		flatten("", item, func(key, value string) {
			at, known := place[key]
			if !known {
				at = len(columns)
				place[key] = at
				columns = append(columns, key)
			}
			for len(row) <= at {
				row = append(row, "")
			}
			row[at] = value
		}, func(key string, list *node) {
			if _, known := inner[key]; !known {
				order = append(order, key)
				inner[key] = make([]*node, len(n.items))
			}
			inner[key][i] = list
		})
		rows = append(rows, row)
	}
	for i := range rows {
		for len(rows[i]) < len(columns) {
			rows[i] = append(rows[i], "")
		}
	}
	if len(rows) == 0 {
		return
	}
	f.table(name, append([][]string{columns}, rows...))
	for _, key := range order {
		f.innerLists(name, key, inner[key])
	}
}

// innerLists writes the lists of one name that stand in the items of a list as one
// table, whose rows say of which item they are.
func (f *figures) innerLists(name, key string, lists []*node) {
	joined := &node{list: true}
	for i, l := range lists {
		if l == nil {
			continue
		}
		for _, item := range l.items {
			of := &node{text: fmt.Sprint(i + 1)}
			row := &node{keys: []string{"of"}, fields: map[string]*node{"of": of}}
			if item.fields == nil {
				row.keys, row.fields["value"] = append(row.keys, "value"), item
			} else {
				row.keys = append(row.keys, item.keys...)
				for k, v := range item.fields {
					row.fields[k] = v
				}
			}
			joined.items = append(joined.items, row)
		}
	}
	f.list(name+"."+key, joined)
}

// flatten calls figure for each figure in a value and list for each list, with the
// keys that lead to it joined by points.
func flatten(key string, n *node, figure func(key, value string), list func(key string, n *node)) {
	switch {
	case n.list:
		list(key, n)
	case n.fields != nil:
		for _, k := range n.keys {
			inner := k
			if key != "" {
				inner = key + "." + k
			}
			flatten(inner, n.fields[k], figure, list)
		}
	case n.null:
		figure(key, "")
	case key == "":
		figure("value", n.text)
	default:
		figure(key, n.text)
	}
}

// table writes one table under its name.
func (f *figures) table(name string, rows [][]string) {
	if f.tables > 0 {
		f.write([]string{""})
	}
	f.tables++
	f.write([]string{strings.TrimSpace(name)})
	for _, r := range rows {
		f.write(r)
	}
}

// write writes one row, harmless to a spreadsheet; the writer keeps its first error.
func (f *figures) write(row []string) { _ = f.out.Write(mapped(row, disarm)) }

package panel

import (
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// table is a CSV file with a header.
type table struct {
	name   string
	header []string
	rows   [][]string
}

// readTable reads a whole file; it refuses one without data rows.
func readTable(open opener, name string) (table, error) {
	if name == "" {
		return table{}, fmt.Errorf(`inputs: "csv" names no file`)
	}
	f, err := open(name)
	if err != nil {
		return table{}, err
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return table{}, fmt.Errorf("%s: %w", name, err)
	}
	if len(records) < 2 {
		return table{}, fmt.Errorf("%s: no data rows under the header", name)
	}
	return table{name: name, header: records[0], rows: records[1:]}, nil
}

// where keeps the rows whose columns have the wanted texts.
func (t table) where(wanted map[string]string) (table, error) {
	for column, value := range wanted {
		texts, err := t.texts(column)
		if err != nil {
			return table{}, err
		}
		var kept [][]string
		for i, text := range texts {
			if text == value {
				kept = append(kept, t.rows[i])
			}
		}
		t.rows = kept
	}
	if len(t.rows) == 0 {
		return table{}, fmt.Errorf("%s: no row is left after choosing %v", t.name, wanted)
	}
	return t, nil
}

// texts returns a column as text.
func (t table) texts(column string) ([]string, error) {
	at := slices.Index(t.header, column)
	if at < 0 {
		return nil, fmt.Errorf("%s has no column %q: its columns are %s", t.name, column, strings.Join(t.header, ", "))
	}
	list := make([]string, len(t.rows))
	for i, r := range t.rows {
		list[i] = r[at]
	}
	return list, nil
}

// numbers returns a column as numbers.
func (t table) numbers(column string) ([]float64, error) {
	texts, err := t.texts(column)
	if err != nil {
		return nil, err
	}
	list := make([]float64, len(texts))
	for i, s := range texts {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil || !finite(v) {
			return nil, fmt.Errorf("%s row %d column %q: %q is not a number", t.name, i+2, column, s)
		}
		list[i] = v
	}
	return list, nil
}

// integers returns a column of whole numbers.
func (t table) integers(column string) ([]int, error) {
	values, err := t.numbers(column)
	if err != nil {
		return nil, err
	}
	list := make([]int, len(values))
	for i, v := range values {
		if v != math.Trunc(v) || math.Abs(v) > 1e9 {
			return nil, fmt.Errorf("%s row %d column %q: %v is not a whole number", t.name, i+2, column, v)
		}
		list[i] = int(v)
	}
	return list, nil
}

// truths returns the whole table as yes (1) and no (0).
func (t table) truths() ([][]bool, error) {
	list := make([][]bool, len(t.rows))
	for _, column := range t.header {
		values, err := t.integers(column)
		if err != nil {
			return nil, err
		}
		for i, v := range values {
			if v != 0 && v != 1 {
				return nil, fmt.Errorf("%s row %d column %q: %d is neither 0 nor 1", t.name, i+2, column, v)
			}
			list[i] = append(list[i], v == 1)
		}
	}
	return list, nil
}

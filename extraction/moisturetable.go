package extraction

import (
	"bytes"
	_ "embed" // for the table of moistures
	"encoding/csv"
	"strconv"
	"strings"
)

//go:embed moisture.csv
var moistureRows []byte

// MoistureFigure is the moisture of one fruit, herb or spice.
type MoistureFigure struct {
	// Name is lower case, with "fresh" or "dried" where it matters.
	Name string
	// Moisture is the mass fraction of water.
	Moisture float64
	// SD is that between regions; nil if not known.
	SD *float64
	// Source is the table it was read in [16], or begins with FROM MEMORY.
	Source string
	// Note is a doubt about the figure, or empty.
	Note string
}

// FromMemory reports whether nobody has read the figure in a table.
func (m MoistureFigure) FromMemory() bool { return strings.HasPrefix(m.Source, "FROM MEMORY") }

// Moistures returns the table of moistures, in its own order: figures of the
// Indian Food Composition Tables [16], then figures from memory, which say so.
// The table is read on each call.
func Moistures() []MoistureFigure {
	records, err := csv.NewReader(bytes.NewReader(moistureRows)).ReadAll()
	if err != nil {
		panic("extraction: embedded moisture table: " + err.Error())
	}
	var list []MoistureFigure
	for _, r := range records[1:] {
		percent, err := strconv.ParseFloat(r[3], 64)
		if err != nil {
			panic("extraction: embedded moisture table: " + err.Error())
		}
		m := MoistureFigure{Name: r[0], Moisture: percent / 100, Source: r[8], Note: r[9]}
		if sd, err := strconv.ParseFloat(r[4], 64); err == nil {
			m.SD = new(sd / 100)
		}
		list = append(list, m)
	}
	return list
}

// MoistureOf returns the moisture of a named material, and false if the table
// does not have it.
func MoistureOf(name string) (MoistureFigure, bool) {
	for _, m := range Moistures() {
		if m.Name == plain(name) {
			return m, true
		}
	}
	return MoistureFigure{}, false
}

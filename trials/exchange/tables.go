package exchange

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"time"

	"hedgerow/trials"
)

// Table is the records of one kind as rows of text. Numbers are plain, nothing is
// empty.
type Table struct {
	Name   string     // of the kind
	Header []string   // keys of the figures, with their units
	Rows   [][]string // one for each record
}

// Tables lays out every kind of record. The passes and top-ups of extracts have
// tables of their own. What a code of a sealed tasting hides is left out.
func Tables(n *trials.Notebook) []Table {
	sealed := map[string]bool{}
	for _, t := range n.Tastings {
		sealed[t.ID] = t.Sealed()
	}
	servings := append([]trials.Serving{}, n.Servings...)
	for i := range servings {
		if sealed[servings[i].TastingID] {
			servings[i].BatchID = ""
		}
	}
	var passes []steepRow
	var waters []waterRow
	for _, x := range n.Extracts {
		for i, p := range x.Passes {
			passes = append(passes, steepRow{x.ID, i + 1, p})
		}
		for i, w := range x.TopUps {
			waters = append(waters, waterRow{x.ID, i + 1, w})
		}
	}
	return []Table{tableOf("material", n.Materials), tableOf("meter", n.Meters), tableOf("calibration", n.Calibrations),
		tableOf("batch", n.Batches), tableOf("loss", n.Losses), tableOf("packaging", n.Packagings),
		tableOf("batch_note", n.BatchNotes), tableOf("extract", n.Extracts), tableOf("pass", passes),
		tableOf("top_up", waters), tableOf("addition", n.Additions), tableOf("reading", n.Readings),
		tableOf("claim", n.Claims), tableOf("taster", n.Tasters), tableOf("tasting", n.Tastings),
		tableOf("serving", servings), tableOf("place", n.Places), tableOf("score", n.Scores),
		tableOf("taster_note", n.TasterNotes), tableOf("mark", n.Marks), tableOf("plan", n.Plans),
		tableOf("to_taste", n.ToTastes), tableOf("dropper", dropperRows(n)), tableOf("dosing", n.Dosings),
		tableOf("suggestion", n.Suggestions),
		tableOf("setting", settingsOf(n))}
}

// dropperRow is a dropper as a row: what is in it is not told while its tasting is
// sealed.
type dropperRow struct {
	ID        string `json:"id"`
	TastingID string `json:"tasting_id"`
	Code      string `json:"code"`
	Strength  *int   `json:"strength"`
}

// dropperRows lists the droppers.
func dropperRows(n *trials.Notebook) []dropperRow {
	sealed := map[string]bool{}
	for _, t := range n.Tastings {
		sealed[t.ID] = t.Sealed()
	}
	rows := make([]dropperRow, len(n.Droppers))
	for i, d := range n.Droppers {
		rows[i] = dropperRow{d.ID, d.TastingID, d.Code, &d.Strength}
		if sealed[d.TastingID] {
			rows[i].Strength = nil
		}
	}
	return rows
}

// steepRow is a pass with the extract that it is of.
type steepRow struct {
	ExtractID string `json:"extract_id"`
	Place     int    `json:"place"`
	trials.Pass
}

// waterRow is a top-up with the extract that it went into.
type waterRow struct {
	ExtractID string `json:"extract_id"`
	Place     int    `json:"place"`
	trials.TopUp
}

// tableOf lays out a list of records by the keys of their figures.
func tableOf[T any](name string, list []T) Table {
	t := Table{Name: name, Rows: make([][]string, len(list))}
	fields := fieldsOf(reflect.TypeFor[T](), nil)
	for _, f := range fields {
		t.Header = append(t.Header, f.key)
	}
	for i := range list {
		v := reflect.ValueOf(list[i])
		for _, f := range fields {
			t.Rows[i] = append(t.Rows[i], cellText(v.FieldByIndex(f.index)))
		}
	}
	return t
}

// recordField is a figure of a record and where it is.
type recordField struct {
	key   string
	index []int
}

// fieldsOf lists the figures of a record in their order; lists that have tables of
// their own are left out.
func fieldsOf(t reflect.Type, before []int) []recordField {
	var list []recordField
	for i := range t.NumField() {
		f := t.Field(i)
		index := append(append([]int{}, before...), i)
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous:
			list = append(list, fieldsOf(f.Type, index)...)
		case key == "-" || key == "passes" || key == "top_ups":
		default:
			list = append(list, recordField{key, index})
		}
	}
	return list
}

// cellText writes one figure.
func cellText(v reflect.Value) string {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return ""
		}
		return cellText(v.Elem())
	}
	switch x := v.Interface().(type) {
	case time.Time:
		return x.UTC().Format(time.RFC3339)
	case string:
		return x
	case float64:
		return strconv.FormatFloat(x, 'g', -1, 64)
	case []string:
		return strings.Join(x, "; ")
	case int, int64, bool:
		return fmt.Sprint(x)
	}
	text, err := json.Marshal(v.Interface())
	if err != nil {
		return ""
	}
	return string(text)
}

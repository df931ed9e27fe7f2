package store

import (
	"context"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"testing"
	"time"

	"hedgerow/trials"
)

// filler makes records of which every field is set, by reflection, so that a
// field that is new is filled too. No two values are the same.
type filler struct {
	count   int
	variant int                 // which of a field's words and truths
	ids     map[string][]string // ids of the records by kind, for those that refer to them
}

// choices are the values that a column takes where it does not take any, by
// record and field.
var choices = map[string][]any{
	"Batch.Kind":       {trials.KindBatch, trials.KindJar, trials.KindGlass},
	"Loss.Kind":        {trials.LossSample, trials.LossTrub, trials.LossTransfer},
	"Extract.Method":   {trials.MethodTea, trials.MethodColdTea, trials.MethodTincture},
	"Pass.Separation":  {"drained", "squeezed", "pressed"},
	"Addition.Stage":   {"boil", "primary", "glass"},
	"Addition.OutBy":   {"drained", "squeezed", "pressed"},
	"Meter.Kind":       {trials.MeterHydrometer, trials.MeterPH},
	"Plan.Kind":        {trials.PlanBench, trials.PlanSplit, trials.PlanTaste},
	"Score.Vote":       {-1, 1, 0},
	"ToTaste.Share":    {1.0, 0.5, 0.25},
	"Dropper.Strength": {1, 2, 1},
	"Dosing.Direction": {trials.DirectionUp, trials.DirectionDown, trials.DirectionUp},
}

// kindOf is the kind of record that a field refers to.
var kindOf = map[string]string{
	"BatchID": "Batch", "ParentID": "Batch", "ExtractID": "Extract", "MeterID": "Meter", "OGMeterID": "Meter",
	"TastingID": "Tasting", "ServingID": "Serving", "TasterID": "Taster", "DropperID": "Dropper",
}

// record fills the i-th record of its kind, v; what the store sets (ids of its
// own and times) stays.
func (f *filler) record(t *testing.T, v reflect.Value, i int) {
	kind := v.Type().Name()
	for k := range v.NumField() {
		field := v.Type().Field(k)
		switch {
		case field.Tag.Get("json") == "-": // never stored
		case field.Name == "Record":
			r := v.Field(k).Addr().Interface().(*trials.Record)
			r.ID, r.Name = fmt.Sprint(kind, "-", i), fmt.Sprint(kind, "-", i, "-", f.variant)
		case field.Name == "ID":
		case field.Name == "ParentID" && i == 0: // the first has no parent
		case kindOf[field.Name] != "" && kind != "Vessel":
			id := fmt.Sprint(kindOf[field.Name], "-", i)
			if field.Name == "ParentID" {
				id = "Batch-0"
			}
			if known := f.ids[kindOf[field.Name]]; known != nil {
				id = known[i]
			}
			if field.Name == "ParentID" && f.ids["Batch"] != nil {
				id = f.ids["Batch"][0]
			}
			if v.Field(k).Kind() == reflect.Pointer {
				v.Field(k).Set(reflect.ValueOf(&id))
			} else {
				v.Field(k).SetString(id)
			}
		default:
			f.value(t, v.Field(k), kind+"."+field.Name)
		}
	}
}

// value sets one field.
func (f *filler) value(t *testing.T, v reflect.Value, path string) {
	f.count++
	if words := choices[path]; words != nil && v.Kind() != reflect.Pointer {
		v.Set(reflect.ValueOf(words[f.variant%len(words)]).Convert(v.Type()))
		return
	}
	if _, ok := v.Interface().(time.Time); ok {
		v.Set(reflect.ValueOf(testNow.Add(time.Duration(f.count) * (time.Minute + 1))))
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.value(t, v.Elem(), path)
	case reflect.String:
		v.SetString(fmt.Sprintf("%s %d: \"it's\" \\ 50 %%,\n\t\x01 \u2028 \U0001F33F", path, f.count))
	case reflect.Float64:
		// Rising, within every range that a column takes (gravity is the
		// narrowest), and with more than 15 digits.
		v.SetFloat(1.2 - 1/(6+float64(f.count)))
	case reflect.Int:
		v.SetInt(int64(f.count))
	case reflect.Int64:
		v.SetInt(1<<62 + int64(f.count)) // no float holds it
	case reflect.Bool:
		v.SetBool(f.variant%2 == 0)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range 2 {
			f.value(t, v.Index(i), path)
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		value := reflect.New(v.Type().Elem()).Elem()
		f.value(t, value, path)
		v.SetMapIndex(reflect.ValueOf(path), value)
	case reflect.Struct:
		f.record(t, v, 0)
	default:
		t.Fatalf("%s is a %s: say how to fill it", path, v.Kind())
	}
}

// fill sets every field of two records of every kind in n and saves them kind by
// kind.
func (f *filler) fill(t *testing.T, tx *Tx, n *trials.Notebook) {
	t.Helper()
	// Filled in the order of the notebook; what they refer to comes later.
	if _, err := tx.tx.Exec("PRAGMA defer_foreign_keys = ON"); err != nil {
		t.Fatal(err)
	}
	all := reflect.ValueOf(n).Elem()
	for k := range all.NumField() {
		list := all.Field(k)
		outside := []string{"Marks", "Suggestions"} // which undo leaves alone
		if list.Kind() != reflect.Slice || slices.Contains(outside, all.Type().Field(k).Name) {
			continue
		}
		if list.Len() == 0 {
			list.Set(reflect.MakeSlice(list.Type(), 2, 2))
		}
		kind := list.Type().Elem().Name()
		var ids []string
		for i := range 2 {
			f.record(t, list.Index(i), i)
			if err := tx.Save(list.Index(i).Addr().Interface()); err != nil {
				t.Fatalf("save %s: %v", kind, err)
			}
			ids = append(ids, list.Index(i).FieldByName("ID").String())
		}
		f.ids[kind] = ids
	}
}

// Every field of every record is read back as it was written; after a write that
// changed each of them twice, undo brings all of them back, and redo
// brings the change back.
func TestEveryFieldSurvivesStoreAndUndo(t *testing.T) {
	ctx := context.Background()
	now := testNow
	clock := func() time.Time { now = now.Add(time.Second); return now }
	s, err := Open(ctx, filepath.Join(t.TempDir(), "n.db"), Options{Now: clock})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	f := filler{ids: map[string][]string{}}
	wrote := &trials.Notebook{Settings: map[string]string{"gallon": "imperial"}}
	err = s.Write(ctx, "all kinds", func(tx *Tx) error { f.fill(t, tx, wrote); return tx.Set("gallon", "imperial") })
	if err != nil {
		t.Fatal(err)
	}
	before := whole(t, s)
	own := before.Settings[trials.SettingNotebookID]
	wrote.Settings[trials.SettingNotebookID] = own // drawn when the notebook was made
	same(t, "read back", before, wrote)

	err = s.Write(ctx, "change all", func(tx *Tx) error {
		f.variant = 2
		f.fill(t, tx, wrote)
		if err := tx.Set("gallon", "us"); err != nil {
			return err
		}
		f.variant = 1
		f.fill(t, tx, wrote)
		return tx.Set("gallon", "")
	})
	if err != nil {
		t.Fatal(err)
	}
	wrote.Settings = map[string]string{trials.SettingNotebookID: own}
	same(t, "changed", whole(t, s), wrote)

	turned(t, s)
	same(t, "after undo", whole(t, s), before)
	turned(t, s)
	same(t, "after redo", whole(t, s), wrote)
}

package store

import (
	"context"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"hedgerow/trials"
)

// saved writes records into s.
func saved(t *testing.T, s *Store, records ...any) {
	t.Helper()
	if err := s.Write(context.Background(), "save", func(tx *Tx) error { return tx.Save(records...) }); err != nil {
		t.Fatal(err)
	}
}

// undone takes the last write of s back.
func undone(t *testing.T, s *Store) {
	t.Helper()
	if _, err := s.Undo(context.Background()); err != nil {
		t.Fatal(err)
	}
}

// turned takes back the last write, or does it again if it was, without the checks of what
// can be typed: values that no command would take must come back to the last bit, too.
func turned(t *testing.T, s *Store) {
	t.Helper()
	ctx := context.Background()
	c, err := s.Begin(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Rollback()
	list, err := writesOf(ctx, c.tx, "ORDER BY write_id DESC LIMIT 1")
	if err != nil {
		t.Fatal(err)
	}
	if err := (&Tx{ctx: ctx, tx: c.tx, now: s.now()}).turn(list[0]); err != nil {
		t.Fatal(err)
	}
	if err := c.tx.Commit(); err != nil {
		t.Fatal(err)
	}
}

// whole reads the notebook as records alone.
func whole(t *testing.T, s *Store) *trials.Notebook {
	t.Helper()
	n, err := s.Whole(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	n.Now = time.Time{}
	return n
}

// same compares two notebooks kind by kind.
func same(t *testing.T, what string, got, want *trials.Notebook) {
	t.Helper()
	g, w := reflect.ValueOf(got).Elem(), reflect.ValueOf(want).Elem()
	for k := range g.NumField() {
		if !reflect.DeepEqual(g.Field(k).Interface(), w.Field(k).Interface()) {
			t.Errorf("%s, %s:\n%+v\nwant\n%+v", what, g.Type().Field(k).Name, g.Field(k).Interface(), w.Field(k).Interface())
		}
	}
}

// A write that does not change exactly one row for a record is refused and
// leaves nothing.
func TestWriteOfNoneOrSeveralRows(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	for _, name := range []string{"A", "B"} {
		saved(t, s, &trials.Taster{Record: trials.Record{Name: name}, Note: "n"})
	}
	before := whole(t, s)
	byNote := tasters // laid out as if the note were the key, which two rows share
	byNote.columns = []column[trials.Taster]{tasters.columns[4], tasters.columns[3]}
	gone := trials.Taster{Record: trials.Record{ID: "gone", Name: "C", CreatedAt: testNow}}
	for name, c := range map[string]struct {
		write func(*Tx) error
		want  string
	}{
		"update of a record that is gone": {
			func(tx *Tx) error { return tx.Save(&gone) }, "write taster: 0 rows instead of one"},
		"update of several": {
			func(tx *Tx) error { return byNote.update(ctx, tx.tx, &before.Tasters[0]) }, "write taster: 2 rows instead of one"},
		"deletion of one that is gone": {
			func(tx *Tx) error { return tx.Delete(gone) }, "delete from taster: 0 rows instead of one"},
		"deletion of several": {
			func(tx *Tx) error { return byNote.remove(ctx, tx.tx, "n") }, "delete from taster: 2 rows instead of one"},
	} {
		err := s.Write(ctx, name, func(tx *Tx) error { return c.write(tx) })
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: error %v, want %q", name, err, c.want)
		}
		same(t, "after a refused "+name, whole(t, s), before)
	}
}

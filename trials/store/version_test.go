package store

import (
	"context"
	"path/filepath"
	"testing"

	"hedgerow/trials"
)

// The version changes with what others write and not with what the store itself writes: so
// SQLite documents PRAGMA data_version.
func TestVersionChangesWithTheWritesOfOthers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "n.db")
	own, other := open(t, path), open(t, path)
	defer own.Close()
	defer other.Close()
	ctx := context.Background()
	version := func() int64 {
		t.Helper()
		v, err := own.Version(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	write := func(s *Store, name string) {
		t.Helper()
		if err := s.Write(ctx, "add "+name, func(tx *Tx) error {
			return tx.Save(&trials.Taster{Record: trials.Record{Name: name}})
		}); err != nil {
			t.Fatal(err)
		}
	}
	first := version()
	write(own, "A")
	if got := version(); got != first {
		t.Errorf("after an own write %d, before it %d", got, first)
	}
	write(other, "B")
	second := version()
	if second == first {
		t.Error("the write of another changes nothing")
	}
	c, err := own.Begin(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Rollback()
	if got, err := c.Version(ctx); err != nil || got != second {
		t.Errorf("within a write %d, before it %d, %v", got, second, err)
	}
}

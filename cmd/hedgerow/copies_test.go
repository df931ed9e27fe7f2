package main

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hedgerow/trials/store"
)

// A copy that somebody works in is not written over by the next one: its log would stand
// beside the new file, and whoever has it open would write into a file without a name.
func TestBackupOverACopyInUse(t *testing.T) {
	dir := t.TempDir()
	db, copied := filepath.Join(dir, "n.db"), filepath.Join(dir, "copy.db")
	for _, line := range [][]string{{"batch", "new", "a", "--volume", "1L"}, {"backup", copied}} {
		if code, said := typed(db, line...); code != exitDone {
			t.Fatal(said)
		}
	}
	other, err := store.Open(context.Background(), copied, store.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	code, said := typed(db, "backup", copied)
	if code != exitInvalid || !strings.Contains(said, "is open in another hedgerow") {
		t.Errorf("exit %d: %s", code, said)
	}
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	if code, said := typed(db, "backup", copied); code != exitDone {
		t.Errorf("after the other has ended: exit %d: %s", code, said)
	}
}

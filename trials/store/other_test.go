package store

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A friend's notebook that was cut off on its way is refused by the path that was typed,
// not by that of the copy that is read.
func TestOtherNotebookCutOff(t *testing.T) {
	path := filepath.Join(t.TempDir(), "friend.db")
	s, err := Open(context.Background(), path, Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, 3000); err != nil {
		t.Fatal(err)
	}
	_, err = ReadOther(context.Background(), path, time.Now)
	if err == nil || !strings.Contains(err.Error(), path) || strings.Contains(err.Error(), "other.db") {
		t.Errorf("%v", err)
	}
}

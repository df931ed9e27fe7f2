package store

import (
	"context"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"hedgerow/trials"
)

// Of each material the last suggestion is kept, every field of it, and undo after it
// takes back what was written before.
func TestTheLastSuggestionIsKept(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	b := &trials.Batch{Record: trials.Record{Name: "heather-1"}, Kind: trials.KindBatch, StartedAt: testNow, VolumeL: 12}
	if err := s.Write(ctx, "start heather-1", func(tx *Tx) error { return tx.Save(b) }); err != nil {
		t.Fatal(err)
	}
	dose, volume := 2.9, 12.0
	last := trials.Suggestion{MaterialKey: "heather", At: testNow.Add(time.Hour), Text: "Next for heather: 2.9 g/L",
		Verdict: "try", Method: "tea", DoseGPerL: &dose, VolumeL: &volume}
	other := trials.Suggestion{MaterialKey: "hibiscus", At: testNow, Text: "a bench first", Verdict: "bench"}
	for _, given := range []trials.Suggestion{{MaterialKey: "heather", At: testNow, Text: "before"}, other, last} {
		if err := s.Suggested(ctx, given); err != nil {
			t.Fatal(err)
		}
	}
	n := whole(t, s)
	if len(n.Suggestions) != 2 {
		t.Fatalf("%d suggestions are kept: %+v", len(n.Suggestions), n.Suggestions)
	}
	for i, want := range []trials.Suggestion{other, last} {
		got := n.Suggestions[i]
		if got.ID == "" {
			t.Errorf("%s has no id", got.MaterialKey)
		}
		if got.ID = ""; !reflect.DeepEqual(got, want) {
			t.Errorf("read %+v, want %+v", got, want)
		}
	}
	if what, err := s.Undo(ctx); err != nil || what != "start heather-1" {
		t.Errorf("undo took back %q (%v)", what, err)
	}
	if n = whole(t, s); len(n.Suggestions) != 2 || len(n.Batches) != 0 {
		t.Errorf("undo left %+v, %+v", n.Suggestions, n.Batches)
	}
}

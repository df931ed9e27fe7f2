package store

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"hedgerow/trials"
)

// What to do about damage.
const (
	takeCopy  = "bring a copy back: hedgerow restore FILE; what was written since is in this one"
	lookAgain = "compare it with a copy; editing it takes it as it is now"
)

// Check looks for damage in the file: its structure, the references between
// records, every record against its digest, and the journal. It goes on after the
// first find. What it cannot read is a find too.
func (s *Store) Check(ctx context.Context) []trials.Damage {
	c := &checker{ctx: ctx, q: s.db}
	c.structure()
	c.references()
	for _, shape := range sealed() {
		c.records(shape)
	}
	c.journal()
	return c.found
}

// checker gathers what is found.
type checker struct {
	ctx   context.Context
	q     queryer
	found []trials.Damage
}

// add adds a find.
func (c *checker) add(record, do, format string, args ...any) {
	c.found = append(c.found, trials.Damage{Record: record, What: fmt.Sprintf(format, args...), Do: do})
}

// failed adds that something could not be read; nil is no find.
func (c *checker) failed(what string, err error) {
	if err != nil {
		c.add(what, takeCopy, "cannot be read: %v", err)
	}
}

// structure asks SQLite whether pages, tables and indexes fit together.
func (c *checker) structure() {
	const most = 20
	list, err := textColumn(c.ctx, c.q, fmt.Sprintf("PRAGMA integrity_check(%d)", most))
	c.failed("file", err)
	for _, text := range list {
		if text != "ok" {
			c.add("file", takeCopy, "is damaged: %s", strings.ReplaceAll(text, "\n", " "))
		}
	}
}

// references looks for records whose owner is missing.
func (c *checker) references() {
	list, err := textColumn(c.ctx, c.q, "SELECT DISTINCT \"table\" || ' refers to a ' || parent || ' that is not there'"+
		" FROM pragma_foreign_key_check")
	c.failed("references", err)
	for _, text := range list {
		c.add("references", takeCopy, "a %s", text)
	}
}

// records compares every record of a table with its digest.
func (c *checker) records(s shape) {
	list, err := s.rows(c.ctx, c.q, "")
	c.failed("table "+s.name, err)
	for _, r := range list {
		sum, err := s.digest(r.values)
		switch {
		case err != nil:
			c.failed(s.called(r), err)
		case !r.digest.Valid:
			c.add(s.called(r), lookAgain, "was written by another program")
		case r.digest.Int64 != sum:
			c.add(s.called(r), lookAgain, "is not as it was written")
		}
	}
}

// called is what a person calls a row: its kind and its name, or its key where it
// has none.
func (s shape) called(r row) string {
	kind := strings.ReplaceAll(s.name, "_", " ")
	for i, column := range s.columns {
		if column == "name" {
			return fmt.Sprintf("%s %v", kind, r.values[i])
		}
	}
	return kind + " " + r.key()
}

// journal looks whether undo and redo could carry out what the journal keeps: it
// names tables and columns that are known, and each step begins where the one
// before it ended, the last one at the record as it is.
func (c *checker) journal() {
	const journal = "journal"
	list, err := writesOf(c.ctx, c.q, "ORDER BY write_id")
	if err != nil {
		c.failed(journal, err)
		return
	}
	for _, w := range list {
		if err := checkWrite(c.ctx, c.q, w); err != nil {
			c.add(journal, "do not undo back to there; or bring a copy back", "of %q at %s is not as it was written", w.What,
				w.At.Format(time.DateTime))
		}
	}
	writes, err := textColumn(c.ctx, c.q, "SELECT DISTINCT write_id FROM journal_step"+
		" WHERE write_id NOT IN (SELECT write_id FROM journal_write)")
	c.failed(journal, err)
	if len(writes) > 0 {
		c.add(journal, "undo no further back than to today", "has steps of no write")
	}
	for _, s := range shapes() {
		c.steps(s)
	}
}

// steps looks at the steps of one table. Those that were taken back go on where those
// before them ended, too: nothing was written since.
func (c *checker) steps(s shape) {
	bad := func(key, what string) {
		c.add("journal", "do not undo the writes of this record: hedgerow undo --list; or bring a copy back",
			"of %s %s %s", s.name, key, what)
	}
	rows, err := c.q.QueryContext(c.ctx, "SELECT row_key, row_before, row_after FROM journal_step"+
		" WHERE in_table = ? ORDER BY step_id", s.name)
	if err != nil {
		c.failed("journal", err)
		return
	}
	defer rows.Close()
	ended := map[string]string{}
	for rows.Next() {
		var key string
		var before, after *string
		if err := rows.Scan(&key, &before, &after); err != nil {
			c.failed("journal", err)
			return
		}
		for _, text := range []*string{before, after} {
			if text == nil {
				continue
			}
			if _, err := s.columnsIn(*text); err != nil {
				bad(key, "cannot be read")
			}
		}
		if last, seen := ended[key]; seen && !sameRow(textOf(before), last) {
			bad(key, "does not go on where it ended")
		}
		if before == nil && after == nil || textOf(after) == stands {
			// it is there, as the table has it
			delete(ended, key)
			continue
		}
		ended[key] = textOf(after)
	}
	c.failed("journal", rows.Err())
}

// textOf is a text that may be missing.
func textOf(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

// sameRow reports whether two rows of the journal say the same, of the columns
// that both have: a migration may have added one in between.
func sameRow(a, b string) bool {
	if a == b {
		return true
	}
	var first, second map[string]any
	if json.Unmarshal([]byte(a), &first) != nil || json.Unmarshal([]byte(b), &second) != nil {
		return false
	}
	for column, v := range first {
		if w, ok := second[column]; ok && fmt.Sprint(v) != fmt.Sprint(w) {
			return false
		}
	}
	return true
}

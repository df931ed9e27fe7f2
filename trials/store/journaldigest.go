package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"fmt"

	"hedgerow/trials"
)

// writeDigest works out the digest of a write of the journal, over all that stands
// in it and in its first steps, so many as it is said to have.
func writeDigest(ctx context.Context, q queryer, id int64, count int64) (int64, error) {
	var at, what, undone, lost any
	err := q.QueryRowContext(ctx, "SELECT at, what, undone, lost FROM journal_write WHERE write_id = ?", id).
		Scan(&at, &what, &undone, &lost)
	if err != nil {
		return 0, err
	}
	text := make([]byte, 0, 1024)
	for _, v := range []any{id, at, what, undone, lost, count} {
		text = appendValue(text, v)
	}
	hash := sha256.New()
	hash.Write(text)
	rows, err := q.QueryContext(ctx, "SELECT step_id, in_table, row_key, row_before, row_after FROM journal_step"+
		" WHERE write_id = ? ORDER BY step_id LIMIT ?", id, count)
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	var step, table, key, before, after sql.RawBytes
	for rows.Next() {
		if err := rows.Scan(&step, &table, &key, &before, &after); err != nil {
			return 0, err
		}
		text = text[:0]
		for _, v := range []sql.RawBytes{step, table, key, before, after} {
			if v == nil {
				text = append(text, 'n')
				continue
			}
			text = append(binary.BigEndian.AppendUint64(append(text, 's'), uint64(len(v))), v...)
		}
		hash.Write(text)
	}
	return int64(binary.BigEndian.Uint64(hash.Sum(nil)[:8])), rows.Err()
}

// sealWrite writes the digest of a write of the journal.
func (t *Tx) sealWrite(id int64) error {
	var count int64
	err := t.tx.QueryRowContext(t.ctx, "SELECT count(*) FROM journal_step WHERE write_id = ?", id).Scan(&count)
	if err != nil {
		return fmt.Errorf("seal the journal: %w", err)
	}
	sum, err := writeDigest(t.ctx, t.tx, id, count)
	if err != nil {
		return fmt.Errorf("seal the journal: %w", err)
	}
	return t.exec("UPDATE journal_write SET digest = ?, steps = ? WHERE write_id = ?", sum, count, id)
}

// checkWrite refuses a write of the journal that is not as it was written: what it
// would bring back is not what was there.
func checkWrite(ctx context.Context, q queryer, w journaled) error {
	var carried, count sql.NullInt64
	err := q.QueryRowContext(ctx, "SELECT digest, steps FROM journal_write WHERE write_id = ?", w.id).
		Scan(&carried, &count)
	if err != nil {
		return err
	}
	sum, err := writeDigest(ctx, q, w.id, count.Int64)
	if err != nil || carried.Valid && count.Valid && carried.Int64 == sum {
		return err
	}
	return &trials.Problem{Code: trials.Failed,
		Message: fmt.Sprintf("what the journal keeps of %q is damaged; nothing was changed", w.What),
		Hint:    "hedgerow check says what else is; what it would take back can be corrected by hand"}
}

// sealJournal gives the writes of the journal that have none their digests.
func sealJournal(ctx context.Context, tx *sql.Tx) error {
	list, err := writesOf(ctx, tx, "WHERE digest IS NULL")
	if err != nil {
		return err
	}
	t := &Tx{ctx: ctx, tx: tx}
	for _, w := range list {
		if err := t.sealWrite(w.id); err != nil {
			return err
		}
	}
	return nil
}

package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"database/sql/driver"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
)

// digestColumn is the column of every record that holds its digest.
const digestColumn = "digest"

// sealed lists every table whose records carry a digest.
func sealed() []shape { return append(shapes(), marks.shape(), suggestions.shape()) }

// digest works out the digest of a row from its values in the order of the
// layout: the first eight bytes of SHA-256 over the table and, for each column,
// its name and value. It is to find damage, not to keep forgers out.
func (s shape) digest(values []any) (int64, error) {
	text := append(make([]byte, 0, 512), s.name...)
	for i, c := range s.columns {
		text = append(append(text, 0), c...)
		v, err := driver.DefaultParameterConverter.ConvertValue(values[i])
		if err != nil {
			return 0, fmt.Errorf("%s of %s: %w", c, s.name, err)
		}
		text = appendValue(text, v)
	}
	sum := sha256.Sum256(text)
	return int64(binary.BigEndian.Uint64(sum[:8])), nil
}

// appendValue adds a value in a form that does not tell a value to be written
// from the same one read back: SQLite returns a whole number of a REAL column as
// a float and a bool as a whole number.
func appendValue(text []byte, v driver.Value) []byte {
	number := func(f float64) []byte { return binary.BigEndian.AppendUint64(append(text, 'f'), math.Float64bits(f)) }
	words := func(s string) []byte {
		return append(binary.BigEndian.AppendUint64(append(text, 's'), uint64(len(s))), s...)
	}
	switch v := v.(type) {
	case nil:
		return append(text, 'n')
	case bool:
		if v {
			return number(1)
		}
		return number(0)
	case int64:
		return number(float64(v))
	case float64:
		return number(v)
	case []byte:
		return words(string(v))
	case string:
		return words(v)
	}
	return words(fmt.Sprint(v))
}

// names returns the columns, separated by commas.
func (s shape) names() string { return strings.Join(s.columns, ", ") }

// row is a row as it is stored, with the digest that stands in it.
type row struct {
	values []any
	digest sql.NullInt64
}

// key is the value of the first column, for a person.
func (r row) key() string { return fmt.Sprint(r.values[0]) }

// rows reads rows of a table as they are stored; where is what follows the name
// of the table.
func (s shape) rows(ctx context.Context, q queryer, where string, args ...any) ([]row, error) {
	found, err := q.QueryContext(ctx, "SELECT "+s.names()+", "+digestColumn+" FROM "+s.name+" "+where, args...)
	if err != nil {
		return nil, err
	}
	defer found.Close()
	var list []row
	for found.Next() {
		r := row{values: make([]any, len(s.columns))}
		places := make([]any, 0, len(s.columns)+1)
		for i := range r.values {
			places = append(places, &r.values[i])
		}
		if err := found.Scan(append(places, &r.digest)...); err != nil {
			return nil, err
		}
		list = append(list, r)
	}
	return list, found.Err()
}

// seal writes the digests of the rows that where picks and that have another one.
func (s shape) seal(ctx context.Context, tx *sql.Tx, where string, args ...any) error {
	list, err := s.rows(ctx, tx, where, args...)
	if err != nil {
		return err
	}
	for _, r := range list {
		sum, err := s.digest(r.values)
		if err != nil {
			return err
		}
		if r.digest.Valid && r.digest.Int64 == sum {
			continue
		}
		_, err = tx.ExecContext(ctx, "UPDATE "+s.name+" SET "+digestColumn+" = ? WHERE "+s.columns[0]+" = ?", sum,
			r.values[0])
		if err != nil {
			return fmt.Errorf("seal %s %s: %w", s.name, r.key(), err)
		}
	}
	return nil
}

// sealSteps writes the digests of the rows that the journal of a write names:
// those that SQLite changed by itself, along a reference to a row that went, and
// those that were brought back.
func (t *Tx) sealSteps(id int64) error {
	for _, s := range shapes() {
		err := s.seal(t.ctx, t.tx, "WHERE "+s.columns[0]+
			" IN (SELECT row_key FROM journal_step WHERE write_id = ? AND in_table = ?)", id, s.name)
		if err != nil {
			return err
		}
	}
	return nil
}

// firstDigest is the version that has digests.
const firstDigest = 11

// addDigestColumns gives every table that is there after a migration, and has none,
// the column of the digest. It runs after each of them, so that a column which a later
// one adds stands behind it, in a new notebook as in one brought up to date.
func addDigestColumns(ctx context.Context, tx *sql.Tx, version int) error {
	if version < firstDigest {
		return nil
	}
	for _, s := range sealed() {
		var columns, digests int
		err := tx.QueryRowContext(ctx, "SELECT count(*), count(*) FILTER (WHERE name = ?) FROM pragma_table_info(?)",
			digestColumn, s.name).Scan(&columns, &digests)
		// a table of a later version is not there yet
		if err == nil && columns > 0 && digests == 0 {
			_, err = tx.ExecContext(ctx, "ALTER TABLE "+s.name+" ADD COLUMN "+digestColumn+" INTEGER")
		}
		if err != nil {
			return fmt.Errorf("digests of %s: %w", s.name, err)
		}
	}
	return nil
}

// fillDigests fills the digests of all records: a new column of a table changes those
// of its rows.
func fillDigests(ctx context.Context, tx *sql.Tx) error {
	for _, s := range sealed() {
		if err := s.seal(ctx, tx, ""); err != nil {
			return fmt.Errorf("digests of %s: %w", s.name, err)
		}
	}
	return nil
}

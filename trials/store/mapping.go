package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"strings"
	"time"
	"unique"

	"hedgerow/trials"
)

// column is one column of a table and the place of its value in a record.
type column[T any] struct {
	name  string
	place func(*T) any
}

// table says how a record of type T is laid out. The first column is the key.
type table[T any] struct {
	name    string
	order   string
	columns []column[T]
}

// names returns the column names, separated by commas.
func (t table[T]) names() string {
	names := make([]string, len(t.columns))
	for i, c := range t.columns {
		names[i] = c.name
	}
	return strings.Join(names, ", ")
}

// places returns pointers to the fields of r in column order; they serve both
// as scan targets and, dereferenced by database/sql, as arguments.
func (t table[T]) places(r *T) []any {
	p := make([]any, len(t.columns))
	for i, c := range t.columns {
		p[i] = c.place(r)
	}
	return p
}

// all reads every row of the table in its order.
func (t table[T]) all(ctx context.Context, q queryer) ([]T, error) {
	rows, err := q.QueryContext(ctx, "SELECT "+t.names()+" FROM "+t.name+" ORDER BY "+t.order)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", t.name, err)
	}
	defer rows.Close()
	var list []T
	for rows.Next() {
		var r T
		if err := rows.Scan(t.places(&r)...); err != nil {
			return nil, fmt.Errorf("read %s: %w", t.name, err)
		}
		list = append(list, r)
	}
	return list, rows.Err()
}

// insert adds one row.
func (t table[T]) insert(ctx context.Context, tx *sql.Tx, r *T) error {
	values := t.places(r)
	sum, err := t.shape().digest(values)
	if err != nil {
		return err
	}
	marks := strings.Repeat(", ?", len(t.columns))
	_, err = tx.ExecContext(ctx, "INSERT INTO "+t.name+" ("+digestColumn+", "+t.names()+") VALUES (?"+marks+")",
		append([]any{sum}, values...)...)
	if err != nil {
		return fmt.Errorf("write %s: %w", t.name, err)
	}
	return nil
}

// update replaces every column of the row with the key of r.
func (t table[T]) update(ctx context.Context, tx *sql.Tx, r *T) error {
	var set []string
	for _, c := range t.columns[1:] {
		set = append(set, c.name+" = ?")
	}
	p := t.places(r)
	sum, err := t.shape().digest(p)
	if err != nil {
		return err
	}
	set = append(set, digestColumn+" = ?")
	query := "UPDATE " + t.name + " SET " + strings.Join(set, ", ") + " WHERE " + t.columns[0].name + " = ?"
	res, err := tx.ExecContext(ctx, query, append(p[1:], sum, p[0])...)
	if err != nil {
		return fmt.Errorf("write %s: %w", t.name, err)
	}
	return oneRow(res, "write "+t.name)
}

// remove deletes the row with that key.
func (t table[T]) remove(ctx context.Context, tx *sql.Tx, id string) error {
	res, err := tx.ExecContext(ctx, "DELETE FROM "+t.name+" WHERE "+t.columns[0].name+" = ?", id)
	if err != nil {
		return fmt.Errorf("delete from %s: %w", t.name, err)
	}
	return oneRow(res, "delete from "+t.name)
}

// oneRow refuses a statement that was meant for one row and touched none or
// several; the write is then given up as a whole.
func oneRow(res sql.Result, doing string) error {
	n, err := res.RowsAffected()
	if err != nil {
		return fmt.Errorf("%s: %w", doing, err)
	}
	if n != 1 {
		return fmt.Errorf("%s: %d rows instead of one", doing, n)
	}
	return nil
}

// queryer is what *sql.DB and *sql.Tx have in common for reading.
type queryer interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// shared is a text that many rows have in common: it is kept once, however many
// rows are read. Eighty thousand scores name four ids each.
type shared struct{ s *string }

// Value implements driver.Valuer.
func (t shared) Value() (driver.Value, error) { return *t.s, nil }

// Scan implements sql.Scanner.
func (t shared) Scan(v any) error {
	text, ok := v.(string)
	if !ok {
		return fmt.Errorf("a text is stored as %T", v)
	}
	*t.s = unique.Make(text).Value()
	return nil
}

// moment keeps a time as RFC 3339 UTC text with nanoseconds, which sorts as text.
type moment struct{ t *time.Time }

// momentLayout has a fixed width so that text order is time order.
const momentLayout = "2006-01-02T15:04:05.000000000Z"

// Value implements driver.Valuer.
func (m moment) Value() (driver.Value, error) { return m.t.UTC().Format(momentLayout), nil }

// Scan implements sql.Scanner.
func (m moment) Scan(v any) error {
	text, ok := v.(string)
	if !ok {
		return fmt.Errorf("a time is stored as %T", v)
	}
	t, err := time.Parse(momentLayout, text)
	*m.t = t
	return err
}

// maybeMoment is moment for a time that may be missing.
type maybeMoment struct{ t **time.Time }

// Value implements driver.Valuer.
func (m maybeMoment) Value() (driver.Value, error) {
	if *m.t == nil {
		return nil, nil
	}
	return moment{*m.t}.Value()
}

// Scan implements sql.Scanner.
func (m maybeMoment) Scan(v any) error {
	if v == nil {
		*m.t = nil
		return nil
	}
	*m.t = new(time.Time)
	return moment{*m.t}.Scan(v)
}

// words keeps a list of words as JSON text.
type words struct{ list *[]string }

// Value implements driver.Valuer.
func (w words) Value() (driver.Value, error) {
	text, err := json.Marshal(*w.list)
	return string(text), err
}

// Scan implements sql.Scanner.
func (w words) Scan(v any) error {
	text, ok := v.(string)
	if !ok {
		return fmt.Errorf("a list is stored as %T", v)
	}
	return json.Unmarshal([]byte(text), w.list)
}

// limits keeps named half-widths as JSON text; none is {}.
type limits struct{ list *trials.Limits }

// Value implements driver.Valuer.
func (l limits) Value() (driver.Value, error) {
	text, err := json.Marshal(*l.list)
	return string(text), err
}

// Scan implements sql.Scanner.
func (l limits) Scan(v any) error {
	text, ok := v.(string)
	if !ok {
		return fmt.Errorf("limits are stored as %T", v)
	}
	// cleared, for Unmarshal adds to a map that is there
	*l.list = nil
	if text == "{}" {
		return nil
	}
	return json.Unmarshal([]byte(text), l.list)
}

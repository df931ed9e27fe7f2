package store

import (
	"context"
	"database/sql"
	"fmt"
	"strings"
)

// followed reads the names of the tables that the journal follows: all but its
// own, the marks, which nothing takes back, the suggestions, which are no writes of
// the brewer, and SQLite's.
func followed(ctx context.Context, q queryer) ([]string, error) {
	return textColumn(ctx, q, "SELECT name FROM sqlite_schema"+
		" WHERE type = 'table' AND name NOT LIKE 'journal%' AND name NOT LIKE 'sqlite%'"+
		" AND name NOT IN ('mark', 'suggestion') ORDER BY name")
}

// recorded reads the names of the columns that the journal keeps of a table: all
// but the digest, which follows from them.
func recorded(ctx context.Context, q queryer, table string) ([]string, error) {
	return textColumn(ctx, q, "SELECT name FROM pragma_table_info(?) WHERE name <> ? ORDER BY cid", table, digestColumn)
}

// dropTriggers takes the triggers of the journal away, so that a migration may
// change its tables and what the migration itself writes is no step of a write.
func dropTriggers(ctx context.Context, tx *sql.Tx) error {
	names, err := textColumn(ctx, tx, "SELECT name FROM sqlite_schema WHERE type = 'trigger' AND name LIKE 'journal%'")
	if err != nil {
		return err
	}
	for _, name := range names {
		// The name is the file's: quoted, it stays a name.
		if _, err := tx.ExecContext(ctx, `DROP TRIGGER "`+strings.ReplaceAll(name, `"`, `""`)+`"`); err != nil {
			return fmt.Errorf("drop %s: %w", name, err)
		}
	}
	return nil
}

// makeTriggers makes, for every table that is followed, the triggers that write
// each changed row into the journal as it was before, of a new row its key.
//
// Triggers see what foreign keys delete or change, which a writer in Go would
// have to know.
func makeTriggers(ctx context.Context, tx *sql.Tx) error {
	tables, err := followed(ctx, tx)
	if err != nil {
		return err
	}
	for _, t := range tables {
		columns, err := recorded(ctx, tx, t)
		if err != nil {
			return err
		}
		before, key := rowJSON("OLD", columns), columns[0]
		for _, step := range []struct{ when, of, key, before, after string }{
			// What is new stands in the table: writing it twice would double the cost of an
			// import, and whoever opens the notebook reads the statement.
			{"INSERT", "", "NEW." + key, "NULL", "NULL"},
			{"UPDATE", " OF " + strings.Join(columns, ", "), "NEW." + key, before, "'" + stands + "'"},
			{"DELETE", "", "OLD." + key, before, "NULL"},
		} {
			text := "CREATE TRIGGER journal_" + t + "_" + strings.ToLower(step.when) + " AFTER " + step.when + step.of +
				" ON " + t +
				" BEGIN INSERT INTO journal_step (write_id, in_table, row_key, row_before, row_after)" +
				" SELECT max(write_id), '" + t + "', " + step.key + ", " + step.before + ", " + step.after +
				" FROM journal_write; END"
			if _, err := tx.ExecContext(ctx, text); err != nil {
				return fmt.Errorf("journal of %s: %w", t, err)
			}
		}
	}
	return nil
}

// rowJSON is the SQL expression for a row (OLD or NEW of a trigger) as a JSON
// object of its columns. SQLite writes as many digits as a number needs.
func rowJSON(row string, columns []string) string {
	parts := make([]string, len(columns))
	for i, c := range columns {
		parts[i] = "'" + c + "', " + row + "." + c
	}
	return "json_object(" + strings.Join(parts, ", ") + ")"
}

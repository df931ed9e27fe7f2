package store

import (
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"hedgerow/trials"
)

// schemaSum is the digest of everything that a notebook of this version is made
// of; the test of its name writes it anew after a migration was added.
//
//go:embed schema.sum
var schemaSum string

// object is a table, index, view or trigger of a file.
type object struct{ kind, name, table, text string }

// objects reads what a file is made of, but for what SQLite adds by itself.
func objects(ctx context.Context, q queryer) ([]object, error) {
	rows, err := q.QueryContext(ctx, "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema"+
		` WHERE name NOT LIKE 'sqlite\_%' ESCAPE '\' ORDER BY type, name`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []object
	for rows.Next() {
		var o object
		if err := rows.Scan(&o.kind, &o.name, &o.table, &o.text); err != nil {
			return nil, err
		}
		list = append(list, o)
	}
	return list, rows.Err()
}

// sumOf is the digest of what a file is made of.
func sumOf(list []object) string {
	var all []byte
	for _, o := range list {
		for _, part := range []string{o.kind, o.name, o.table, o.text} {
			all = append(append(all, part...), 0) // SQLite ends names and statements at a zero byte
		}
	}
	sum := sha256.Sum256(all)
	return hex.EncodeToString(sum[:])
}

// asMade reports whether a file is made of what a notebook of this version is
// made of, and of nothing else: a trigger or a view that somebody slipped in runs
// with the statements of whoever opens the file.
func asMade(ctx context.Context, q queryer) (bool, error) {
	list, err := objects(ctx, q)
	return err == nil && sumOf(list) == strings.TrimSpace(schemaSum), err
}

// checkSchema refuses a notebook that is not asMade and names what is strange. It
// makes one to compare with, so it does not rest on the digest.
func checkSchema(ctx context.Context, q queryer, path string) error {
	list, err := objects(ctx, q)
	if err != nil || sumOf(list) == strings.TrimSpace(schemaSum) {
		return err
	}
	made, err := reference(ctx)
	if err != nil {
		return err
	}
	for _, o := range list {
		if !slices.Contains(made, o) {
			return strange(path, o, "holds %s %q that hedgerow did not make like this")
		}
	}
	for _, o := range made {
		if !slices.Contains(list, o) {
			return strange(path, o, "lacks %s %q")
		}
	}
	return nil // as the migrations make it: the digest is out of date
}

// reference is what a notebook of this version is made of.
func reference(ctx context.Context) ([]object, error) {
	db, err := connect(ctx, "file::memory:", 0)
	if err != nil {
		return nil, err
	}
	defer db.Close()
	list, err := steps()
	if err != nil {
		return nil, err
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return nil, err
	}
	defer tx.Rollback()
	if err := runSteps(ctx, tx, list, 0); err != nil {
		return nil, err
	}
	return objects(ctx, tx)
}

// checkOlder refuses what no notebook of any version is made of: in one that is
// ours a view, a table that is no plain one or a trigger that is not the
// journal's, in a blank file anything.
func checkOlder(ctx context.Context, q queryer, path string, ours bool) error {
	list, err := objects(ctx, q)
	if err != nil {
		return err
	}
	if !ours && len(list) > 0 {
		return foreign(path)
	}
	for _, o := range list {
		virtual := strings.Contains(strings.ToUpper(o.text), "VIRTUAL TABLE")
		journals := o.kind == "trigger" && strings.HasPrefix(o.name, "journal_")
		if virtual || !journals && o.kind != "table" && o.kind != "index" {
			return strange(path, o, "holds %s %q that hedgerow did not make")
		}
	}
	return nil
}

// strange is the refusal of a notebook in which something is not as it is made.
func strange(path string, o object, format string) error {
	return &trials.Problem{Code: trials.ForeignNotebook,
		Message: "the notebook " + path + " " + fmt.Sprintf(format, withArticle(o.kind), o.name) + "; nothing of it was run",
		Hint:    "take up a copy of the notebook; if it came from someone else, ask for another one"}
}

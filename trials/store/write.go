package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"hedgerow/trials"

	"modernc.org/sqlite"
)

// keepWrites is how many writes the journal can take back.
const keepWrites = 200

// Change is the notebook held for one write: what is read from it stays true
// until Write, since nobody else can write meanwhile.
type Change struct {
	s   *Store
	ctx context.Context
	tx  *sql.Tx
}

// Begin holds the notebook for one write; Write or Rollback lets it go. Others
// who want to write wait, so a person must not be asked in between.
func (s *Store) Begin(ctx context.Context) (*Change, error) {
	// SQLite looks ever more seldom for a lock it waits for, so that among many who
	// write one can go without until its time is over: asked for anew every so
	// often, it begins to look often again.
	const longest, atATime = 5 * time.Second, "PRAGMA busy_timeout = 60"
	if _, err := s.db.ExecContext(ctx, atATime); err != nil {
		return nil, s.explain(err)
	}
	for begun := time.Now(); ; {
		tx, err := s.db.BeginTx(ctx, nil)
		if err == nil {
			return &Change{s, ctx, tx}, nil
		}
		if codeOf(err) != sqliteBusy || time.Since(begun) > longest || ctx.Err() != nil {
			return nil, s.explain(err)
		}
	}
}

// Notebook reads everything but the scores.
func (c *Change) Notebook(ctx context.Context) (*trials.Notebook, error) {
	n, err := loader{ctx, c.tx, c.s.now()}.notebook()
	return n, c.s.explain(err)
}

// Whole reads everything.
func (c *Change) Whole(ctx context.Context) (*trials.Notebook, error) {
	n, err := loader{ctx, c.tx, c.s.now()}.whole()
	return n, c.s.explain(err)
}

// Settings reads the settings alone.
func (c *Change) Settings(ctx context.Context) (map[string]string, error) {
	m, err := settings(ctx, c.tx)
	return m, c.s.explain(err)
}

// Used reports whether anything was ever written to the notebook.
func (c *Change) Used() (used bool, err error) {
	err = c.tx.QueryRowContext(c.ctx, "SELECT EXISTS (SELECT 1 FROM journal_write)").Scan(&used)
	return used, c.s.explain(err)
}

// Rollback lets the notebook go as it was; after Write it does nothing.
func (c *Change) Rollback() { c.tx.Rollback() }

// Pause lets the notebook go while a person is asked, and holds it again. If somebody
// wrote meanwhile, what was checked before may not hold any more, and the change is
// refused.
func (c *Change) Pause(ask func() error) error {
	before, err := c.others()
	c.Rollback()
	if err != nil {
		return c.s.explain(err)
	}
	if err := ask(); err != nil {
		return err
	}
	again, err := c.s.Begin(c.ctx)
	if err != nil {
		return err
	}
	c.tx = again.tx
	after, err := c.others()
	switch {
	case err != nil:
		return c.s.explain(err)
	case before != after:
		return &trials.Problem{Code: trials.Failed, Message: "the notebook was written meanwhile, and nothing of this was",
			Hint: "repeat the command"}
	}
	return nil
}

// others is a number that changes when another connection writes.
func (c *Change) others() (version int64, err error) {
	err = c.tx.QueryRowContext(c.ctx, "PRAGMA data_version").Scan(&version)
	return version, err
}

// Write runs f, records what it did in the journal under the words in what, and
// ends the change. If f returns an error nothing is written.
func (c *Change) Write(what string, f func(*Tx) error) error {
	defer c.tx.Rollback()
	t := &Tx{ctx: c.ctx, tx: c.tx, now: c.s.now().UTC()}
	var id int64
	err := inTurn(
		// What was taken back cannot be done again on top of something new.
		func() error { return t.exec("DELETE FROM journal_write WHERE undone") },
		func() (err error) { id, err = t.newWrite(what); return err },
		func() error { return f(t) },
		func() error { return t.sealReferences(id) },
		func() error { return t.sealWrite(id) },
		// the journal would outgrow the notebook
		func() error { return t.exec("DELETE FROM journal_write WHERE write_id <= ?", id-keepWrites) },
		c.tx.Commit,
	)
	return c.s.explain(err)
}

// Mark keeps marks and ends the change. It is no write that undo could take back.
func (c *Change) Mark(list ...trials.Mark) error {
	defer c.tx.Rollback()
	t := &Tx{ctx: c.ctx, tx: c.tx, now: c.s.now().UTC()}
	if err := t.Mark(list...); err != nil {
		return c.s.explain(err)
	}
	return c.s.explain(c.tx.Commit())
}

// Tx takes the records of one write: all of them are kept, or none.
type Tx struct {
	ctx     context.Context
	tx      *sql.Tx
	now     time.Time
	named   map[string]map[string]string // by table and likeness of the name: the id
	deleted bool                         // a record went: SQLite may have changed those that referred to it
}

// newWrite begins a write in the journal.
func (t *Tx) newWrite(what string) (id int64, err error) {
	// the triggers take the highest number for the present write
	err = t.tx.QueryRowContext(t.ctx, "INSERT INTO journal_write (at, what) VALUES (?, ?) RETURNING write_id",
		t.now.Format(momentLayout), what).Scan(&id)
	return id, err
}

// sealReferences writes the digests of the records that lost a reference with one
// that went in this write.
func (t *Tx) sealReferences(id int64) error {
	if !t.deleted {
		return nil
	}
	return t.sealSteps(id)
}

// exec runs one statement.
func (t *Tx) exec(query string, args ...any) error {
	_, err := t.tx.ExecContext(t.ctx, query, args...)
	return err
}

// Mark keeps marks, which stay when the write is taken back.
func (t *Tx) Mark(list ...trials.Mark) error {
	for i := range list {
		if err := marks.insert(t.ctx, t.tx, &list[i]); err != nil {
			return err
		}
	}
	return nil
}

// Save inserts each new record (one without a created time, or without an id
// where the record has no times) and updates each known one. Records are
// pointers to the types of package trials; ids and times are filled in.
func (t *Tx) Save(records ...any) error {
	for _, r := range records {
		if err := t.saveOne(r); err != nil {
			return err
		}
	}
	return nil
}

// saveOne picks the table of a record.
func (t *Tx) saveOne(record any) error {
	switch r := record.(type) {
	case *trials.Batch:
		return save(t, batches, r, &r.Record)
	case *trials.Loss:
		return save(t, losses, r, &r.Record)
	case *trials.Packaging:
		return save(t, packagings, r, &r.Record)
	case *trials.BatchNote:
		return save(t, batchNotes, r, &r.Record)
	case *trials.Extract:
		return t.saveExtract(r)
	case *trials.Addition:
		return save(t, additions, r, &r.Record)
	case *trials.Reading:
		return save(t, readings, r, &r.Record)
	case *trials.Meter:
		return save(t, meters, r, &r.Record)
	case *trials.Calibration:
		return save(t, calibrations, r, &r.Record)
	case *trials.Claim:
		return save(t, claims, r, &r.Record)
	case *trials.OwnMaterial:
		return save(t, materials, r, &r.Record)
	case *trials.Taster:
		return save(t, tasters, r, &r.Record)
	case *trials.Tasting:
		return save(t, tastings, r, &r.Record)
	case *trials.Serving:
		return savePlain(t, servings, r, &r.ID)
	case *trials.Place:
		return savePlain(t, places, r, &r.ID)
	case *trials.Plan:
		return save(t, plans, r, &r.Record)
	case *trials.Score:
		return savePlain(t, scores, r, &r.ID)
	case *trials.TasterNote:
		return savePlain(t, tasterNotes, r, &r.ID)
	case *trials.ToTaste:
		return savePlain(t, toTastes, r, &r.ID)
	case *trials.Dropper:
		return savePlain(t, droppers, r, &r.ID)
	case *trials.Dosing:
		return savePlain(t, dosings, r, &r.ID)
	}
	return fmt.Errorf("no table for %T", record)
}

// save writes a record with a name and times.
func save[T any](t *Tx, tab table[T], r *T, rec *trials.Record) error {
	if rec.ID == "" {
		rec.ID = trials.NewID()
	}
	if err := t.takeName(tab.name, rec); err != nil {
		return err
	}
	rec.ChangedAt = t.now
	if !rec.CreatedAt.IsZero() {
		return named(tab.update(t.ctx, t.tx, r), tab.name, rec.Name)
	}
	rec.CreatedAt = t.now
	return named(tab.insert(t.ctx, t.tx, r), tab.name, rec.Name)
}

// named turns a clash of names into a Problem.
func named(err error, what, name string) error {
	var e *sqlite.Error
	const constraintUnique = 2067
	if errors.As(err, &e) && e.Code() == constraintUnique {
		kind := withArticle(strings.ReplaceAll(what, "_", " "))
		return &trials.Problem{Code: trials.Invalid,
			Message: fmt.Sprintf("there is already %s %q", kind, name), Hint: "choose another name"}
	}
	return err
}

// takeName refuses the name of a record that looks like that of another. A record
// that had such a name before, or the same, keeps it.
func (t *Tx) takeName(table string, rec *trials.Record) error {
	if t.named[table] == nil {
		known, err := t.namesOf(table)
		if err != nil {
			return err
		}
		if t.named == nil {
			t.named = map[string]map[string]string{}
		}
		t.named[table] = known
	}
	key := trials.Likeness(rec.Name)
	owner, taken := t.named[table][key]
	if !taken {
		t.named[table][key] = rec.ID
		return nil
	}
	if owner == rec.ID {
		return nil
	}
	var name string
	err := t.tx.QueryRowContext(t.ctx, "SELECT name FROM "+table+" WHERE id = ?", owner).Scan(&name)
	if err != nil || name == rec.Name || trials.Likeness(name) != key {
		return nil // it is no longer called so, or the index of names refuses it
	}
	var before string
	err = t.tx.QueryRowContext(t.ctx, "SELECT name FROM "+table+" WHERE id = ?", rec.ID).Scan(&before)
	if err == nil && before == rec.Name {
		return nil
	}
	kind := withArticle(strings.ReplaceAll(table, "_", " "))
	return &trials.Problem{Code: trials.Invalid,
		Message: fmt.Sprintf("there is already %s %q, which looks the same as %q", kind, name, rec.Name),
		Hint:    "choose another name"}
}

// namesOf reads the names of a table.
func (t *Tx) namesOf(table string) (map[string]string, error) {
	rows, err := t.tx.QueryContext(t.ctx, "SELECT id, name FROM "+table+" ORDER BY created_at DESC")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	known := map[string]string{}
	for rows.Next() {
		var id, name string
		if err := rows.Scan(&id, &name); err != nil {
			return nil, err
		}
		known[trials.Likeness(name)] = id
	}
	return known, rows.Err()
}

// withArticle puts a or an before a kind of record.
func withArticle(what string) string {
	if strings.ContainsRune("aeiou", rune(what[0])) {
		return "an " + what
	}
	return "a " + what
}

// savePlain writes a record that has only an id.
func savePlain[T any](t *Tx, tab table[T], r *T, id *string) error {
	if *id != "" {
		return tab.update(t.ctx, t.tx, r)
	}
	*id = trials.NewID()
	return tab.insert(t.ctx, t.tx, r)
}

// saveExtract writes an extract and replaces its passes and top-ups.
func (t *Tx) saveExtract(e *trials.Extract) error {
	if err := save(t, extracts, e, &e.Record); err != nil {
		return err
	}
	// all anew, for one taken out of the middle moves the places of those behind it; the journal has them all
	if _, err := t.tx.ExecContext(t.ctx, "DELETE FROM pass WHERE extract_id = ?", e.ID); err != nil {
		return fmt.Errorf("replace passes: %w", err)
	}
	for i := range e.Passes {
		if e.Passes[i].ID == "" {
			e.Passes[i].ID = trials.NewID()
			// One that is brought along, with its time, keeps it.
			if e.Passes[i].LoggedAt.IsZero() {
				e.Passes[i].LoggedAt = t.now
			}
		}
		row := passRow{Pass: e.Passes[i], ExtractID: e.ID, Place: i + 1}
		if err := passes.insert(t.ctx, t.tx, &row); err != nil {
			return err
		}
	}
	return t.saveTopUps(e)
}

// saveTopUps replaces the top-ups of an extract.
func (t *Tx) saveTopUps(e *trials.Extract) error {
	if _, err := t.tx.ExecContext(t.ctx, "DELETE FROM top_up WHERE extract_id = ?", e.ID); err != nil {
		return fmt.Errorf("replace top-ups: %w", err)
	}
	for i := range e.TopUps {
		if e.TopUps[i].ID == "" {
			e.TopUps[i].ID = trials.NewID()
		}
		row := topUpRow{TopUp: e.TopUps[i], ExtractID: e.ID, Place: i + 1}
		if err := topUps.insert(t.ctx, t.tx, &row); err != nil {
			return err
		}
	}
	return nil
}

// Delete removes a record, given as a value (not a pointer) of one of the types
// below. What belongs to it goes too, a reference to it that may be missing is
// then missing, and where other records rest on it nothing is removed and a
// Problem returned. The journal keeps all that goes.
func (t *Tx) Delete(record any) error {
	t.deleted = true
	switch r := record.(type) {
	case trials.Batch:
		return kept(batches.remove(t.ctx, t.tx, r.ID), "batch "+r.Name)
	case trials.Loss:
		return losses.remove(t.ctx, t.tx, r.ID)
	case trials.Packaging:
		return packagings.remove(t.ctx, t.tx, r.ID)
	case trials.BatchNote:
		return batchNotes.remove(t.ctx, t.tx, r.ID)
	case trials.Extract:
		return kept(extracts.remove(t.ctx, t.tx, r.ID), "extract "+r.Name)
	case trials.Addition:
		return additions.remove(t.ctx, t.tx, r.ID)
	case trials.Reading:
		return readings.remove(t.ctx, t.tx, r.ID)
	case trials.Meter:
		return meters.remove(t.ctx, t.tx, r.ID)
	case trials.Calibration:
		return calibrations.remove(t.ctx, t.tx, r.ID)
	case trials.Claim:
		return claims.remove(t.ctx, t.tx, r.ID)
	case trials.OwnMaterial:
		return materials.remove(t.ctx, t.tx, r.ID)
	case trials.Tasting:
		return tastings.remove(t.ctx, t.tx, r.ID)
	case trials.Plan:
		return plans.remove(t.ctx, t.tx, r.ID)
	case trials.Taster:
		return kept(tasters.remove(t.ctx, t.tx, r.ID), "taster "+r.Name)
	case trials.Score:
		return scores.remove(t.ctx, t.tx, r.ID)
	case trials.TasterNote:
		return tasterNotes.remove(t.ctx, t.tx, r.ID)
	case trials.Place:
		return places.remove(t.ctx, t.tx, r.ID)
	case trials.Dosing:
		return dosings.remove(t.ctx, t.tx, r.ID)
	}
	return fmt.Errorf("no table for %T", record)
}

// kept turns a refused deletion (other records rest on this one) into a Problem.
func kept(err error, what string) error {
	if codeOf(err) == sqliteConstraint {
		return &trials.Problem{Code: trials.Invalid,
			Message: what + " is still used by other records",
			Hint:    "delete what rests on it first (child batches, additions, servings)"}
	}
	return err
}

// Set writes a setting; an empty value removes it.
func (t *Tx) Set(key, value string) error {
	if value == "" {
		return t.exec("DELETE FROM setting WHERE key = ?", key)
	}
	return inTurn(
		func() error {
			return t.exec("INSERT INTO setting (key, value, changed_at) VALUES (?, ?, ?)"+
				" ON CONFLICT (key) DO UPDATE SET value = excluded.value, changed_at = excluded.changed_at",
				key, value, t.now.Format(momentLayout))
		},
		func() error { return settingShape.seal(t.ctx, t.tx, "WHERE key = ?", key) },
	)
}

// MergeTasters writes the joining of two tasters.
func (t *Tx) MergeTasters(m trials.Merge) error {
	// What goes makes room first: a taster has one score of an attribute of a
	// glass, and one place in an order.
	return inTurn(
		func() error { return deleteEach(t, m.Dropped) },
		func() error { return saveEach(t, m.Moved) },
		func() error { return deleteEach(t, m.DroppedPlaces) },
		func() error { return saveEach(t, m.MovedPlaces) },
		func() error { return deleteEach(t, m.DroppedDosings) },
		func() error { return saveEach(t, m.MovedDosings) },
		func() error { return saveEach(t, m.Notes) },
		// last, for what still refers to the taster would hold it
		func() error { return t.Delete(m.From) },
	)
}

// SaveEvening writes a tasting with its servings, the orders of its tasters and
// the tasters who are new.
func (t *Tx) SaveEvening(v *trials.Evening) error {
	return inTurn(
		func() error { return t.Save(&v.Tasting) },
		func() error { return saveEach(t, v.NewTasters) },
		func() error { return saveEach(t, v.Servings) },
		// The orders name the servings by the ids that they have only now.
		func() error { return saveEach(t, v.Places()) },
	)
}

// SaveDroppers writes an evening of dosing to taste with its droppers and the glasses of
// its tasters.
func (t *Tx) SaveDroppers(v *trials.DropperEvening) error {
	return inTurn(
		func() error { return t.Save(&v.Tasting) },
		func() error { return saveEach(t, v.NewTasters) },
		func() error {
			if v.Extract == nil {
				return nil
			}
			return t.Save(v.Extract)
		},
		func() error { return t.Save(&v.ToTaste) },
		func() error { return saveEach(t, v.Droppers) },
		func() error { return t.SaveGlasses(v) },
	)
}

// SaveGlasses writes the glasses of an evening whose droppers have their ids.
func (t *Tx) SaveGlasses(v *trials.DropperEvening) error {
	for i := range v.Glasses {
		v.Glasses[i].DropperID = v.Droppers[v.Uses[i]].ID
	}
	return saveEach(t, v.Glasses)
}

// SaveCups writes what the codes under the cups of a tasting told: the scores kept by
// place make room before they come back with their beers.
func (t *Tx) SaveCups(r *trials.CupsRead, closed trials.Mark) error {
	return inTurn(
		func() error { return deleteEach(t, r.Before) },
		func() error { return saveEach(t, r.After) },
		func() error { return saveEach(t, r.Notes) },
		func() error { return t.Save(&r.Tasting) },
		func() error { return t.Mark(closed) },
	)
}

// SaveEntry writes scores, notes and the tasters who are new.
func (t *Tx) SaveEntry(e *trials.Entry) error {
	return inTurn(
		// the tasters first, for scores refer to them
		func() error { return saveEach(t, e.NewTasters) },
		func() error { return deleteEach(t, e.Withdrawn) },
		func() error { return deleteEach(t, e.WithdrawnNotes) },
		func() error { return t.saveScores(e.Scores) },
		func() error { return saveEach(t, e.Notes) },
	)
}

// saveScores saves scores. For those that are new one statement is prepared, which with the
// triggers behind it costs far more than to run it.
func (t *Tx) saveScores(list []trials.Score) error {
	var fresh []trials.Score
	for i := range list {
		if list[i].ID != "" {
			if err := t.saveOne(&list[i]); err != nil {
				return err
			}
			continue
		}
		list[i].ID = trials.NewID()
		fresh = append(fresh, list[i])
	}
	return addEach(t, scores, fresh, nil)
}

// saveEach saves the records of a list, in which ids and times are filled in.
func saveEach[T any](t *Tx, list []T) error {
	for i := range list {
		if err := t.saveOne(&list[i]); err != nil {
			return err
		}
	}
	return nil
}

// deleteEach deletes the records of a list.
func deleteEach[T any](t *Tx, list []T) error {
	for _, r := range list {
		if err := t.Delete(r); err != nil {
			return err
		}
	}
	return nil
}

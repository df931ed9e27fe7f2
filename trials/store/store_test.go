package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
)

var testNow = time.Date(2026, 3, 1, 18, 30, 0, 0, time.UTC)

// open opens a notebook in a folder of its own.
func open(t *testing.T, path string) *Store {
	t.Helper()
	s, err := Open(context.Background(), path, Options{Now: func() time.Time { return testNow }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func ptr[T any](v T) *T { return &v }

// sample fills one record of each kind, every field set, so that a column
// left out of a layout shows.
func sample() []any {
	rec := func(id, name string) trials.Record { return trials.Record{ID: id, Name: name} }
	b := &trials.Batch{Record: rec("b", "heather-1"), Kind: trials.KindBatch, StartedAt: testNow, VolumeL: 12,
		OG: ptr(1.048), FG: ptr(1.010), IBU: ptr(30.0), SRM: ptr(8.0), RatedBar: ptr(6.0), Style: "pale ale",
		Note: "invented", OGMeterID: ptr("m"), OGSampleTempC: ptr(24.0)}
	child := &trials.Batch{Record: rec("c", "jar-1"), ParentID: &b.ID, Kind: trials.KindJar,
		StartedAt: testNow.Add(time.Hour), VolumeL: 2}
	e := &trials.Extract{Record: rec("e", "tea-1"), MadeAt: testNow, MaterialKey: "heather", Method: trials.MethodTea,
		Form: "cut", MassG: 40, MoisturePct: ptr(10.0), SpiritPct: ptr(40.0), SolidsGPerL: ptr(5.0), Lot: "H-1",
		Note: "n",
		Passes: []trials.Pass{{VolumeL: 0.4, VolumeTempC: ptr(96.0), StartC: 96, EndC: ptr(60.0), Curve: "96C@0min",
			Minutes: 30, Agitation: "stirred", InBag: true, Separation: "drained", RecoveredL: ptr(0.3),
			HeldL: ptr(0.1), SpentG: ptr(150.0), TeaSG: ptr(1.004), TeaPH: ptr(4.5)}},
		TopUps: []trials.TopUp{{At: testNow.Add(time.Hour), VolumeL: 0.1}, {At: testNow.Add(2 * time.Hour), VolumeL: 0.05}}}
	m := &trials.Meter{Record: rec("m", "float"), Kind: trials.MeterHydrometer, ScaleTempC: ptr(20.0),
		ZeroError: ptr(0.001), ZeroLimit: ptr(0.0002), Note: "n"}
	ta := &trials.Taster{Record: rec("t", "A"), Note: "n"}
	g := &trials.Tasting{Record: rec("g", "evening"), At: testNow, Attributes: []string{"floral", "astringency"},
		Blind: true, ClosedAt: &testNow, PeekedAt: &testNow, Seed: 7, FlightSize: 4, Note: "n"}
	return []any{m, b, child, e, ta, g,
		&trials.Loss{Record: rec("l", "heather-1.l1"), BatchID: "b", At: testNow, Kind: trials.LossTrub, VolumeL: 0.5,
			Note: "n"},
		&trials.Packaging{Record: rec("p", "heather-1.p1"), BatchID: "b", At: testNow, HighestTempC: ptr(21.0),
			StorageTempC: ptr(25.0), Note: "n"},
		&trials.BatchNote{Record: rec("n", "heather-1.n1"), BatchID: "b", At: testNow, Text: "smells of moor"},
		&trials.Addition{Record: rec("a", "heather-1.a1"), BatchID: "b", At: testNow, Stage: "primary", Lot: "l",
			Note: "n", MaterialKey: "heather", Method: "contact", Form: "cut", MassG: ptr(40.0), MoisturePct: ptr(9.0),
			Minutes: ptr(5.0), StartC: ptr(20.0), EndC: ptr(21.0), Curve: "20C@0min,21C@5min", BoilOffL: ptr(0.1),
			InBag: true, Agitation: "still", RetainKgKg: ptr(0.5), ExtractID: ptr("e"), PouredL: ptr(0.2),
			LiquidKind: "spirit", VolumeL: ptr(0.3), VolumeTempC: ptr(20.0), LiquidMassG: ptr(5.0),
			StrengthPct: ptr(40.0), SolidsGPerL: ptr(8.0), Plato: ptr(12.0), LiquidSG: ptr(1.01), LiquidOG: ptr(1.05),
			FermentsPct: ptr(90.0), VolumeLimitL: ptr(0.01), ExtractedPct: ptr(80.0),
			Limits: trials.Limits{"strength_pct": 1}},
		&trials.Calibration{Record: rec("k", "float.c1"), MeterID: "m", At: testNow, Buffer1: 4.01, Read1: 4.1,
			Buffer2: 7, Read2: 7.05, BufferTempC: ptr(20.0), Untouched: true, Adjusted: true, Note: "n"},
		&trials.Reading{Record: rec("r", "heather-1.r1"), BatchID: "b", At: testNow, SG: ptr(1.02),
			SampleTempC: ptr(24.0), PH: ptr(4.3), BeerTempC: ptr(19.0), VolumeL: ptr(11.0), MeterID: ptr("m"),
			Note: "n"},
		&trials.Claim{Record: rec("q", "heather.q1"), MaterialKey: "heather", AsWritten: "1 oz per 5 gal", Basis: "dry",
			PerTea: true, LowGPerL: ptr(1.0), HighGPerL: ptr(2.0), Source: "a friend", Note: "n"},
		&trials.Plan{Record: rec("w", "bench-1"), Kind: trials.PlanBench, MaterialKey: "heather", BatchID: "b",
			ExtractID: ptr("e"), TastingID: ptr("g"), At: testNow, DoneAt: &testNow,
			Design: trials.Design{MaterialKey: "heather", Class: 1, Method: "tea", Form: "cut", Like: "moor", MassG: 3,
				SpiritPct: ptr(40.0), MoisturePct: ptr(9.0), BaseOG: ptr(1.05), BaseFG: ptr(1.01), ScaleUpL: 10,
				ExtractL: 0.1, CarriesGPerL: 40, AddedL: 0.01, PourStepL: 0.0005, ScaleStepG: 0.1, ScaleDoubtPct: 1.7,
				Vessels: []trials.Vessel{{Number: 1, Name: "bench-1-1", BatchID: "c", BeerL: 0.1,
					AdditionIDs: []string{"a"}, AimGPerL: 2, PourL: 0.005, WaterL: 0.005, MassG: 1,
					ReachedGPerL: 1.9}}}},
		&trials.OwnMaterial{Record: rec("o", "moor-mix"), CommonName: "Moor mix", PartUsed: "tops", Category: "flower",
			Class: "aroma", HardWhole: true, MoisturePct: ptr(10.0), SugarPct: ptr(1.0), GramsPerTsp: ptr(0.7),
			Note: "n"},
	}
}

func TestEveryFieldSurvivesReopening(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a#b?c%20.db") // a name that a careless connection string would mangle
	s := open(t, path)
	records := sample()
	serving := &trials.Serving{TastingID: "g", BatchID: "b", Code: "417", Repeat: true}
	if err := s.Write(context.Background(), "all kinds", func(tx *Tx) error {
		if err := tx.Save(append(records, serving)...); err != nil {
			return err
		}
		return tx.Save(
			&trials.Place{TastingID: "g", TasterID: "t", ServingID: serving.ID, Position: 2},
			&trials.Score{TastingID: "g", ServingID: serving.ID, TasterID: "t", Attribute: "floral",
				Intensity: ptr(4.5), Vote: ptr(-1), Liking: ptr(7.0), Position: ptr(2), At: testNow},
			&trials.TasterNote{TastingID: "g", ServingID: serving.ID, TasterID: "t", At: testNow, Text: "soft"})
	}); err != nil {
		t.Fatal(err)
	}
	s.Close()
	n, err := open(t, path).Whole(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	got := []any{&n.Meters[0], &n.Batches[0], &n.Batches[1], &n.Extracts[0], &n.Tasters[0], &n.Tastings[0],
		&n.Losses[0], &n.Packagings[0], &n.BatchNotes[0], &n.Additions[0], &n.Calibrations[0], &n.Readings[0],
		&n.Claims[0], &n.Plans[0], &n.Materials[0]}
	for i, want := range records {
		if !reflect.DeepEqual(got[i], want) {
			t.Errorf("read back\n%+v\nwrote\n%+v", got[i], want)
		}
	}
	if sc := n.Scores[0]; *sc.Intensity != 4.5 || *sc.Vote != -1 || *sc.Liking != 7 || *sc.Position != 2 ||
		!sc.At.Equal(testNow) {
		t.Errorf("score read back as %+v", sc)
	}
	if p := n.Places[0]; p.Position != 2 || p.TasterID != "t" || p.ServingID != serving.ID {
		t.Errorf("place read back as %+v", p)
	}
	if n.TasterNotes[0].Text != "soft" || !n.Servings[0].Repeat {
		t.Errorf("note %+v, serving %+v", n.TasterNotes[0], n.Servings[0])
	}
}

func TestFailedWriteLeavesNothing(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	boom := errors.New("boom")
	err := s.Write(context.Background(), "half", func(tx *Tx) error {
		if err := tx.Save(sample()[0]); err != nil {
			t.Fatal(err)
		}
		return boom
	})
	if !errors.Is(err, boom) {
		t.Fatalf("error %v", err)
	}
	if n, _ := s.Notebook(context.Background()); len(n.Batches) != 0 {
		t.Errorf("%d batches were left", len(n.Batches))
	}
}

func TestUndoTakesBackDeletionWithAllThatBelongsToIt(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	if err := s.Write(ctx, "all kinds", func(tx *Tx) error { return tx.Save(sample()...) }); err != nil {
		t.Fatal(err)
	}
	before, _ := s.Notebook(ctx)
	if err := s.Write(ctx, "delete jar-1", func(tx *Tx) error { return tx.Delete(before.Batches[1]) }); err != nil {
		t.Fatal(err)
	}
	if err := s.Write(ctx, "delete heather-1", func(tx *Tx) error { return tx.Delete(before.Batches[0]) }); err != nil {
		t.Fatal(err)
	}
	what, err := s.Undo(ctx)
	if err != nil || what != "delete heather-1" {
		t.Fatalf("undo said %q, %v", what, err)
	}
	after, _ := s.Notebook(ctx)
	before.Batches = before.Batches[:1]
	if !reflect.DeepEqual(after, before) {
		t.Errorf("after undo\n%+v\nbefore\n%+v", after, before)
	}
	if what, err := s.Redo(ctx); err != nil || what != "delete heather-1" {
		t.Fatalf("redo said %q, %v", what, err)
	}
	if n, _ := s.Notebook(ctx); len(n.Batches) != 0 {
		t.Errorf("redo left %d batches", len(n.Batches))
	}
}

func TestDeletingWhatOthersRestOn(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	if err := s.Write(ctx, "all kinds", func(tx *Tx) error { return tx.Save(sample()...) }); err != nil {
		t.Fatal(err)
	}
	n, _ := s.Notebook(ctx)
	err := s.Write(ctx, "delete", func(tx *Tx) error { return tx.Delete(n.Batches[0]) })
	if trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), "still used") {
		t.Errorf("deleting a parent: %v", err)
	}
}

func TestDuplicateNameIsAProblem(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	b := &trials.Batch{Record: trials.Record{Name: "moor"}, Kind: trials.KindBatch, StartedAt: testNow, VolumeL: 12}
	if err := s.Write(ctx, "add", func(tx *Tx) error { return tx.Save(b) }); err != nil {
		t.Fatal(err)
	}
	for want, add := range map[string]func() any{
		`there is already a taster "A"`: func() any { return &trials.Taster{Record: trials.Record{Name: "A"}} },
		`there is already a batch note "n1"`: func() any {
			return &trials.BatchNote{Record: trials.Record{Name: "n1"},
				BatchID: b.ID, At: testNow}
		},
		`there is already an extract "tea-1"`: func() any { return twoPasses("tea-1") },
		`there is already an addition "moor1"`: func() any {
			return &trials.Addition{Record: trials.Record{Name: "moor1"}, BatchID: b.ID, Stage: "primary"}
		},
	} {
		if err := s.Write(ctx, "add", func(tx *Tx) error { return tx.Save(add()) }); err != nil {
			t.Fatal(err)
		}
		err := s.Write(ctx, "add", func(tx *Tx) error { return tx.Save(add()) })
		if trials.CodeOf(err) != trials.Invalid || err.Error() != want {
			t.Errorf("the second of a name: %v, want %s", err, want)
		}
	}
}

// A name that looks like another of its kind is refused; a record that is saved
// again, under its own name or another, is not.
func TestNameThatLooksTheSame(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	a := &trials.Taster{Record: trials.Record{Name: "Taster A"}}
	saved(t, s, a)
	for _, name := range []string{"taster a", "Taster \u0410", "Taster\u200b A"} {
		err := s.Write(ctx, "add", func(tx *Tx) error { return tx.Save(&trials.Taster{Record: trials.Record{Name: name}}) })
		if trials.CodeOf(err) != trials.Invalid || !strings.Contains(err.Error(), `already a taster "Taster A"`) {
			t.Errorf("%q: %v", name, err)
		}
	}
	a.Note = "n"
	saved(t, s, a)
	a.Name = "taster A"
	saved(t, s, a, &trials.Meter{Record: trials.Record{Name: "taster A"}, Kind: trials.MeterHydrometer})
	a.Name = "Taster B"
	saved(t, s, a, &trials.Taster{Record: trials.Record{Name: "Taster A"}})
	if n := whole(t, s); len(n.Tasters) != 2 {
		t.Errorf("tasters %+v", n.Tasters)
	}
}

func TestFilesThatAreNotOurs(t *testing.T) {
	dir := t.TempDir()
	text := filepath.Join(dir, "notes.txt")
	os.WriteFile(text, []byte(strings.Repeat("just some text ", 20)), 0o600)
	other := filepath.Join(dir, "other.db")
	db, _ := sql.Open("sqlite", other)
	db.Exec("CREATE TABLE t (x)")
	db.Close()
	for _, path := range []string{text, other, dir} {
		before, _ := os.ReadFile(path)
		_, err := Open(context.Background(), path, Options{Now: time.Now})
		if trials.CodeOf(err) != trials.ForeignNotebook {
			t.Errorf("%s: %v", path, err)
		}
		if after, _ := os.ReadFile(path); string(after) != string(before) {
			t.Errorf("%s was changed", path)
		}
	}
}

func TestNewerNotebookIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "n.db")
	s := open(t, path)
	if _, err := s.db.Exec("PRAGMA user_version = 999"); err != nil {
		t.Fatal(err)
	}
	s.Close()
	_, err := Open(context.Background(), path, Options{Now: time.Now})
	if trials.CodeOf(err) != trials.ForeignNotebook || !strings.Contains(err.Error(), "newer hedgerow") {
		t.Errorf("newer notebook: %v", err)
	}
}

func TestReadOnlyRefusesWritesAndMissingFiles(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sub", "n.db")
	if _, err := Open(context.Background(), path,
		Options{ReadOnly: true, Now: time.Now}); trials.CodeOf(err) != trials.NotFound {
		t.Errorf("missing file: %v", err)
	}
	if _, err := os.Stat(filepath.Dir(path)); err == nil {
		t.Error("reading made the folder")
	}
	open(t, path).Close()
	s, err := Open(context.Background(), path, Options{ReadOnly: true, Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	err = s.Write(context.Background(), "add", func(tx *Tx) error { return tx.Save(sample()[0]) })
	if err == nil || !strings.Contains(err.Error(), "cannot be written") {
		t.Errorf("write on a read-only notebook: %v", err)
	}
}

// The settings of the connection are read back, since one that reached only a
// single pooled connection would go unnoticed.
func TestSettingsOfTheConnection(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1",
		"busy_timeout": "5000", "trusted_schema": "0"} {
		var got string
		if err := s.db.QueryRow("PRAGMA " + pragma).Scan(&got); err != nil || got != want {
			t.Errorf("%s is %q (%v), want %q", pragma, got, err, want)
		}
	}
}

func TestSettingCanBeSetAndRemoved(t *testing.T) {
	ctx := context.Background()
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	for _, v := range []string{"imperial", "us", ""} {
		if err := s.Write(ctx, "set", func(tx *Tx) error { return tx.Set("gallon", v) }); err != nil {
			t.Fatal(err)
		}
		if m, err := s.Settings(ctx); err != nil || m["gallon"] != v {
			t.Errorf("gallon is %q (%v), want %q", m["gallon"], err, v)
		}
	}
}

// With _defensive on, no statement can reach into the schema itself (SQLite
// documentation, SQLITE_DBCONFIG_DEFENSIVE).
func TestConnectionIsDefensive(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	if _, err := s.db.Exec("PRAGMA writable_schema = ON"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.db.Exec("UPDATE sqlite_schema SET sql = sql WHERE name = 'batch'"); err == nil ||
		!strings.Contains(err.Error(), "may not be modified") {
		t.Errorf("writing to the schema: %v", err)
	}
}

// A double-quoted word that names no column is an error, not a text (_dqs off).
func TestDoubleQuotedTextIsRefused(t *testing.T) {
	s := open(t, filepath.Join(t.TempDir(), "n.db"))
	if _, err := s.db.Exec(`SELECT "no such column"`); err == nil {
		t.Error("a double-quoted word was taken for a text")
	}
}

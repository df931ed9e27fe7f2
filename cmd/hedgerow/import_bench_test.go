//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"hedgerow/testdata/invented"
)

// BenchmarkImport reads a sheet of 99 893 scores, checks them and writes them with
// their digests and journal, and says how many times the CPU of the sqlite3 shell's
// .import of the same scores into the same table with its indexes that takes. CPU and
// not wall time: of both programs, with what the system does for them.
func BenchmarkImport(b *testing.B) {
	dir := b.TempDir()
	n, sheet := invented.TenBrews(), filepath.Join(dir, "scores.csv")
	if err := os.WriteFile(sheet, invented.ManyRows(), 0o600); err != nil {
		b.Fatal(err)
	}
	n.Now = time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	var ours time.Duration
	db := ""
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		b.StopTimer()
		db = filepath.Join(dir, fmt.Sprint(i, ".db"))
		saveAll(b, db, n)
		b.StartTimer()
		before := spent(b, syscall.RUSAGE_SELF)
		clubCommand(b, db, n.Now, "import", sheet, "--yes")
		ours += spent(b, syscall.RUSAGE_SELF) - before
	}
	ours /= time.Duration(b.N)
	b.ReportMetric(ours.Seconds(), "cpu-s/op")
	shell := importByShell(b, db)
	b.ReportMetric(shell.Seconds(), "shell-s")
	b.ReportMetric(float64(ours)/float64(shell), "x-shell")
}

// spent is the CPU time used so far.
func spent(b *testing.B, who int) time.Duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(who, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// importByShell is the CPU time that the sqlite3 shell takes for the scores of a
// notebook, the median of five. It cannot import a missing number into a strict table:
// a number stands in its place.
func importByShell(b *testing.B, db string) time.Duration {
	b.Helper()
	shell, err := exec.LookPath("sqlite3")
	if err != nil {
		b.Skip("there is no sqlite3 shell to compare with")
	}
	rows := db + ".csv"
	run := func(db string, args ...string) string {
		out, err := exec.Command(shell, append([]string{"-batch", db}, args...)...).Output()
		if err != nil {
			b.Fatal(args, err)
		}
		return string(out)
	}
	schema := run(db, "SELECT sql || ';' FROM sqlite_schema WHERE tbl_name = 'score' AND type <> 'trigger' AND sql <> ''")
	scores := run(db, "-csv", "SELECT id, tasting_id, serving_id, taster_id, attribute, coalesce(intensity, 0.0),"+
		" coalesce(vote, 0), coalesce(liking, 1.0), coalesce(position, 1), at, digest FROM score")
	if err := os.WriteFile(rows, []byte(scores), 0o600); err != nil {
		b.Fatal(err)
	}
	var took []time.Duration
	for i := range 5 {
		into := fmt.Sprint(db, ".shell-", i)
		run(into, "PRAGMA journal_mode = WAL; "+schema)
		before := spent(b, syscall.RUSAGE_CHILDREN)
		run(into, "-cmd", ".mode csv", ".import "+rows+" score")
		took = append(took, spent(b, syscall.RUSAGE_CHILDREN)-before)
		if count := run(into, "SELECT count(*) FROM score"); count != "99893\n" {
			b.Fatal("the shell imported", count)
		}
	}
	slices.Sort(took)
	return took[len(took)/2]
}

package main

import (
	"context"
	"database/sql"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
	_ "time/tzdata" // scripts that set TZ must not depend on the machine

	"github.com/rogpeppe/go-internal/testscript"
)

// clockVariable fixes the clock of the program under test. Only this test
// binary reads it: the program itself takes its clock from env.
const clockVariable = "HEDGEROW_TEST_NOW"

// defaultClock is the time of every command of a script that sets no other.
const defaultClock = "2026-05-01T12:00:00Z"

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"hedgerow": scriptedMain})
}

// scriptedMain is the program as the scripts run it: in its true surroundings
// but for the clock.
func scriptedMain() {
	now, err := time.Parse(time.RFC3339, os.Getenv(clockVariable))
	if err != nil {
		fmt.Fprintf(os.Stderr, "%s: %v\n", clockVariable, err)
		os.Exit(99)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	e := &env{
		ctx: ctx, stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, getenv: os.Getenv,
		now: func() time.Time { return now.Local() },
	}
	os.Exit(run(e, os.Args[1:]))
}

// TestScripts runs testdata/script, a file for each group of commands. Layout and
// wording in them were judged by reading; every number compared there has its
// source named beside it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		Setup:               scriptEnvironment,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"run":      runCmd,
			"exits":    exitsCmd,
			"refuses":  refusesCmd,
			"jsonnum":  jsonNumberCmd,
			"jsontext": jsonTextCmd,
			"jsonkeys": jsonKeysCmd,
			"csvsize":  csvSizeCmd,
			"lasting":  lastingCmd,
			"onepage":  onePageCmd,
			"sqlite":   sqliteCmd,
			"code":     codeCmd,
			"table":    tableCmd,
			"series":   seriesCmd,
		},
	})
}

// scriptEnvironment gives a script a home of its own and a plain terminal.
func scriptEnvironment(e *testscript.Env) error {
	home := filepath.Join(e.WorkDir, "home")
	for _, v := range []struct{ name, value string }{
		{"HOME", home},
		{"XDG_DATA_HOME", filepath.Join(home, "data")},
		{"TMPDIR", filepath.Join(e.WorkDir, ".tmp")},
		{"HEDGEROW_DB", ""},
		{"NO_COLOR", "1"},
		{"TZ", "UTC"},
		{"COLUMNS", "80"},
		{clockVariable, defaultClock},
	} {
		e.Setenv(v.name, v.value)
	}
	return os.MkdirAll(filepath.Join(home, "data"), 0o755)
}

// exitsCmd runs a command and demands its exact exit code:
//
//	exits CODE program args...
func exitsCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE program [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	if got := exitCodeOf(ts, args[1:]); got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// hedgerow runs the program inside the test process, which is much faster than
// starting it, with the environment of the script but without its folder: the
// arguments must not name files.
func hedgerow(ts *testscript.TestScript, args []string) (code int, stdout, stderr string) {
	now, err := time.Parse(time.RFC3339, ts.Getenv(clockVariable))
	ts.Check(err)
	var out, said strings.Builder
	e := &env{
		ctx: context.Background(), stdin: strings.NewReader(""), stdout: &out, stderr: &said, getenv: ts.Getenv,
		now: func() time.Time { return now },
	}
	code = run(e, args)
	return code, out.String(), said.String()
}

// runCmd runs hedgerow inside the test process and demands that it succeeds:
//
//	run args...
//
// Where arguments name files, standard input is given or the time zone is set,
// scripts write "exec hedgerow" in its place.
func runCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: run args... (for a failure: refuses or exits)")
	}
	code, stdout, stderr := hedgerow(ts, args)
	io.WriteString(ts.Stdout(), stdout)
	io.WriteString(ts.Stderr(), stderr)
	if code != exitDone {
		ts.Fatalf("exit code %d", code)
	}
}

// refusesCmd runs hedgerow and demands that it refuses: the exact exit code,
// nothing on standard output, an error and a hint that match on standard error:
//
//	refuses CODE MESSAGE HINT args...
func refusesCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 4 {
		ts.Fatalf("usage: refuses CODE MESSAGE HINT args...")
	}
	code, stdout, stderr := hedgerow(ts, args[3:])
	ts.Logf("%s", stderr)
	if fmt.Sprint(code) != args[0] {
		ts.Fatalf("exit code %d, want %s", code, args[0])
	}
	if stdout != "" {
		ts.Fatalf("a refused command wrote to standard output: %q", stdout)
	}
	_, complaint, ok := strings.Cut("\n"+stderr, "\nhedgerow: ") // warnings may come before it
	if !ok {
		ts.Fatalf("there is no error on standard error: %q", stderr)
	}
	message, hint, _ := strings.Cut(complaint, "\n")
	checkMatch(ts, "message", message, args[1])
	checkMatch(ts, "hint", strings.TrimSpace(hint), args[2])
	if strings.HasSuffix(message, ".") {
		ts.Fatalf("the message ends in a full stop: %q", message)
	}
}

// checkMatch demands that text matches a pattern; an empty pattern means empty
// text.
func checkMatch(ts *testscript.TestScript, what, text, pattern string) {
	if pattern == "" && text != "" {
		ts.Fatalf("%s is %q, want none", what, text)
	}
	re, err := regexp.Compile(pattern)
	ts.Check(err)
	if !re.MatchString(strings.Join(strings.Fields(text), " ")) {
		ts.Fatalf("%s %q does not match %q", what, text, pattern)
	}
}

// exitCodeOf runs a program and returns its exit code.
func exitCodeOf(ts *testscript.TestScript, args []string) int {
	err := ts.Exec(args[0], args[1:]...)
	var failed *exec.ExitError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &failed):
		return failed.ExitCode()
	}
	ts.Fatalf("%s did not run: %v", args[0], err)
	return -1
}

// csvSizeCmd demands that the last standard output is CSV with that many rows
// below its header, and that header:
//
//	csvsize ROWS COLUMN...
func csvSizeCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: csvsize ROWS COLUMN...")
	}
	rows, err := csv.NewReader(strings.NewReader(ts.ReadFile("stdout"))).ReadAll()
	if err != nil || len(rows) == 0 {
		ts.Fatalf("standard output is not CSV with a header: %v", err)
	}
	if !slices.Equal(rows[0], args[1:]) {
		ts.Fatalf("columns are %q, want %q", rows[0], args[1:])
	}
	if want, err := strconv.Atoi(args[0]); err != nil || len(rows)-1 != want {
		ts.Fatalf("%d rows, want %s", len(rows)-1, args[0])
	}
}

// lastingCmd runs a list command and demands that it lists exactly so many
// records, such as after a refusal that must have written nothing:
//
//	lasting COUNT list-command...
func lastingCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: lasting COUNT command...")
	}
	code, stdout, stderr := hedgerow(ts, append(slices.Clone(args[1:]), "--json"))
	if code != exitDone {
		ts.Fatalf("exit code %d: %s", code, stderr)
	}
	if got := fmt.Sprint(jsonAt(ts, stdout, "rows.length")); got != args[0] {
		ts.Fatalf("%s records, want %s:\n%s", got, args[0], stdout)
	}
}

// onePageCmd demands that standard output has at most so many lines, none of them wider
// than 80 columns:
//
//	onepage LINES
func onePageCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: onepage LINES")
	}
	most, err := strconv.Atoi(args[0])
	ts.Check(err)
	lines := strings.Split(strings.TrimSuffix(ts.ReadFile("stdout"), "\n"), "\n")
	if len(lines) > most {
		ts.Fatalf("%d lines, want %d at most", len(lines), most)
	}
	for _, line := range lines {
		if wide := len([]rune(line)); wide > 80 {
			ts.Fatalf("a line of %d: %q", wide, line)
		}
	}
}

// sqliteCmd runs statements on a database file behind the program's back:
//
//	sqlite FILE STATEMENT
func sqliteCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: sqlite FILE STATEMENT")
	}
	db, err := sql.Open("sqlite", ts.MkAbs(args[0]))
	ts.Check(err)
	defer db.Close()
	_, err = db.Exec(args[1])
	ts.Check(err)
}

// series is the notebook that the demo makes by the clock of the scripts.
var series = sync.OnceValues(func() ([]byte, error) {
	now, err := time.Parse(time.RFC3339, defaultClock)
	if err != nil {
		return nil, err
	}
	return demoAt(now)
})

// seriesCmd writes the notebook of the demo, which takes two seconds to make, into a file:
//
//	series FILE
func seriesCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: series FILE")
	}
	whole, err := series()
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), whole, 0o600))
}

// codeCmd puts the code of a batch in a tasting into the variable CODE:
//
//	code TASTING BATCH
func codeCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: code TASTING BATCH")
	}
	ts.Setenv("CODE", codeOf(ts, args[0], args[1]))
}

// tableCmd writes the code of a batch in a tasting into a table in the place of
// a word, which is CODE if left out:
//
//	table FILE TASTING BATCH [WORD]
func tableCmd(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 || len(args) > 4 {
		ts.Fatalf("usage: table FILE TASTING BATCH [WORD]")
	}
	word := append(args, "CODE")[3]
	text := strings.ReplaceAll(ts.ReadFile(args[0]), word, codeOf(ts, args[1], args[2]))
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o644))
}

// codeOf looks a code up in the key of whoever pours.
func codeOf(ts *testscript.TestScript, tasting, batch string) string {
	code, stdout, stderr := hedgerow(ts, []string{"tasting", "sheet", tasting, "--pour", "--json"})
	if code != exitDone {
		ts.Fatalf("exit code %d: %s", code, stderr)
	}
	for i := range int(jsonAt(ts, stdout, "key.length").(float64)) {
		at := fmt.Sprintf("key.%d.", i)
		if jsonAt(ts, stdout, at+"batch") == batch && jsonAt(ts, stdout, at+"repeat") == false {
			return fmt.Sprint(jsonAt(ts, stdout, at+"code"))
		}
	}
	ts.Fatalf("%s does not serve %s:\n%s", tasting, batch, stdout)
	return ""
}

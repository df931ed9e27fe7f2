package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
)

// scene are the commands that make the records which the examples of the help
// speak of.
const scene = `
batch new heather-3 --volume 12L --og 1.048 --fg 1.010 --at "2026-03-01 10:00"
batch new heather-4 --volume 12L --og 1.048 --fg 1.010 --at "2026-03-01 11:00"
batch new plain --volume 12L --og 1.048 --fg 1.010 --at "2026-03-01 12:00"
reading add heather-3 --sg 1.030 --at "day 2"
batch loss heather-3 300mL --kind trub --at "day 2"
extract new tea-1 heather 40g --form cut --as tea --pass "600mL 96C>60C 30min drained" --at "2026-03-03 10:00"
addition add heather-3 tea-1 --pour 50mL --at "day 3"
addition add heather-3 "500mL water" --at "day 4"
addition add heather-4 heather 20g --form cut --as tea --pass "400mL 96C>60C 30min drained" --at "day 3"
claim add heather "3 to 5 g/L"
tasting new autumn --serving heather-4 --serving plain --attribute floral --attribute astringency --open
tasting score autumn --taster "Taster A" --serving heather-4 floral=5/right astringency=2 liking=6
config set gallon imperial
undo
`

// before are further commands that the examples of a command need. CODE is the
// code of a glass of club-night.
var before = map[string]string{
	"plan taste": `extract new tea-7 heather 60g --form cut --as tea --pass "480mL 95C>70C 20min squeezed"`,
	"tasting score": `tasting new club-night --serving heather-3 --serving heather-4 --serving plain ` +
		`--attribute floral --attribute astringency --attribute tartness --seed 9
plan taste heather --from plain --record drops --taster A --taster B --attribute floral`,
	"tasting blend": `plan taste heather --from plain --record drops --taster A --attribute floral
tasting score drops --taster A --glass up right=8 much=11
tasting score drops --taster A --glass down right=5 little=9
tasting close drops`,
	"tasting close": `tasting new club-night --serving heather-3 --serving heather-4 --attribute floral --seed 9
tasting score club-night --taster A --serving CODE floral=3
plan taste heather --from plain --record drops --taster A --attribute floral
tasting score drops --taster A --glass up right=8 much=11
tasting score drops --taster A --glass down right=5 little=9`,
	"meter calibrate": "meter add ph-1 --kind ph\nmeter add float-1 --kind hydrometer",
	"meter delete":    "meter add ph-1 --kind ph\nmeter calibrate ph-1 4.01=4.12 7.00=7.08",
	"meter edit":      "meter add float-1 --kind hydrometer",
	"meter show":      "meter add ph-1 --kind ph",
	"taster merge": `tasting score autumn --taster "Taster F" --serving heather-4 floral=5/right
tasting score autumn --taster "Taster A" --serving plain floral=0`,
	"plan done":       "plan bench heather --from heather-3 --record bench-1 --attribute floral --dose 1,2,4",
	"plan show":       "plan bench heather --from heather-3 --record bench-1 --attribute floral --dose 1,2,4",
	"plan edit":       "plan bench heather --from heather-3 --record bench-1 --attribute floral --dose 1,2,4",
	"plan delete":     "plan bench heather --from heather-3 --record bench-1 --attribute floral --dose 1,2,4",
	"taster delete":   `taster add "Taster Z"`,
	"material edit":   "material add moor-mix --class aroma",
	"material delete": "material add moor-mix --class aroma",
	"extract delete":  "extract new tea-2 heather 40g --form cut --as tea",
	"tasting delete":  "tasting new club-night --serving heather-3 --serving heather-4 --attribute floral --seed 9",
	"tasting places": `tasting new kitchen --alone --serving heather-3 --serving heather-4 --attribute floral --seed 9
tasting score kitchen --taster A --serving 1 floral=3`,
	"addition out":  `addition add heather-3 heather 20g --form cut --as contact --at "day 5"`,
	"addition show": `addition add heather-3 heather 20g --form cut --as contact --at "day 5"`,
	"tasting sheet": `tasting new club-night --serving heather-3 --serving heather-4 ` +
		`--attribute floral --seed 9 --tasters 2`,
	"tasting join": `tasting new club-night --serving heather-3 --serving heather-4 ` +
		`--attribute floral --seed 9 --tasters 2`,
	"tasting note": `tasting new club-night --serving heather-3 --serving heather-4 --attribute floral --seed 9`,
	"tasting show": `tasting new club-night --serving heather-3 --serving heather-4 --attribute floral --seed 9`,
}

// slow are the commands that are run by their scripts or tests alone; here their examples
// are only read.
var slow = map[string]bool{"demo": true, "verify": true, "tasting serve": true}

// files are what the examples read.
var files = map[string]string{
	"scores.csv":      "serving,taster,floral,floral vote\nCODE,Taster B,6,right\n",
	"club-night.csv":  "Beer,Taster,Floral,Floral vote,Liking\nheather-3,Taster A,5,right,7\nplain,Taster A,0,little,5\n",
	"readings.csv":    "Batch,Date,SG\nheather-3,05/03/2026,1.020\nheather-3,07/03/2026,1.012\n",
	"friend.json":     friends,
	"everything.json": friends,
	"studies.jsonl":   `{"id":"a","claims_g_per_l":[[2,5]],"trials":[]}` + "\n",
}

// friends is an export of a notebook with a taster in it.
const friends = `{"format": "hedgerow-export", "version": 1, "records": {"taster": [{"id": "aa", "name": "Taster C",
"created_at": "2026-03-01T12:00:00Z", "changed_at": "2026-03-01T12:00:00Z", "note": ""}]}}`

// Every command that does something shows how, and each example runs as it is
// printed, in a notebook that has the records it speaks of.
func TestExamplesRun(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir) // examples read and write files
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	e := exampleEnv(filepath.Join(dir, "scene.db"), "")
	for _, line := range strings.Split(strings.TrimSpace(scene), "\n") {
		runLine(t, e, line)
	}
	examples := 0
	for _, c := range leaves(newRoot(e)) {
		name := strings.TrimPrefix(c.CommandPath(), "hedgerow ")
		t.Run(strings.ReplaceAll(name, " ", "-"), func(t *testing.T) {
			if c.Short == "" || strings.HasSuffix(c.Short, ".") {
				t.Errorf("the purpose line is %q", c.Short)
			}
			lines := exampleLines(t, c)
			examples += len(lines)
			for i, line := range lines {
				runExample(t, dir, name, i, line)
			}
		})
	}
	if examples < 40 {
		t.Errorf("only %d examples", examples)
	}
}

// leaves returns the commands below c that hold no others; help topics, which
// cannot be run, are left out.
func leaves(c *cobra.Command) []*cobra.Command {
	if !c.HasSubCommands() {
		if c.Runnable() {
			return []*cobra.Command{c}
		}
		return nil
	}
	var list []*cobra.Command
	for _, sub := range c.Commands() {
		list = append(list, leaves(sub)...)
	}
	return list
}

// exampleLines returns the examples of a command; every line must be a call of
// that command.
func exampleLines(t *testing.T, c *cobra.Command) []string {
	t.Helper()
	var lines []string
	for line := range strings.SplitSeq(c.Example, "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if !strings.HasPrefix(line, c.CommandPath()) {
			t.Errorf("example %q is not one of %s", line, c.CommandPath())
			continue
		}
		lines = append(lines, strings.TrimPrefix(line, "hedgerow "))
	}
	if len(lines) == 0 {
		t.Errorf("%s has no example", c.CommandPath())
	}
	return lines
}

// runExample runs one example in a copy of the scene.
func runExample(t *testing.T, dir, name string, number int, line string) {
	t.Helper()
	db := filepath.Join(t.TempDir(), "notebook.db")
	text, err := os.ReadFile(filepath.Join(dir, "scene.db"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(db, text, 0o600); err != nil {
		t.Fatal(err)
	}
	if name == "batch new" {
		line = strings.Replace(line, "heather-3", "heather-new", 1) // the scene has it
	}
	if strings.HasPrefix(name, "extract new") {
		line = strings.Replace(line, "tea-1", "tea-new", 1)
	}
	for setup := range strings.SplitSeq(before[name], "\n") {
		if setup != "" {
			runLine(t, exampleEnv(db, ""), withCode(t, db, setup))
		}
	}
	words, stdin := splitCommand(withCode(t, db, line))
	e := exampleEnv(db, withCode(t, db, files[stdin]))
	if slow[name] {
		found, rest, err := newRoot(e).Find(words)
		if err != nil || found.ParseFlags(rest) != nil {
			t.Errorf("%s cannot be read", line)
		}
		return
	}
	runWords(t, e, line, words)
}

// withCode puts the code of a glass of club-night in the place of CODE, and of
// 417, which the examples use.
func withCode(t *testing.T, db, text string) string {
	t.Helper()
	if !strings.Contains(text, "CODE") && !strings.Contains(text, " 417 ") {
		return text
	}
	e := exampleEnv(db, "")
	runLine(t, e, "tasting show club-night --csv")
	_, servings, _ := strings.Cut(e.stdout.(*strings.Builder).String(), "\nservings\n")
	// a title, then a line for each glass: its number and its code
	code := strings.Split(strings.Split(servings, "\n")[1], ",")[1]
	return strings.NewReplacer("CODE", code, " 417 ", " "+code+" ").Replace(text)
}

// exampleEnv is the surroundings of an example.
func exampleEnv(db, stdin string) *env {
	return &env{
		ctx: context.Background(), stdin: strings.NewReader(stdin), stdout: &strings.Builder{}, stderr: &strings.Builder{},
		getenv: func(name string) string { return map[string]string{"HEDGEROW_DB": db, "COLUMNS": "80"}[name] },
		now:    func() time.Time { return time.Date(2026, 4, 20, 12, 0, 0, 0, time.UTC) },
	}
}

// runLine runs a command line that must succeed.
func runLine(t testing.TB, e *env, line string) {
	t.Helper()
	words, _ := splitCommand(line)
	runWords(t, e, line, words)
}

// runWords runs a command that must succeed and say something.
func runWords(t testing.TB, e *env, line string, words []string) {
	t.Helper()
	stdout, stderr := e.stdout.(*strings.Builder), e.stderr.(*strings.Builder)
	stdout.Reset()
	stderr.Reset()
	if code := run(e, words); code != exitDone {
		t.Fatalf("%s\nexit %d: %s", line, code, stderr)
	}
	if stdout.Len() == 0 {
		t.Errorf("%s says nothing", line)
	}
}

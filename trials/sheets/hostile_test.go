package sheets

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// small are sheets of a few rows, each for one rule, with what must come of it: the
// outcome, and a word that a question, a fault or a remark must have. They were worked
// out by hand from the rules.
var small = []struct{ name, sheet, outcome, says string }{
	{"a comma before three figures is asked", "Batch,Date,Volume (L),OG\nx-1,2025-03-01,\"1,500\",1.046\n", "ask", "1500"},
	{"another cell settles the comma",
		"Batch,Date,Volume (L),OG\nx-1,2025-03-01,\"1,500\",1.046\nx-2,2025-03-01,\"2,5\",1.046\n", "read", ""},
	{"a comma in a gravity is the point", "Batch,Date,Volume (L),OG\nx-1,2025-03-01,12,\"1,046\"\n", "read", ""},
	{"thousandths are said", "Batch,Date,Volume (L),OG\nx-1,2025-03-01,12,1046\n", "read", "thousandths"},
	{"litres or gallons are asked", "Batch,Date,Volume,OG\nx-1,2025-03-01,12,1.046\n", "ask", "unit of Volume"},
	{"two orders of dates clash", "Batch,Date,SG\nelder-1,13/04/2025,1.02\nelder-1,04/15/2025,1.01\n", "refuse",
		"line 2 has the day first"},
	{"a reading before its batch", "Batch,Date,SG\nelder-1,2024-04-13,1.02\n", "refuse", "before batch elder-1"},
	{"a day that is none", "Batch,Date,SG\nelder-1,31.02.2025,1.02\n", "refuse", "names no day"},
	{"a vote on nothing is asked", "Beer,Taster,Date,Too much\nelder-1,A,2025-04-12,0\n", "ask", "a vote on"},
	{"today is never taken", "Beer,Taster,Floral\nelder-1,A,3\n", "ask", "date of"},
	{"votes counted from one are asked",
		"Beer,Taster,Date,Floral,Floral vote\nelder-1,A,2025-04-01,3,2\n", "ask", "votes of Floral vote"},
	{"a vote of two attributes is asked", "Beer,Taster,Date,Floral,Pine,Vote\nelder-1,A,2025-04-01,3,2,TL\n", "ask",
		"attribute of Vote"},
	{"out of scale", "Beer,Taster,Date,Floral (0-10)\nelder-1,A,2025-04-01,12\n", "refuse", "outside 0 to 10"},
	{"the same score otherwise", "Beer,Taster,Date,Floral\nelder-1,A,2025-04-01,3\nelder-1,a,2025-04-01,4\n", "refuse",
		"line 2"},
	{"the same score twice", "Beer,Taster,Date,Floral\nelder-1,A,2025-04-01,3\nelder-1,A,2025-04-01,3\n", "read",
		"read once"},
	{"a cell too many", "Beer,Taster,Date,Floral\nelder-1,A,2025-04-01,3,5\n", "refuse", "in quotes"},
	{"a beer that comes near", "Batch,Date,SG\nelder-01,2025-04-13,1.02\n", "ask", "elder-1"},
	{"a beer that is not known", "Batch,Date,SG\nmoor-9,2025-04-13,1.02\n", "refuse", "no batch"},
	{"a material of several", "Batch,Date,Material,Weight (g),Form,How\nelder-1,2025-04-01,ginger,5,fresh,boil\n",
		"ask", "ginger"},
	{"twins are asked about", "Batch,Date,Material,Weight (g),Form,How\nelder-1,2025-04-01,lavender,5,whole,contact\n" +
		"elder-1,2025-04-01,lavender,5,whole,contact\n", "ask", "went in twice"},
	{"a missing beer where values repeat",
		"Beer,Taster,Date,Floral\nelder-1,A,2025-04-01,3\nelder-1,B,2025-04-01,3\n,C,2025-04-01,3\n", "refuse",
		"beer is missing"},
	{"a formula in a name", "Beer,Taster,Date,Floral\nelder-1,=A1,2025-04-01,3\n", "refuse", "formula"},
	{"a quote never closed", "Beer,Taster,Date,Floral\nelder-1,\"A,2025-04-01,3\n", "refuse", "never closed"},
	{"a zip", "PK\x03\x04abc", "refuse", "zip"},
	{"zero bytes", "B\x00e\x00e\x00r\x00", "refuse", "UTF-16"},
	{"nothing", " \n", "refuse", "empty"},
	{"no header", "1,2,3\n4,5,6\n", "refuse", "header"},
	{"a separator by name", "sep=|\nBatch|Date|SG\nelder-1|2025-04-13|1.02\n", "read", ""},
	{"signs that steer", "Batch,Date,SG,Note\nelder-1,2025-04-13,1.02,\u202eevil\x1b[2J\n", "read", "taken out"},
	{"a hidden sign in a name", "Batch,Date,SG\nel\u200bder-1,2025-04-13,1.02\n", "read", "taken out"},
	{"a true minus", "Beer,Taster,Date,Floral,Floral vote\nelder-1,A,2025-04-01,3,\u22121\n", "read", ""},
	{"beers across", "Taster,elder-1,elder-2\nA,3,4\n", "ask", "attribute"},
	{"an attribute in two spellings",
		"Beer,Date,Attribute,Ann\nelder-1,2025-04-01,pine,3\nelder-2,2025-04-01,pi-ne,4\n", "read", ""},
	{"neither tasters nor attributes", "Beer,Ann,Bob\nelder-1,3,4\n", "ask", "tasters"},
}

// Each rule about what is ambiguous or at fault holds in a sheet of its own.
func TestSmallSheets(t *testing.T) {
	e := expected(t)
	for _, c := range small {
		t.Run(c.name, func(t *testing.T) {
			o := e.options(t, map[string]string{"tasting": "night"})
			s, err := Read([]byte(c.sheet), e.notebook(), o)
			if err != nil {
				t.Fatal(err)
			}
			if got := outcomeOf(s); got != c.outcome {
				t.Errorf("outcome is %s, want %s: %s %s", got, c.outcome, show(s.Faults), show(s.Asks))
			}
			if s.Ready() {
				twice(t, []byte(c.sheet), e.notebook(), o, s)
			}
			if all := show(s.Remarks) + show(s.Faults) + show(s.Asks); !strings.Contains(all, c.says) {
				t.Errorf("nothing says %q: %s", c.says, all)
			}
			if got := len(s.New.Batches) + len(s.New.Readings) + len(s.New.Evenings); got > 0 && c.outcome != "read" {
				t.Errorf("%d records though it is not read", got)
			}
		})
	}
}

// Whatever the bytes, reading ends with a sheet; what it would write passes the checks
// of typed input, holds nothing that steers a terminal, and is not read a second time.
// Longer: go test -fuzz FuzzRead ./trials/sheets
func FuzzRead(f *testing.F) {
	names, _ := filepath.Glob(filepath.Join("testdata", "s*.csv"))
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, c := range small {
		f.Add([]byte(c.sheet))
	}
	text, err := os.ReadFile(filepath.Join("testdata", "expected.json"))
	if err != nil || len(text) == 0 {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		e := expected(t)
		o := Options{Tasting: "night", At: "2025-04-12", Now: time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC),
			SGOfPlato: func(p float64) float64 { return 1 + p/258 }}
		n := e.notebook()
		s, err := Read(data, n, o)
		for _, a := range s.Asks {
			if len(a.Options) == 0 {
				t.Errorf("nothing to choose from: %s", a.Text)
			}
		}
		if err != nil || !s.Ready() {
			return
		}
		checkNew(t, s.New)
		again, err := Read(data, put(n, s.New), o)
		if err != nil || again.Count() > 0 {
			t.Errorf("a second time there are %d new of %d: %v %s", again.Count(), s.Count(), err, show(again.Asks))
		}
	})
}

// checkNew puts what a sheet would write through the checks of typed input.
func checkNew(t *testing.T, r newRecords) {
	t.Helper()
	var errs []error
	var texts []string
	for _, b := range r.Batches {
		errs, texts = append(errs, b.Validate()), append(texts, b.Name, b.Style, b.Note)
	}
	for _, a := range r.Additions {
		errs, texts = append(errs, a.Validate()), append(texts, a.Note)
	}
	for _, x := range r.Readings {
		errs, texts = append(errs, x.Validate()), append(texts, x.Note)
	}
	for _, c := range r.Claims {
		errs, texts = append(errs, c.Validate()), append(texts, c.AsWritten, c.Source, c.Note)
	}
	for _, v := range r.Evenings {
		errs = append(errs, v.Tasting.Validate())
		for _, s := range v.Scores {
			errs = append(errs, s.Validate(v.Tasting))
		}
		for _, p := range v.Tasters {
			texts = append(texts, p.Name)
		}
		for _, note := range v.Notes {
			texts = append(texts, note.Text)
		}
	}
	if i := slices.IndexFunc(errs, func(err error) bool { return err != nil }); i >= 0 {
		t.Error(errs[i])
	}
	if i := slices.IndexFunc(texts, func(s string) bool { return strings.ContainsFunc(s, steers) }); i >= 0 {
		t.Errorf("%q steers", texts[i])
	}
}

package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the zone of the phrases is known on every machine
)

// phrase is a row of testdata/phrases/phrases.csv, which names its sources.
type phrase struct {
	id, context, text, where, tolerance string
	wanted                              []outcome // the first, or another that is right too
}

// outcome is what a phrase may come to: values that are printed, or a refusal.
type outcome map[string]any

// notRead are the phrases that are known to come out otherwise: the state of a plant
// is a part of its form, and a basis that was taken is said, not stored.
var notRead = map[string]string{"S050": "basis", "S079": "state"}

// phraseSetup is the notebook that every phrase starts from.
var phraseSetup = [][]string{
	{"batch", "new", "b1", "--volume", "12L", "--og", "1.048", "--at", "2026-03-01 18:00"},
	{"addition", "add", "b1", "heather", "30g", "--form", "cut", "--as", "contact", "--time", "5d", "--at",
		"2026-03-04 18:00"},
	{"addition", "add", "b1", "600mL water", "--at", "2026-03-05 18:00"},
	{"reading", "add", "b1", "--sg", "1.014", "--at", "2026-03-02 18:00"},
	{"extract", "new", "t1", "heather", "36g", "--form", "cut", "--as", "tea", "--at", "2026-03-03 18:00"},
}

func TestPhrases(t *testing.T) {
	t.Parallel()
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	base := filepath.Join(t.TempDir(), "base.db")
	for _, words := range phraseSetup {
		if code, said := typedAt(base, phraseNow("", zone), words...); code != exitDone {
			t.Fatalf("%q: %s", words, said)
		}
	}
	notebook, err := os.ReadFile(base)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range readPhrases(t) {
		db := filepath.Join(t.TempDir(), p.id+".db")
		if err := os.WriteFile(db, notebook, 0o600); err != nil {
			t.Fatal(err)
		}
		args := wordsOf(p.where)
		for i, a := range args {
			if a == "{}" {
				args[i] = p.text
			}
		}
		code, said := typedAt(db, phraseNow(p.context, zone), append(args, "--json")...)
		if !slices.ContainsFunc(p.wanted, func(o outcome) bool { return o.fits(t, p, code, said, zone) }) {
			t.Errorf("%s %q in %q: exit %d\n%s", p.id, p.text, p.where, code, said)
		}
	}
}

// typedAt is typed at a moment.
func typedAt(db string, now time.Time, args ...string) (code int, said string) {
	var out strings.Builder
	e := envOf(strings.NewReader(""), &out)
	e.now = func() time.Time { return now }
	code = run(e, append([]string{"--db", db}, args...))
	return code, out.String()
}

// phraseNow is the clock of a phrase: that in its context, else a Saturday.
func phraseNow(context string, zone *time.Location) time.Time {
	if m := regexp.MustCompile(`^now (\S+ \S+) Berlin`).FindStringSubmatch(context); m != nil {
		if at, err := time.ParseInLocation("2006-01-02 15:04", m[1], zone); err == nil {
			return at
		}
	}
	return time.Date(2026, 3, 14, 15, 0, 0, 0, zone)
}

// readPhrases reads the table.
func readPhrases(t *testing.T) []phrase {
	t.Helper()
	f, err := os.Open("../../testdata/phrases/phrases.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 121 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	var all []phrase
	for _, r := range rows[1:] {
		var first outcome
		if err := json.Unmarshal([]byte(r[5]), &first); err != nil {
			t.Fatalf("%s: %v", r[0], err)
		}
		p := phrase{id: r[0], context: r[2], text: r[3], where: r[4], tolerance: r[6], wanted: []outcome{first}}
		if others, ok := first["else"].([]any); ok {
			for _, o := range others {
				p.wanted = append(p.wanted, o.(map[string]any))
			}
		}
		all = append(all, p)
	}
	return all
}

// wordsOf splits a command line; double quotes hold words together.
func wordsOf(line string) []string {
	var words []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|(\S+)`).FindAllStringSubmatch(line, -1) {
		words = append(words, m[1]+m[2])
	}
	return words
}

// fits reports whether what a command said is the outcome.
func (o outcome) fits(t *testing.T, p phrase, code int, said string, zone *time.Location) bool {
	if _, refused := o["refuse"]; refused {
		hint, _ := o["hint"].(string)
		return (code == 2 || code == 3) && matches(hint, said)
	}
	if code != exitDone {
		return false
	}
	values := map[string][]any{}
	var doc map[string]any
	if err := json.Unmarshal([]byte(said), &doc); err != nil {
		t.Errorf("%s: no JSON: %v", p.id, err)
		return false
	}
	// what was saved first: a figure of the account may bear the same name
	if saved, ok := doc["saved"].(map[string]any); ok {
		collect(saved, values)
	}
	collect(doc, values)
	for key, want := range o {
		if slices.Contains([]string{"warns", "hint", "asks", "else"}, key) || notRead[p.id] == key || key == "state" {
			continue
		}
		if !slices.ContainsFunc(values[key], func(got any) bool { return p.same(key, want, got, zone) }) {
			return false
		}
	}
	warns, _ := o["warns"].(string)
	return matches(warns, said)
}

// aliases are the keys under which a figure may be printed.
var aliases = map[string]string{"started_at": "at", "made_at": "at", "low_g_per_l": "g_per_l",
	"spirit_pct":   "strength_pct",
	"material_key": "key"}

// collect gathers the values of every key; an estimate stands for its value.
func collect(v any, into map[string][]any) {
	switch v := v.(type) {
	case map[string]any:
		for key, value := range v {
			if m, ok := value.(map[string]any); ok && m["value"] != nil {
				value = m["value"]
			}
			into[key] = append(into[key], value)
			if other := aliases[key]; other != "" {
				into[other] = append(into[other], value)
			}
			collect(value, into)
		}
	case []any:
		for _, value := range v {
			collect(value, into)
		}
	}
}

// matches reports whether text holds a pattern; small letters match large ones.
func matches(pattern, text string) bool {
	if !regexp.MustCompile(`(^|[^\\])[A-Z]`).MatchString(pattern) {
		pattern = "(?i)" + pattern
	}
	return regexp.MustCompile(pattern).MatchString(text)
}

// same compares a value with what is wanted, within the tolerance of its row.
func (p phrase) same(key string, want, got any, zone *time.Location) bool {
	switch w := want.(type) {
	case []any:
		return slices.ContainsFunc(w, func(one any) bool { return p.same(key, one, got, zone) })
	case nil:
		return got == nil
	case float64:
		g, ok := got.(float64)
		return ok && math.Abs(g-w) <= p.width(key, w)+1e-6*math.Abs(w)
	case string:
		g, _ := got.(string)
		if key == "at" {
			return p.sameMoment(w, g, zone)
		}
		return g == w
	}
	return want == got
}

// sameMoment compares two moments: on the day, or within the time of the tolerance.
func (p phrase) sameMoment(want, got string, zone *time.Location) bool {
	w, err1 := time.Parse(time.RFC3339, want)
	g, err2 := time.Parse(time.RFC3339, got)
	if err1 != nil || err2 != nil {
		return false
	}
	if p.tolerance == "day" {
		return w.In(zone).Format(time.DateOnly) == g.In(zone).Format(time.DateOnly)
	}
	within, err := time.ParseDuration(p.tolerance)
	return err == nil && w.Sub(g).Abs() <= within
}

// width is the tolerance of a figure: "0.05%", "0.0005", or "start_c=4" for one.
func (p phrase) width(key string, want float64) float64 {
	width := 1e-9
	for _, part := range strings.Split(p.tolerance, ";") {
		part = strings.TrimSpace(part)
		name, figure, ofKey := strings.Cut(part, "=")
		switch {
		case ofKey && name == key:
			v, _ := strconv.ParseFloat(figure, 64)
			return v
		case !ofKey && strings.HasSuffix(part, "%"):
			v, _ := strconv.ParseFloat(strings.TrimSuffix(part, "%"), 64)
			width = v / 100 * math.Abs(want)
		case !ofKey:
			if v, err := strconv.ParseFloat(part, 64); err == nil {
				width = v
			}
		}
	}
	return width
}

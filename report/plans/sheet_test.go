package plans

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
)

// benchRequest is a bench series with hibiscus for the invented series.
func benchRequest(kind string) PlanRequest {
	r := PlanRequest{Kind: kind, Count: 4, BeerL: 0.1, PourStepL: 0.0001, ScaleStepG: 0.1, ScaleUpL: 12}
	switch kind {
	case trials.PlanSplit:
		r.BeerL, r.PourStepL, r.ScaleUpL = 2, 0.001, 0
	case trials.PlanBatch:
		r.BeerL, r.Count, r.OG, r.FG = 12, 1, invented.Ptr(1.048), invented.Ptr(1.010)
	}
	return r
}

// designOf works out a plan for the invented series.
func designOf(t testing.TB, r PlanRequest) (*trials.Notebook, trials.Design, string) {
	t.Helper()
	n := invented.Series()
	d, why, err := DesignPlan(n, invented.SetOf(t, n), r)
	if err != nil {
		t.Fatal(err)
	}
	return n, d, why
}

// Every plan is readable at 80 columns, its steps follow in time, and it holds
// what a plan must hold.
func TestPlansAreReadable(t *testing.T) {
	for _, kind := range []string{trials.PlanBench, trials.PlanSplit, trials.PlanBatch} {
		for _, u := range []quantity.Units{quantity.Metric, quantity.USUnits} {
			n, d, why := designOf(t, benchRequest(kind))
			v, err := PlanView(n, kind, d, why, u)
			if err != nil {
				t.Fatal(err)
			}
			drawing.CheckView(t, kind, v)
			text := drawing.AsText(t, v.Document, 80)
			for _, want := range []string{"What goes into each", "Extract to make first", "Steps", "To gather",
				"Take care", "Boiling water, hot wort and steam scald", "syringe", "sanitiser"} {
				if !strings.Contains(text, want) && !(kind == trials.PlanBatch && want == "syringe") {
					t.Errorf("%s: %q is not in\n%s", kind, want, text)
				}
			}
			for _, line := range strings.Split(text, "\n") {
				if len([]rune(line)) > 80 {
					t.Errorf("%s: a line of %d: %q", kind, len([]rune(line)), line)
				}
			}
			checkEvidence(t, kind, v.Document)
			clock := -1.0
			for _, step := range v.Payload.(planSheet).Steps {
				if step.Minute < clock {
					t.Errorf("%s: %q comes before what is above it", kind, step.Do)
				}
				clock = step.Minute
			}
			page := drawing.Drawn(t, func(b *strings.Builder) error { return document.WriteHTML(b, v.Document) })
			// room to write is for paper
			if strings.Contains(text, "What was really done") || !strings.Contains(page, "What was really done") {
				t.Errorf("%s: the place to write is not on the page alone", kind)
			}
			if strings.Contains(page, "<script") || strings.Contains(page, "http") || !strings.Contains(page, "</html>") {
				t.Errorf("%s: the page is not whole and by itself", kind)
			}
		}
	}
}

// With scores the glasses lie around the dose called just right; without, over
// the claims of 2 to 4 g/L of dried hibiscus, of which beer carries at most 95 %.
func TestDosesOfAPlan(t *testing.T) {
	_, d, why := designOf(t, benchRequest(trials.PlanBench))
	if len(d.Vessels) != 5 || d.Vessels[0].AimGPerL != 0 || !strings.Contains(why, "scores so far") || d.Like == "" {
		t.Errorf("%q: %+v", why, d)
	}
	for i := 2; i < len(d.Vessels); i++ {
		if d.Vessels[i].AimGPerL <= d.Vessels[i-1].AimGPerL {
			t.Errorf("doses do not rise: %+v", d.Vessels)
		}
	}
	n := invented.Series()
	n.Scores, n.Tastings, n.Servings, n.Additions = nil, nil, nil, nil
	set := invented.SetOf(t, n)
	d, why, err := DesignPlan(n, set, benchRequest(trials.PlanBench))
	if err != nil {
		t.Fatal(err)
	}
	first, last := d.Vessels[1].AimGPerL, d.Vessels[4].AimGPerL
	if !strings.Contains(why, "range of the claims") || first < 1 || first > 2.6 || last < 2.4 || last > 6 {
		t.Errorf("%q: %g to %g g/L", why, first, last)
	}
	n.Claims = nil
	bare := invented.SetOf(t, n)
	bare.Material.DoseLowGPerL = nil // nor a range in the catalogue
	if _, _, err := DesignPlan(n, bare, benchRequest(trials.PlanBench)); trials.CodeOf(err) != trials.NotEnough {
		t.Errorf("nothing known: %v", err)
	}
	r := benchRequest(trials.PlanBench)
	r.DosesGPerL = []float64{1, 2}
	if d, _, err = DesignPlan(n, invented.SetOf(t, n), r); err != nil || len(d.Vessels) != 3 {
		t.Errorf("doses given: %+v (%v)", d, err)
	}
}

func TestPlanRefusesWhatItCannotFollow(t *testing.T) {
	n := invented.Series()
	other := trials.Extract{Record: trials.Record{Name: "tea-x"}, MaterialKey: "heather"}
	empty := trials.Extract{Record: trials.Record{Name: "tea-y"}, MaterialKey: "hibiscus"}
	for what, change := range map[string]func(*PlanRequest){
		"an extract of something else": func(r *PlanRequest) { r.Like = &other },
		"an extract without a pass":    func(r *PlanRequest) { r.Like = &empty },
		"a plant that needs a week":    func(r *PlanRequest) { r.Method = trials.MethodContact },
	} {
		r := benchRequest(trials.PlanBench)
		change(&r)
		if _, _, err := DesignPlan(n, invented.SetOf(t, n), r); trials.CodeOf(err) != trials.Invalid {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// evidence is what a caution must end with.
var evidence = regexp.MustCompile(
	`\[((read|secondary|named, not reopened): .+|common practice, no source|from memory)\]$`)

// checkEvidence fails on a caution of a sheet that does not say what it rests on.
func checkEvidence(t *testing.T, kind string, d document.Document) {
	t.Helper()
	at := slices.IndexFunc(d.Sections, func(s document.Section) bool { return s.Heading == "Take care" })
	if at < 0 || len(d.Sections[at].Notes) == 0 {
		t.Fatalf("%s: no cautions", kind)
	}
	for _, note := range d.Sections[at].Notes {
		if !evidence.MatchString(note) {
			t.Errorf("%s: %q says not what it rests on", kind, note)
		}
	}
}

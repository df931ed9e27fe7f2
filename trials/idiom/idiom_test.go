package idiom

import (
	"strings"
	"testing"

	"hedgerow/trials"
)

// What brewers mean by these words is common practice, no source.
func TestForm(t *testing.T) {
	for text, want := range map[string]string{
		"whole": "whole", "dried": "whole", "dry": "whole", "ground": "powder", "cracked": "crushed", "chopped": "cut",
		"dried cut": "cut", "cut dried": "cut", "fresh heads": "fresh", "fresh": "fresh", "fresh chopped": "fresh-cut",
		"fresh-cut": "fresh-cut", "frozen": "frozen", "frozen berries": "frozen", "pulp": "puree", "zest": "zest",
		"Dried Flowers": "whole", "crushed seeds": "crushed",
		// not understood: the check of the record names the near misses
		"powdre": "powdre", "": "", "whole crushed": "whole crushed",
	} {
		got, notes, err := Form(text)
		if err != nil || got != want {
			t.Errorf("Form(%q) = %q, %v; want %q", text, got, err, want)
		}
		if said := strings.Contains(text, "dr") ||
			strings.Contains(text, "Dr"); (want == "whole" && said) != (len(notes) > 0) {
			t.Errorf("Form(%q): notes %q", text, notes)
		}
	}
	if _, _, err := Form("fresh dried"); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("fresh and dried at once: %v", err)
	}
}

func TestWayOf(t *testing.T) {
	for text, want := range map[string]Way{
		"whirlpool":          {Method: trials.MethodFlameOut},
		"flame out":          {Method: trials.MethodFlameOut},
		"dry-hop":            {Method: trials.MethodContact},
		"in secondary":       {Method: trials.MethodContact, Stage: trials.StageSecondary},
		"in the keg":         {Method: trials.MethodContact, Stage: trials.StagePackaging},
		"in a sock":          {Method: trials.MethodContact, InBag: true},
		"steep":              {Method: trials.MethodTea},
		"cold steep":         {Method: trials.MethodColdTea},
		"soaked in vodka":    {Method: trials.MethodTincture, SpiritPct: 40},
		"pulp":               {Method: trials.MethodPuree},
		"tea":                {Method: trials.MethodTea},
		"contcat":            {Method: "contcat"},
		trials.MethodColdTea: {Method: trials.MethodColdTea},
	} {
		got, err := WayOf(text)
		if err != nil || got.Method != want.Method || got.Stage != want.Stage || got.InBag != want.InBag ||
			got.SpiritPct != want.SpiritPct {
			t.Errorf("WayOf(%q) = %+v, %v; want %+v", text, got, err, want)
		}
		if (got.SpiritPct > 0) != (len(got.Notes) > 0) {
			t.Errorf("WayOf(%q): notes %q", text, got.Notes)
		}
	}
	if _, err := WayOf("in the mash"); trials.CodeOf(err) != trials.Invalid {
		t.Errorf("the mash was taken: %v", err)
	}
}

// Every word of a record is what it was, so that nothing typed so far changes.
func TestRecordWordsPass(t *testing.T) {
	for _, m := range trials.Methods {
		if w, err := WayOf(m); err != nil || w.Method != m || w.Stage != "" {
			t.Errorf("%q became %+v, %v", m, w, err)
		}
	}
	for _, f := range trials.Forms {
		if got, _, err := Form(f); err != nil || got != f {
			t.Errorf("%q became %q, %v", f, got, err)
		}
	}
	for _, s := range []string{trials.StageBoil, trials.StageFlameOut, trials.StagePrimary, trials.StageSecondary,
		trials.StagePackaging, trials.StageGlass} {
		if got := Stage(s); got != s {
			t.Errorf("%q became %q", s, got)
		}
	}
	if got := Stage("at bottling"); got != trials.StagePackaging {
		t.Errorf("at bottling is %q", got)
	}
}

// A gravity lies between 0.97 and 1.20, with or without its point; anything else
// says what it is or is asked about.
func TestReading(t *testing.T) {
	for text, want := range map[string]measured{
		"1.010":           {SG: "1.010"},
		"1,010":           {SG: "1,010"},
		"1010":            {SG: "1.01"},
		"1.010 18C":       {SG: "1.010", SampleTemp: "18c"},
		"4.2 pH":          {PH: "4.2"},
		"pH 4,31":         {PH: "4,31"},
		"1.010, 4.2pH":    {SG: "1.010", PH: "4.2"},
		"18C":             {Temp: "18c"},
		"65 F":            {Temp: "65f"},
		"18 degrees":      {Temp: "18C"},
		"12 P":            {SG: "12P"},
		"SG 1.010 at 65F": {SG: "1.010", SampleTemp: "65f"},
	} {
		got, err := Reading(text)
		if err != nil || got.SG != want.SG || got.PH != want.PH || got.SampleTemp != want.SampleTemp ||
			got.Temp != want.Temp {
			t.Errorf("Reading(%q) = %+v, %v; want %+v", text, got, err, want)
		}
	}
	for text, hint := range map[string]string{"10.1": "10.1P", "4.2": "4.2 pH", "hazy": "1.010", "500": "1.010"} {
		_, err := Reading(text)
		if p, ok := err.(*trials.Problem); !ok || !strings.Contains(p.Hint, hint) {
			t.Errorf("Reading(%q): %v, want a hint with %q", text, err, hint)
		}
	}
}

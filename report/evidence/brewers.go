package evidence

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// Me is how a trial may name the brewer whose study it is in.
const Me = "me"

// An OtherDose is the printed right dose of another brewer of whom no trial is at
// hand.
type OtherDose struct {
	Brewer     string  `json:"brewer"`
	RightGPerL float64 `json:"right_dose_g_per_l"` // effective
	LowGPerL   float64 `json:"low_g_per_l"`        // its 90 % interval
	HighGPerL  float64 `json:"high_g_per_l"`
	Trials     int     `json:"trials"`  // that it rests on
	Tasters    int     `json:"tasters"` // who scored them
	Method     string  `json:"method"`  // how the flavour got in; "" is not known
}

// Own reports whether a trial is of the brewer whose study it is in.
func (t Trial) Own() bool { return t.Brewer == "" || t.Brewer == Me }

// Shared reports whether a study has anything of other brewers in it.
func (s Study) Shared() bool {
	return len(s.Others) > 0 || slices.ContainsFunc(s.Trials, func(t Trial) bool { return !t.Own() })
}

// Alone returns the study without what other brewers made and said.
func (s Study) Alone() Study {
	s.Others = nil
	s.Trials = slices.DeleteFunc(slices.Clone(s.Trials), func(t Trial) bool { return !t.Own() })
	ids := map[string]bool{}
	for _, t := range s.Trials {
		ids[t.ID] = true
	}
	s.Avoid = slices.Clone(s.Avoid)
	for i := range s.Avoid {
		a := &s.Avoid[i]
		a.Scores = slices.DeleteFunc(slices.Clone(a.Scores), func(sc AvoidScore) bool { return !ids[sc.Trial] })
	}
	return s
}

// Brewers returns the names of the other brewers, in order of name.
func (s Study) Brewers() []string {
	var names []string
	for _, t := range s.Trials {
		if !t.Own() {
			names = append(names, t.Brewer)
		}
	}
	for _, o := range s.Others {
		names = append(names, o.Brewer)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// Of returns the trials of another brewer, as if that brewer asked.
func (s Study) Of(brewer string) []Trial {
	var list []Trial
	for _, t := range s.Trials {
		if t.Brewer == brewer {
			t.Brewer = ""
			list = append(list, t)
		}
	}
	return list
}

// People returns the own panel, in order of name: the tasters named as such, else
// those who scored an own trial or dosed a glass to taste.
func (s Study) People() []string {
	names := slices.Clone(s.Panel)
	if len(names) == 0 {
		for _, t := range s.Trials {
			if t.Own() && t.Informs() {
				names = append(names, Voters([]Trial{t})...)
			}
		}
		for _, l := range s.DosedToTaste {
			names = append(names, l.Taster)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// Voters returns who voted or scored an intensity of dosed trials, in order of
// name.
func Voters(list []Trial) []string {
	var names []string
	for _, t := range list {
		if !t.Informs() {
			continue
		}
		for _, sc := range t.Scores {
			if sc.Vote != nil || sc.Intensity != nil {
				names = append(names, sc.Taster)
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// compareOthers orders printed doses by what is in them.
func compareOthers(a, b OtherDose) int {
	return cmp.Or(
		strings.Compare(a.Brewer, b.Brewer),
		cmp.Compare(a.RightGPerL, b.RightGPerL),
		strings.Compare(a.Method, b.Method),
	)
}

// mostCounted bounds how many trials or tasters a printed dose may rest on.
const mostCounted = 100000

// validateBrewers checks what the study says of people and of other brewers.
func (s Study) validateBrewers() error {
	for _, name := range s.Panel {
		if strings.TrimSpace(name) == "" {
			return Bad(`name the tasters of your panel: "panel":["A","B"]`, "the panel has a taster without a name")
		}
	}
	for i, t := range s.Trials {
		if t.Brewer != "" && strings.TrimSpace(t.Brewer) == "" {
			return Bad(`name the brewer, or leave it out for your own: "brewer":"Brewer B"`,
				"trial %s: its brewer has no name", TrialName(t, i))
		}
	}
	seen := map[string]bool{}
	for _, o := range s.Others {
		if err := o.validate(); err != nil {
			return err
		}
		if seen[o.Brewer] {
			return Bad("give one printed dose a brewer", "others: %q stands there twice", o.Brewer)
		}
		seen[o.Brewer] = true
	}
	return nil
}

// validate checks a printed dose. Without an interval nobody knows what it is worth.
func (o OtherDose) validate() error {
	if strings.TrimSpace(o.Brewer) == "" || o.Brewer == Me {
		return Bad(`name whose dose it is: "brewer":"Brewer B"`, "others: %q is not another brewer", o.Brewer)
	}
	for _, d := range []float64{o.RightGPerL, o.LowGPerL, o.HighGPerL} {
		if !(d >= minDoseGPerL && d <= MaxDoseGPerL) {
			return Bad("right_dose_g_per_l, low_g_per_l and high_g_per_l are doses above 0, at most 1000",
				"others: %g g/L of %s is not a dose", d, o.Brewer)
		}
	}
	if !(o.LowGPerL <= o.RightGPerL && o.RightGPerL <= o.HighGPerL) || o.LowGPerL == o.HighGPerL {
		return Bad("low_g_per_l lies below right_dose_g_per_l and high_g_per_l above it",
			"others: %g g/L of %s is not inside %g to %g", o.RightGPerL, o.Brewer, o.LowGPerL, o.HighGPerL)
	}
	if o.Tasters < 1 || o.Tasters > mostCounted || o.Trials < 0 || o.Trials > mostCounted {
		return Bad("tasters is 1 or more, trials 0 or more", "others: %d tasters and %d trials of %s", o.Tasters, o.Trials,
			o.Brewer)
	}
	return nil
}

// LnRight returns the ln of the printed dose and the SD of its ln, the interval
// taken as one of 90 % of a normal distribution: 2 x 1.645 = 3.29 SDs wide.
func (o OtherDose) LnRight() (mean, sd float64) {
	return math.Log(o.RightGPerL), math.Log(o.HighGPerL/o.LowGPerL) / 3.29
}

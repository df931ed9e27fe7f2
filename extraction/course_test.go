package extraction

import (
	"math"
	"testing"
)

// Published: cold-brewed coffee reaches its plateau after 6 to 7 h, and crushed tannin
// goes on rising to 96 h; both within the factor of five of the model (read as
// abstracts). The rows of trials/checks/rows/plants.csv hold the figures themselves.
func TestCourseMeetsPublishedTimes(t *testing.T) {
	brew := Course{Form: Crushed, TempC: 20}
	for _, c := range []struct {
		what      string
		family    Class
		published float64 // days
	}{{"plateau of cold-brewed coffee", small, 6.5 / 24}, {"tannin of pellets", Tannin, 4}} {
		day, err := brew.DayFor(c.family, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		if by := brew.TimesFactor(); day < c.published/by || day > c.published*by {
			t.Errorf("%s: day %.2f, published %.2f, not within a factor of %.1f", c.what, day, c.published, by)
		}
	}
}

// A share and the day it is reached are inverses, for every form and family.
func TestDayForInvertsGiven(t *testing.T) {
	for _, form := range Forms() {
		for _, f := range everyClass {
			for _, tempC := range []float64{4, 20, 60} {
				c := Course{Form: form, TempC: tempC, ABVPct: 5}
				day, err := c.DayFor(f, 0.93)
				if err != nil {
					t.Fatal(err)
				}
				given, err := c.Given(f, day, 0)
				if err != nil {
					t.Fatal(err)
				}
				if day > 0 && math.Abs(given-0.93) > 1e-9 {
					t.Errorf("%s, %s at %g C: %g on day %g", form, f, tempC, given, day)
				}
			}
		}
	}
}

// The advice in the order of its rules, on a plant whose shares are worked out by
// hand from the same figures: whole hard material at 20 C and 5 % vol has given 0.42,
// 0.79 and 0.97 of its aroma on day 1, 3 and 7 (independent table).
func TestPullWaitsTastesPulls(t *testing.T) {
	for _, c := range []struct {
		form Form
		days float64
		want Advice
	}{
		{WholeHard, 1, Wait}, {WholeHard, 3, taste}, {Cut, 2, PullNow}, {Crushed, 6, Done},
	} {
		p, err := Course{Form: c.form, TempC: 20, ABVPct: 5}.Pull(Aroma, c.days)
		if err != nil {
			t.Fatal(err)
		}
		if p.Advice != c.want {
			t.Errorf("%s on day %g: %s, want %s (given %.3f from %.3f, gain %.3f, tannin %.3f)", c.form, c.days,
				p.Advice, c.want, p.Given, p.Low, p.Gain, p.Unwanted)
		}
	}
}

func TestCourseRefuses(t *testing.T) {
	c := Course{Form: Cut, TempC: 20}
	if _, err := c.Given(Acid, -1, 0); err == nil {
		t.Error("negative days are taken")
	}
	for _, share := range []float64{1, -0.1, math.NaN()} {
		if _, err := c.DayFor(Acid, share); err == nil {
			t.Errorf("share %g is taken", share)
		}
	}
	if _, err := (Course{Form: Cut, TempC: 300}).Pull(Acid, 1); err == nil {
		t.Error("300 C is taken")
	}
	if f, err := ParseClass("resin"); err != nil || f != Resin {
		t.Errorf("resin is read as %v: %v", f, err)
	}
	if _, err := ParseClass("scent"); err == nil {
		t.Error("scent is taken")
	}
}

package moment

import (
	"errors"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the zones of the cases are known on every machine
)

// berlin is a zone with summer time.
func berlin(t *testing.T) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// clockAt is a Saturday afternoon in Berlin, 13 days after a brew.
func clockAt(t *testing.T) Clock {
	zone := berlin(t)
	return Clock{
		Now:   time.Date(2026, 3, 14, 15, 0, 0, 0, zone),
		Start: time.Date(2026, 3, 1, 18, 0, 0, 0, zone),
	}
}

// The days were counted on a calendar by hand; ISO 8601 for year first; the hours
// of words are common practice, no source; DST by RFC 5545, section 3.3.5.
func TestParse(t *testing.T) {
	cases := []struct {
		text, at string // at in Berlin
		note     string // a part of a note, "" for none
	}{
		{"", "2026-03-14 15:00", ""},
		{"now", "2026-03-14 15:00", ""},
		{"2026-03-05", "2026-03-05 12:00", ""},
		{"2026-03-05 18:30", "2026-03-05 18:30", ""},
		{"2026-03-05T18:30", "2026-03-05 18:30", ""},
		{"2026-03-05T18:30:00Z", "2026-03-05 19:30", ""},
		{"2026-03-05 18:30+02:00", "2026-03-05 17:30", ""},
		{"2026-03-01", "2026-03-01 18:00", ""}, // the start itself
		{"2026-03-14", "2026-03-14 12:00", ""},
		{"today", "2026-03-14 12:00", "is Saturday 2026-03-14 12:00"},
		{"yesterday 18:00", "2026-03-13 18:00", ""},
		{"yesterday evening", "2026-03-13 18:00", "18:00"},
		{"Yesterday at 18h30", "2026-03-13 18:30", ""},
		{"yesterday evening 18:30", "2026-03-13 18:30", ""},
		{"18:30 yesterday", "2026-03-13 18:30", ""},
		{"yesterday 18.30", "2026-03-13 18:30", ""},
		{"yesterday at 6 in the evening", "2026-03-13 18:00", ""},
		{"the day before yesterday", "2026-03-12 12:00", "2026-03-12"},
		{"last night", "2026-03-13 21:00", "21:00"},
		{"this morning", "2026-03-14 09:00", "09:00"},
		{"last saturday", "2026-03-07 12:00", "2026-03-07 12:00"},
		{"wednesday", "2026-03-11 12:00", "2026-03-11 12:00"},
		{"friday 6pm", "2026-03-13 18:00", "2026-03-13"},
		{"Fri 6.30 p.m.", "2026-03-13 18:30", "2026-03-13"},
		{"9am", "2026-03-14 09:00", ""},
		{"12am", "2026-03-14 00:00", ""},
		{"12pm", "2026-03-14 12:00", ""},
		{"noon", "2026-03-14 12:00", "12:00"},
		{"midnight", "2026-03-14 00:00", "00:00"},
		{"two days ago", "2026-03-12 15:00", ""},
		{"3d ago", "2026-03-11 15:00", ""},
		{"a week ago", "2026-03-07 15:00", ""},
		{"2 months ago", "2026-01-14 15:00", ""},
		{"2h ago", "2026-03-14 13:00", ""},
		{"an hour and a half ago", "2026-03-14 13:30", ""},
		{"nov 15", "2025-11-15 12:00", "2025-11-15"},
		{"15th of November", "2025-11-15 12:00", "2025-11-15"},
		{"November 15, 2025 18:00", "2025-11-15 18:00", ""},
		{"15-nov-2025", "2025-11-15 12:00", ""},
		{"29 feb", "2024-02-29 12:00", "2024"},
		{"15.11.", "2025-11-15 12:00", "2025-11-15"},
		{"15.11.2025 18.30", "2025-11-15 18:30", ""},
		{"15.11.25", "2025-11-15 12:00", ""},
		{"15/11/2025", "2025-11-15 12:00", ""},
		{"11/15/2025", "2025-11-15 12:00", ""},
		{"3/3/2026", "2026-03-03 12:00", ""},
		{"2026/3/5", "2026-03-05 12:00", ""},
		{"day 0", "2026-03-01 18:00", ""},
		{"day 9", "2026-03-10 18:00", ""},
		{"day 9 morning", "2026-03-10 09:00", "09:00"},
		{"day 9 07:15", "2026-03-10 07:15", ""},
		{"day 1.5", "2026-03-03 06:00", ""},
		{"day 13", "2026-03-14 15:00", ""}, // 18:00 is to come, so it is now
		{"tomorrow 18:00", "2026-03-15 18:00", ""},
		{"2025-03-30 02:30", "2025-03-30 03:30", "skipped 02:30"},
		{"2025-10-26 02:30", "2025-10-26 02:30", "twice"},
		{"no, yesterday 18:00", "2026-03-13 18:00", ""},
	}
	clock := clockAt(t)
	for _, c := range cases {
		in := clock
		if strings.Contains(c.at, "2025") || strings.Contains(c.at, "2024") {
			in.Start = time.Time{} // a new batch may be of any day
		}
		got, err := Parse(c.text, in)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if at := got.At.In(clock.Now.Location()).Format("2006-01-02 15:04"); at != c.at {
			t.Errorf("%q is %s, want %s", c.text, at, c.at)
		}
		if notes := strings.Join(got.Notes, "; "); (c.note == "") != (notes == "") || !strings.Contains(notes, c.note) {
			t.Errorf("%q: notes %q, want %q", c.text, notes, c.note)
		}
	}
}

// What is to come is said; a minute is a clock that is a little fast.
func TestParseToCome(t *testing.T) {
	for text, want := range map[string]bool{"tomorrow 18:00": true, "2026-03-14 15:01": false, "2026-03-14 15:02": true,
		"yesterday": false} {
		if got, err := Parse(text, clockAt(t)); err != nil || got.ToCome != want {
			t.Errorf("%q: to come %v, %v; want %v", text, got.ToCome, err, want)
		}
	}
}

// The first of two equal hours is the one of summer time.
func TestParseTakesTheFirstOfTwoHours(t *testing.T) {
	got, err := Parse("2025-10-26 02:30", Clock{Now: clockAt(t).Now})
	if want := time.Date(2025, 10, 26, 0, 30, 0, 0, time.UTC); err != nil || !got.At.Equal(want) {
		t.Errorf("got %v, %v; want %v", got.At, err, want)
	}
}

// A calendar day back over the night in which summer time begins has 23 hours.
func TestAgoKeepsTheClock(t *testing.T) {
	zone := berlin(t)
	got, err := Parse("1 day ago", Clock{Now: time.Date(2026, 3, 29, 15, 0, 0, 0, zone)})
	if want := time.Date(2026, 3, 28, 15, 0, 0, 0, zone); err != nil || !got.At.Equal(want) {
		t.Errorf("got %v, %v; want %v", got.At, err, want)
	}
}

func TestParseRefuses(t *testing.T) {
	cases := []struct{ text, says, hint string }{
		{"saturday", "today, 2026-03-14, or a week ago", "last saturday"},
		{"6pm", "still to come today", `"yesterday 18:00"`},
		{"at 6", "morning or evening", "6am or 6pm"},
		{"3/4/2026", "two ways", "2026-04-03 (3 April) or 2026-03-04 (4 March)"},
		{"3/4", "two ways", "3 April"},
		{"nov 15", "before the batch began", "2025-11-15"},
		{"2026-02-30", "February 2026 has 28 days", "1 to 28"},
		{"2026-13-01", "month 13", "2026-03-05"},
		{"31 april", "April 2026 has 30 days", "1 to 30"},
		{"26-03-05", "more than one way", "four figures"},
		{"0202-03-05", "year 202", "four figures"},
		{"a few days ago", "which day", "3 days ago"},
		{"last week", "which day", "3 days ago"},
		{"25:00", "no such time", "23:59"},
		{"13pm", "no such time of day", "6pm"},
		{"day -1", "day number", `"day 5"`},
		{"day nan", "day number", `"day 5"`},
		{"day", "number of the day", `"day 5"`},
		{"9th day", "cannot be read", "day 5"},
		{"yesterday today", "two days", "2026-03-05"},
		{"18:00 19:00", "two hours", "2026-03-05"},
		{"not yesterday", `"not" is not understood`, "2026-03-05"},
		{"soon", "cannot be read", "2026-03-05"},
		{"minus two days ago", "how long ago", "3 days ago"},
		{strings.Repeat("x", 500), "...", "2026-03-05"},
	}
	for _, c := range cases {
		_, err := Parse(c.text, clockAt(t))
		var problem *Error
		if !errors.As(err, &problem) {
			t.Errorf("%q was read: %v", c.text, err)
			continue
		}
		if !strings.Contains(problem.Error(), c.says) || !strings.Contains(problem.Hint, c.hint) {
			t.Errorf("%q: %s / %s; want %q / %q", c.text, problem, problem.Hint, c.says, c.hint)
		}
	}
	if _, err := Parse("day 5", Clock{Now: clockAt(t).Now}); err == nil {
		t.Error("day 5 was counted from nothing")
	}
}

// Whatever is typed, a text is read or refused with a hint, and what is read is a
// moment of years that people live in or was counted from the clock.
func FuzzParse(f *testing.F) {
	for _, text := range []string{"yesterday 18:00", "15.11.2025", "day 9 morning", "2 weeks ago", "3/4",
		"last saturday"} {
		f.Add(text)
	}
	clock := Clock{Now: time.Date(2026, 3, 14, 15, 0, 0, 0, time.UTC), Start: time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Parse(text, clock)
		var problem *Error
		if err != nil && (!errors.As(err, &problem) || problem.Hint == "") {
			t.Fatalf("%q: %v without a hint", text, err)
		}
		if err == nil && (r.At.Year() < 1800 || r.At.Year() > 2300) {
			t.Fatalf("%q is in the year %d", text, r.At.Year())
		}
	})
}

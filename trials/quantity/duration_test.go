package quantity

import "testing"

func TestParseDuration(t *testing.T) {
	for _, c := range []limited{
		{"20min", 20, 0},
		{"20 minutes", 20, 0},
		{"for 5 days", 7200, 0},
		{"an hour and a half", 90, 0},
		{"20m", 20, 0},
		{"90 s", 1.5, 0},
		{"1.5 h", 90, 0},
		{"1,5h", 90, 0},
		{"1h30", 90, 0},
		{"1h30m", 90, 0},
		{"1h 30min", 90, 0},
		{"1 hour 30 minutes", 90, 0},
		{"half an hour", 30, 0},
		{"1 1/2 h", 90, 0},
		{"14h", 840, 0},
		{"5d", 7200, 0},
		{"1 day 12 h", 2160, 0},
		{"2w", 20160, 0},
		{"2 weeks", 20160, 0},
		{"a week", 10080, 0},
		{"30min+-5min", 30, 5},
		{"30min+-10%", 30, 3},
	} {
		l, err := ParseDuration(c.text)
		checkLimited(t, c, l, err)
	}
	for _, c := range []struct{ text, hint string }{
		{"20", "20min"},
		{"0min", "above zero"},
		{"-5min", "above zero"},
		{"2 months", "weeks"},
		{"overnight", "14h"},
		{"20 mon", "min"},
		{"20g", "20min"},
		{"1h75", "only"},
		{"1h1/2", "only"},
		{"1:30", "20min"},
		{"1h 1,500min", "without the comma"},
		{"30min 1h", "only"},
		{"20min 5C", "only"},
	} {
		_, err := ParseDuration(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

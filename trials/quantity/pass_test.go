package quantity

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hedgerow/trials/figure"
)

// describePass returns the parts of a pass in one line, for comparison.
func describePass(p passText) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%.6g L", p.VolumeL.Value)
	if p.VolumeL.HasLimit {
		fmt.Fprintf(&b, "+-%.6g", p.VolumeL.HalfWidth)
	}
	if p.VolumeTempC != nil {
		fmt.Fprintf(&b, "@%.6g", *p.VolumeTempC)
	}
	fmt.Fprintf(&b, " %.6g", p.StartC)
	if p.EndC != nil {
		fmt.Fprintf(&b, ">%.6g", *p.EndC)
	}
	fmt.Fprintf(&b, " %.6g min", p.Minutes)
	for _, word := range []string{p.Agitation, p.Separation} {
		if word != "" {
			b.WriteString(" " + word)
		}
	}
	if p.InBag {
		b.WriteString(" bag")
	}
	for _, m := range []struct {
		name  string
		field *figure.Limited
	}{{"recovered", p.RecoveredL}, {"held", p.HeldL}, {"spent", p.SpentG}, {"sg", p.TeaSG}, {"ph", p.TeaPH}} {
		if m.field != nil {
			fmt.Fprintf(&b, " %s=%.6g", m.name, m.field.Value)
		}
	}
	return b.String()
}

func TestParsePass(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"400mL 96C>60C 30min drained", "0.4 L 96>60 30 min drained"},
		{"300mL 95C 15min squeezed", "0.3 L 95 15 min squeezed"},
		{"400mL 96C>80C 30min stirred squeezed", "0.4 L 96>80 30 min stirred squeezed"},
		{"squeezed stirred 30min 96C>80C 400mL", "0.4 L 96>80 30 min stirred squeezed"},
		{"400mL 96>80C 30min", "0.4 L 96>80 30 min"},
		{"400mL 96C to 80C 30min", "0.4 L 96>80 30 min"},
		{"400mL@96C 96C>80C 30min", "0.4 L@96 96>80 30 min"},
		{"400 mL water at 96 C for 30 min, then drained", "0.4 L 96 30 min drained"},
		{"1.5 cups 212F>140F 1h30 pressed", "0.354882 L 100>60 90 min pressed"},
		{"1h30 400mL 96C", "0.4 L 96 90 min"},
		{"1h30 1/2 cup 96C", "0.118294 L 96 90 min"},
		{"400mL 4C 14h still bag", "0.4 L 4 840 min still bag"},
		{"400mL -2C 2d in a sock", "0.4 L -2 2880 min bag"},
		{"400mL 96C 30min now-and-then", "0.4 L 96 30 min now-and-then"},
		{"400mL 96C 30min stirred now and then", "0.4 L 96 30 min now-and-then"},
		{"400mL 96C 30min now and then", "0.4 L 96 30 min now-and-then"},
		{"400mL 100C 10min boiling drained", "0.4 L 100 10 min boiling drained"},
		{"400mL 96C 30min recovered=360mL spent=120g sg=1.008 ph=2.7",
			"0.4 L 96 30 min recovered=0.36 spent=120 sg=1.008 ph=2.7"},
		{"400mL 96C 30min held=40mL", "0.4 L 96 30 min held=0.04"},
		{"400mL 96C 30min held 40mL", "0.4 L 96 30 min held=0.04"},
		{"400mL 96C 30min held=0mL", "0.4 L 96 30 min held=0"},
		{"400mL+-2% 96C 30min", "0.4 L+-0.008 96 30 min"},
		{"400mL 96C@0min,89C@5min,72C@20min drained", "0.4 L 96>72 20 min drained"},
		{"400mL 96C@0min 89C@5min 72C@20min 30min", "0.4 L 96>72 30 min"},
		{"400mL 212F@0min,140F@1h", "0.4 L 100>60 60 min"},
	} {
		p, err := ParsePass(c.text, Options{})
		switch got := describePass(p); {
		case err != nil:
			t.Error(err)
		case got != c.want || p.AsWritten != c.text:
			t.Errorf("%q = %s, want %s", c.text, got, c.want)
		}
	}
}

func TestParsePassRefuses(t *testing.T) {
	for _, c := range []struct{ text, hint string }{
		{"", "400mL"},
		{"drained", "add the liquid"},
		{"96C 30min", "add the liquid"},
		{"400mL 30min", "add the temperature"},
		{"400mL 30min boiling", "100C"},
		{"400mL 96C", "add how long"},
		{"2 cups 96 30min", "175F"},
		{"2 x 400mL 96C 30min", "--pass"},
		{"400mL 60-96C 30min", "96C>60C"},
		{"400mL 96C twice 30min", "the words are"},
		{"400mL 96C 30min not stirred", "the words are"},
		{"cold overnight in the fridge", "400mL"},
		{"400 96C 30min", "400mL"},
		{"400mL 96C 30", "30min"},
		{"0mL 96C 30min", "above zero"},
		{"-400mL 96C 30min", "above zero"},
		{"400mL 96C 0min", "above zero"},
		{"400mL 205C 30min", "205 F"},
		{"400mL 96C>160C 30min", "160 F"},
		{"400mL@160C 96C 30min", "160 F"},
		{"400mL 300mL 96C 30min", "recovered=360mL"},
		{"400mL 96C 80C 30min", "96C>60C"},
		{"400mL 96C 30min 20min", "once"},
		{"400mL 96C 30min draind", "drained"},
		{"400mL 96C 30min stil", "still"},
		{"400mL 96C 30min strongly", "squeezed"},
		{"400mL 96C 30min drained squeezed", "one of them"},
		{"400mL 96C 30min still stirred", "one of them"},
		{"400mL 96C 30min recovered=360mL held=40mL", "one of them"},
		{"400mL 96C 30min held=40g", "held=40mL"},
		{"400mL 96C 30min held=40", "held=40mL"},
		{"400mL 96C 30min held=-40mL", "above zero"},
		{"400mL 96C 30min held=40mL held=50mL", "once"},
		{"400mL 96C 30min spent=0g", "above zero"},
		{"400mL 96C 30min spent=12", "spent=120g"},
		{"400mL 96C 30min spent=12mL", "spent=120g"},
		{"400mL 96C 30min sg=1008", "1.008"},
		{"400mL 96C 30min ph=17", "4.32"},
		{"400mL 96C+-1C 30min", "limits"},
		{"400mL 96C 30min+-1min", "limits"},
		{"400mL 96C 30min 40%", "400mL 96C"},
		{"400mL 96C 30min 5g", "400mL 96C"},
		{"400mL 96C>60C 96C@0min,72C@20min", "readings"},
		{"400mL 96C@0min", "at least two"},
		{"400mL 96C@1min,72C@20min", "96C@0min"},
		{"400mL 96C@0min,72C@20min,60C@20min", "readings"},
		{"400mL 96C@0min,72C@-20min", "readings"},
		{"400mL 96C@0min,72C@20min 10min", "leave the time out"},
		{"400mL 96C@0,72C@20min", ""},
		{"400mL 96C@0min,172C@20min", "172 F"},
		{"1 pint 96C 30min", "US pint"},
		{"1 gal 1 pint 96C 30min", "US pint"},
		{"400mL 96C 1h 1,500min", "without the comma"},
		{"400mL 96C@1 month,72C@2min", "weeks"},
		{"400mL (96C) 30min", "400mL 96C"},
	} {
		_, err := ParsePass(c.text, Options{})
		wantError(t, c.text, err, c.hint)
	}
}

// TestCurve reads readings.
func TestCurve(t *testing.T) {
	want := []figure.CurvePoint{{Minutes: 0, TempC: 96}, {Minutes: 5, TempC: 89.5}, {Minutes: 20, TempC: 72}}
	got, err := ParseCurve("96C@0min, 89.5C@5min, 72C@20min")
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("got %v, %v; want %v", got, err, want)
	}
	for _, c := range []struct{ text, hint string }{
		{"", "96C@0min"},
		{".", "96C@0min"},
		{"96C", "96C@0min"},
		{"96C@0min", "at least two"},
		{"96C@0min,72C", "96C@0min"},
		{"96C@5,72C@6min", ""},
		{"96C@0min+-1min,72C@9min", "96C@0min"},
		{"drained", "96C@0min"},
	} {
		_, err := ParseCurve(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

// TestPassWords checks that every word of a pass is understood.
func TestPassWords(t *testing.T) {
	for _, w := range passWords {
		for _, word := range w.words {
			p, err := ParsePass("400mL 96C 30min "+word, Options{})
			if err != nil || p.Agitation+p.Separation != w.value {
				t.Errorf("%q is read as %q, %v; want %q", word, p.Agitation+p.Separation, err, w.value)
			}
		}
	}
	for _, word := range []string{boiling, stirred, nowAndThen, still, drained, squeezed, pressed} {
		if !slices.ContainsFunc(passWords, func(w passWord) bool { return w.value == word }) {
			t.Errorf("the word %q is not read", word)
		}
	}
}

// What words stand for is common practice, no source; the end of a steep that
// nobody measured is Newton's law by hand: 20 + 70 exp(-0.02 60) = 41.1 C.
func TestParsePassAsPeopleSayIt(t *testing.T) {
	cases := []struct {
		text                  string
		volumeL, startC, endC float64 // endC 0 for none
		minutes               float64
		note                  string
	}{
		{"half a litre at 80 for 20 minutes, squeezed", 0.5, 80, 0, 20, "80 is read as 80 C"},
		{"500ml just off the boil 10 min", 0.5, 96, 0, 10, "taken as 96 C"},
		{"500ml cold overnight in the fridge", 0.5, 4, 0, 720, "12 h"},
		{"500ml at room temperature overnight", 0.5, 20, 0, 720, "20 C"},
		{"300ml 90C steeped an hour and let cool", 0.3, 90, 41, 60, "41 C"},
		{"500ml boiling water, 15 minutes", 0.5, 98, 0, 15, "98 C"},
		{"500ml boiling water 94C, 15 minutes", 0.5, 94, 0, 15, ""}, // what is typed wins
		{"400 ml 95C cooling to 60, 30 min, wrung out", 0.4, 95, 60, 30, "60 is read as 60 C"},
		{"1L at 70C for half an hour in a muslin bag", 1, 70, 0, 30, ""},
		{"300mL 92-64C 25min pressed", 0.3, 92, 64, 25, ""},
		{"300mL 92C 25min, not squeezed", 0.3, 92, 0, 25, ""},
	}
	for _, c := range cases {
		p, err := ParsePass(c.text, Options{})
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		end := 0.0
		if p.EndC != nil {
			end = *p.EndC
		}
		if p.VolumeL.Value != c.volumeL || p.StartC != c.startC || end != c.endC || p.Minutes != c.minutes {
			t.Errorf("%q is %g L, %g C to %g C, %g min", c.text, p.VolumeL.Value, p.StartC, end, p.Minutes)
		}
		if notes := strings.Join(p.Assumptions, "; "); (c.note == "") != (notes == "") || !strings.Contains(notes, c.note) {
			t.Errorf("%q: notes %q, want %q", c.text, notes, c.note)
		}
	}
}

package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestParseStage(t *testing.T) {
	for _, c := range []struct {
		text, want string
		hasTemp    bool
	}{
		{"5d", "0 L 0 7200 min", false},
		{"20C 5d still bag", "0 L 20 7200 min still bag", true},
		{"98C>92C 10min now-and-then", "0 L 98>92 10 min now-and-then", true},
		{"98C@0min,95C@5min,92C@10min stirred", "0 L 98>92 10 min stirred", true},
		{"equilibrium", "0 L 0 0 min", false},
	} {
		p, err := ParseStage(c.text, Options{})
		if got := describePass(p); err != nil || got != c.want || p.HasTemp != c.hasTemp {
			t.Errorf("%q = %s, temperature %v (%v), want %s, %v", c.text, got, p.HasTemp, err, c.want, c.hasTemp)
		}
	}
}

func TestStageRefusals(t *testing.T) {
	for _, c := range []struct{ text, problem, hint string }{
		{"400mL 20C 5d", "no liquid of its own", "98C>92C"},
		{"20C 5d drained", "not parted from a tea", "leave drained out"},
		{"20C", "does not say how long", "5d"},
		{"20C 5d recovered=3mL", "no liquid of its own", "98C>92C"},
		{"20C 5d bagg", `unknown word "bagg"`, "bag"},
		{"20C 0d", "not above zero", "above zero"},
	} {
		wantRefusal(t, c.text, c.problem, c.hint, func() error { _, err := ParseStage(c.text, Options{}); return err }())
	}
}

// wantRefusal demands an *Error whose problem and hint hold these words.
func wantRefusal(t *testing.T, text, problem, hint string, err error) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) || !strings.Contains(e.Problem, problem) || !strings.Contains(e.Hint, hint) {
		t.Errorf("%q gives %v, want %q with a hint of %q", text, err, problem, hint)
	}
}

func TestPassAtEquilibrium(t *testing.T) {
	for _, c := range []struct {
		text, want string
		efficiency float64
	}{
		{"400mL equilibrium drained", "0.4 L 0 0 min drained", 1},
		{"400mL e=0.7 squeezed", "0.4 L 0 0 min squeezed", 0.7},
		{"400mL e 0.8 95C>70C 20min drained", "0.4 L 95>70 20 min drained", 0.8},
		{"400mL e=0 drained", "0.4 L 0 0 min drained", 0},
	} {
		p, err := ParsePass(c.text, Options{})
		if got := describePass(p); err != nil || got != c.want || p.Efficiency == nil || *p.Efficiency != c.efficiency {
			t.Errorf("%q = %s at %v (%v), want %s at %v", c.text, got, p.Efficiency, err, c.want, c.efficiency)
		}
	}
	for _, c := range []struct{ text, problem, hint string }{
		{"400mL e=1.2 drained", "efficiency 1.2 is outside 0 to 1", "e=0.7"},
		{"400mL e=-0.1 drained", "", ""},
		{"400mL e=70% drained", "has a unit", "e=0.7"},
		{"400mL e=0.7 equilibrium drained", "twice", "once"},
		{"400mL e=0.7 95C drained", "only one of temperature and time", "both, or neither"},
		{"equilibrium drained", "no volume", "400mL"},
	} {
		wantRefusal(t, c.text, c.problem, c.hint, func() error { _, err := ParsePass(c.text, Options{}); return err }())
	}
}

// By hand: 20 g that dry to 2.1 g have lost 17.9 g, 89.5 %; an ounce is 28.349523125 g
// (international avoirdupois pound, exactly 453.59237 g, over 16).
func TestParseDryDown(t *testing.T) {
	for _, c := range []struct {
		text string
		pct  float64
	}{{"20g>2.1g", 89.5}, {"20>2.1g", 89.5}, {"20 g to 2.1 g", 89.5}, {"1oz>14.1747615625g", 50}, {"5g>5g", 0}} {
		d, err := ParseDryDown(c.text)
		if err != nil || math.Abs(d.MoisturePct()-c.pct) > 1e-9 {
			t.Errorf("%q: %v %% (%v), want %v %%", c.text, d.MoisturePct(), err, c.pct)
		}
	}
	for _, c := range []struct{ text, problem, hint string }{
		{"20g", "too early", "20g>2.1g"},
		{"20g>2.1mL", "not two weights", "20g>2.1g"},
		{"2.1g>20g", "more after drying", "before drying first"},
		{"20g>0g", "not above zero", "20g>2.1g"},
		{"20>2", "not two weights", "20g>2.1g"},
	} {
		wantRefusal(t, c.text, c.problem, c.hint, func() error { _, err := ParseDryDown(c.text); return err }())
	}
}

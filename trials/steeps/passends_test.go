package steeps

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
)

// A pass without a time ends its half hour after the one before it, but never after
// the first pour that was logged later than it; a second one not before a pour that
// was logged earlier. By hand, in minutes after the extract was begun.
func TestWhenAPassEnded(t *testing.T) {
	begun := day(3)
	at := func(minutes int) time.Time { return begun.Add(time.Duration(minutes) * time.Minute) }
	pass := func(logged int) trials.Pass { return trials.Pass{Minutes: 30, LoggedAt: at(logged)} }
	dated := func(logged, ended int) trials.Pass {
		p := pass(logged)
		p.EndedAt = new(at(ended))
		return p
	}
	pour := func(logged, when int) taking { return taking{at(when), at(logged)} }
	for _, c := range []struct {
		what   string
		passes []trials.Pass
		pours  []taking
		want   []time.Time
	}{
		{"no pour", []trials.Pass{pass(0), pass(0)}, nil, []time.Time{at(30), at(60)}},
		{"said", []trials.Pass{dated(0, 45), pass(0)}, nil, []time.Time{at(45), at(75)}},
		{"poured at once", []trials.Pass{pass(0), pass(0)}, []taking{pour(0, 10)}, []time.Time{at(10), at(10)}},
		{"poured later", []trials.Pass{pass(0), pass(0)}, []taking{pour(50, 40), pour(60, 500)},
			[]time.Time{at(30), at(40)}},
		{"logged after a pour", []trials.Pass{pass(0), pass(200)}, []taking{pour(100, 100)},
			[]time.Time{at(30), at(100).Add(1)}},
		{"between two pours", []trials.Pass{pass(0), pass(200)}, []taking{pour(100, 100), pour(300, 110)},
			[]time.Time{at(30), at(100).Add(1)}},
		{"said to be before a pour", []trials.Pass{pass(0), dated(200, 90)}, []taking{pour(100, 100)},
			[]time.Time{at(30), at(90)}},
	} {
		x := trials.Extract{MadeAt: begun, Passes: c.passes}
		x.CreatedAt = at(0)
		if got := passEnds(x, c.pours); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
}

// What was poured from the first pass stays, to the last digit, whatever a second
// pass gives; correcting the first pass changes it, and that is said.
func TestALaterPassChangesNoEarlierPour(t *testing.T) {
	materials := shipped(t)
	n, x := jugOf(nil, 0.1)
	follow := func(x trials.Extract) (Pour, Jug) {
		t.Helper()
		n.Extracts[0] = x
		_, j, err := NewSteeper(n.Index(), materials, Full).Follow(x)
		if err != nil || j.Check() != nil {
			t.Fatal(err, j.Check())
		}
		return j.Pours[0], j
	}
	alone, before := follow(x)
	second := jugTea().Passes[1]
	second.EndedAt = new(hour(4))
	later := x
	later.Passes = append(append([]trials.Pass{}, x.Passes...), second)
	pour, after := follow(later)
	if !reflect.DeepEqual(pour, alone) {
		t.Errorf("the pour became %+v, was %+v", pour, alone)
	}
	if after.LeftL < before.LeftL+0.3 || after.LeftG <= before.LeftG || len(after.Changes(before)) > 0 {
		t.Errorf("left %v L and %v g, were %v L and %v g", after.LeftL, after.LeftG, before.LeftL, before.LeftG)
	}
	// Before the pour it changes what was poured: more liquid, less strong.
	second.EndedAt = new(hour(-1))
	earlier := x
	earlier.Passes = append(append([]trials.Pass{}, x.Passes...), second)
	_, changed := follow(earlier)
	says := changed.Changes(before)
	if len(says) != 1 || !strings.HasPrefix(says[0], "this changes what was poured as beer-a.a1: ") {
		t.Errorf("said %q", says)
	}
	// The same plant in 500 mL in place of 400 mL gives a weaker tea.
	x.Passes = append([]trials.Pass{}, x.Passes...)
	x.Passes[0].VolumeL = 0.5
	if _, corrected := follow(x); len(corrected.Changes(before)) != 1 {
		t.Errorf("a correction of the first pass said %q", corrected.Changes(before))
	}
}

// An extract that was said to have been begun on a day was not poured before.
func TestPouredBeforeItWasMade(t *testing.T) {
	n, x := jugOf(nil, 0.1)
	x.CreatedAt = day(20)
	for _, c := range []struct {
		made time.Time
		fits bool
	}{{day(9), true}, {hour(0), true}, {day(12), false}, {day(20), true}} {
		x.MadeAt = c.made
		n.Extracts[0] = x
		j, err := JugOf(n, shipped(t), x)
		if err != nil || (j.Check() == nil) != c.fits {
			t.Errorf("made on %v: %v %v", c.made, err, j.Check())
		}
	}
}

package steeps

import (
	"math"
	"math/rand"
	"reflect"
	"strings"
	"testing"

	"hedgerow/trials"

	"pgregory.net/rapid"
)

// passed, wetted and poured are events of an invented jug, g in the first class.
func passed(h int, litres, g float64) JugEvent {
	return JugEvent{At: hour(h), Kind: JugPass, VolumeL: litres, HalfL: litres / 20,
		Grams: [trials.ClassCount]float64{g, g / 2}, SolidsG: g / 3}
}
func wetted(h int, litres float64) JugEvent {
	return JugEvent{At: hour(h), Kind: JugTopUp, VolumeL: litres}
}
func poured(h int, litres float64) JugEvent {
	return JugEvent{At: hour(h), Kind: JugPour, VolumeL: litres}
}

// By hand: half of 18 g; then 15.5 g in 0.56 L, of which half is poured. Reckoned
// from both passes the first pour would be 6.68 g.
func TestAPourTakesFromWhatExisted(t *testing.T) {
	lines := FollowJug("tea", []JugEvent{passed(0, 0.42, 18), poured(3, 0.21), passed(5, 0.35, 6.5), poured(9, 0.28)})
	near(t, "first pour", lines[1].Grams[0], 9, 1e-12)
	near(t, "second pour", lines[3].Grams[0], 7.75, 1e-12)
	near(t, "left", lines[3].LeftG[0], 7.75, 1e-12)
	near(t, "litres left", lines[3].LeftL, 0.28, 1e-12)
	for _, l := range lines {
		if l.Problem != nil || l.Warning != "" {
			t.Errorf("%+v", l)
		}
	}
}

// At the edges: 0.42 L are known to 21 mL. All of it leaves an empty jug; up to the
// half-width takes all with a remark; more cannot be, nor can a pour before the first
// pass. What is empty gives nothing, nor does water on it.
func TestEdgesOfAJug(t *testing.T) {
	for _, c := range []struct {
		events        []JugEvent
		problem, says string
		g, leftL      float64
	}{
		{[]JugEvent{passed(0, 0.42, 18), poured(1, 0.42)}, "", "", 18, 0},
		{[]JugEvent{passed(0, 0.42, 18), poured(1, 0.42+5e-10)}, "", "", 18, 0},
		{[]JugEvent{passed(0, 0.42, 18), poured(1, 0.43)}, "",
			"0.43 L of tea were poured, a little more than the 0.42 L", 18, 0},
		{[]JugEvent{passed(0, 0.42, 18), poured(1, 0.441)}, "", "a little more", 18, 0},
		{[]JugEvent{passed(0, 0.42, 18), poured(1, 0.4411)}, "0.441 L were poured, but the extract gave only 0.42 L",
			"", 18, 0},
		{[]JugEvent{poured(1, 0.1), passed(2, 0.42, 18)}, "tea was poured before its first pass ended", "", 0, 0},
		{[]JugEvent{passed(0, 0.42, 18), poured(1, 0.42), poured(2, 0.01)}, "nothing is left of tea", "", 0, 0},
		{[]JugEvent{passed(0, 0.42, 18), poured(1, 0.42), wetted(2, 0.2), poured(3, 0.1)},
			"nothing is left of tea: 0.42 L of 0.62 L were poured", "", 0, 0.1},
	} {
		lines := FollowJug("tea", c.events)
		l := lines[len(lines)-1]
		for _, other := range lines {
			if other.Problem != nil {
				l = other
			}
		}
		if c.problem == "" && l.Problem != nil || c.problem != "" && (l.Problem == nil ||
			!strings.Contains(l.Problem.Error(), c.problem)) || !strings.Contains(l.Warning, c.says) ||
			(l.Warning != "") != (c.says != "") {
			t.Errorf("%+v: %v, %q", c.events, l.Problem, l.Warning)
		}
		near(t, "grams", l.Grams[0], c.g, 1e-12)
		near(t, "left", l.LeftL, c.leftL, 1e-12)
	}
}

// jugEvents draws the events of a jug, all within its first hours or all after them.
func jugEvents(t *rapid.T, label string, from int) []JugEvent {
	var events []JugEvent
	for range rapid.IntRange(0, 5).Draw(t, label) {
		h := from + rapid.IntRange(0, 3).Draw(t, "hour")
		litres := rapid.Float64Range(0.01, 0.5).Draw(t, "litres")
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 0:
			events = append(events, passed(h, litres, rapid.Float64Range(0, 20).Draw(t, "grams")))
		case 1:
			events = append(events, wetted(h, litres))
		default:
			events = append(events, poured(h, litres))
		}
	}
	return events
}

// Whatever happens: what was poured and what is left are what the passes gave, in
// each class and in solids; what comes later leaves the lines before it as they
// were, to the last digit; and events of different kinds may come in any order.
func TestPropertiesOfAJug(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		early := append(jugEvents(t, "early", 1), passed(0, 0.3, 10))
		all := append(append([]JugEvent{}, early...), jugEvents(t, "late", 5)...)
		first, lines := FollowJug("tea", early), FollowJug("tea", all)
		if !reflect.DeepEqual(first, lines[:len(first)]) {
			t.Fatalf("what came later changed %+v into %+v", first, lines[:len(first)])
		}
		gave, took, solids := 0.0, 0.0, 0.0
		for _, l := range lines {
			if l.Kind == JugPour {
				took, solids = took+l.Grams[1], solids-l.SolidsG
			} else {
				gave, solids = gave+l.Grams[1], solids+l.SolidsG
			}
		}
		left := lines[len(lines)-1].LeftG[1]
		if math.Abs(gave-took-left) > 1e-9 || solids < -1e-9 || left < 0 {
			t.Fatalf("gave %v, poured %v, left %v", gave, took, left)
		}
		// Among events of one kind and moment the order of entry counts.
		seen := map[[2]int64]bool{}
		for _, e := range all {
			key := [2]int64{e.At.Unix(), int64(e.Kind)}
			if seen[key] {
				return
			}
			seen[key] = true
		}
		mixed := append([]JugEvent{}, all...)
		rand.New(rand.NewSource(1)).Shuffle(len(mixed), func(i, k int) { mixed[i], mixed[k] = mixed[k], mixed[i] })
		if !reflect.DeepEqual(FollowJug("tea", mixed), lines) {
			t.Fatalf("the order of records matters")
		}
	})
}

// By hand: 0.40 L with 20 g, of which droppers take 0.10 L and 5 g; the next pour of 0.15 L
// takes half of the rest. What the droppers took is in doubt, so a pour of up to that much
// more than is left takes all; more is refused. A jug that holds less fills them with what
// it has.
func TestDroppersTakeFromAJug(t *testing.T) {
	filled := func(h int, litres float64) JugEvent {
		return JugEvent{Name: "evening", At: hour(h), Kind: JugDrops, VolumeL: litres}
	}
	lines := FollowJug("tea", []JugEvent{passed(0, 0.40, 20), filled(1, 0.10), poured(2, 0.15)})
	if l := lines[1]; !closeTo(l.Grams[0], 5) || !closeTo(l.LeftL, 0.30) || l.Problem != nil {
		t.Errorf("droppers: %+v", l)
	}
	if l := lines[2]; !closeTo(l.Grams[0], 7.5) || !closeTo(l.LeftL, 0.15) || l.Problem != nil {
		t.Errorf("the pour after them: %+v", l)
	}
	over := FollowJug("tea", []JugEvent{passed(0, 0.40, 20), filled(1, 0.10), poured(2, 0.39)})
	if l := over[2]; l.Problem != nil || !closeTo(l.Grams[0], 15) || l.LeftL != 0 || l.Warning == "" {
		t.Errorf("a pour within their doubt: %+v", l)
	}
	if l := FollowJug("tea", []JugEvent{passed(0, 0.40, 20), filled(1, 0.10), poured(2, 0.45)})[2]; l.Problem == nil {
		t.Errorf("a pour past their doubt: %+v", l)
	}
	if l := FollowJug("tea", []JugEvent{passed(0, 0.05, 2), filled(1, 0.10)})[1]; !closeTo(l.VolumeL, 0.05) ||
		l.LeftL != 0 ||
		l.Problem != nil {
		t.Errorf("droppers that take more than there is: %+v", l)
	}
}

// closeTo reports whether two amounts are the same but for rounding.
func closeTo(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

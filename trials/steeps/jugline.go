package steeps

import (
	"cmp"
	"slices"
	"time"

	"hedgerow/trials"
)

// JugEvent is one moment of an extract: a pass gave some, water was added, or some
// was poured.
type JugEvent struct {
	Name    string // what to call it: "pass 1", "top-up", the name of an addition or of a tasting
	At      time.Time
	Kind    JugKind
	VolumeL float64                    // that came out, went in or was poured, litres at 20 C
	All     bool                       // a pour of all that is left, in place of VolumeL
	HalfL   float64                    // of a pass: half-width of what all passes so far gave
	Grams   [trials.ClassCount]float64 // of a pass: what it gave, by solute class
	SolidsG float64                    // of a pass: dissolved solids that it gave
}

// JugKind says what happened to an extract.
type JugKind int

// The kinds, in the order in which they count at one moment.
const (
	JugPass JugKind = iota
	JugTopUp
	JugDrops // droppers were filled
	JugPour
)

// JugLine is an event with what it did: for a pour and for droppers VolumeL, Grams and
// SolidsG are what was taken.
type JugLine struct {
	JugEvent
	Share    float64                    // of a pour: of all that was in the jug
	Strength float64                    // of a pour: liquid that is of passes, the rest is water of top-ups
	LeftL    float64                    // liquid in the jug afterwards
	LeftG    [trials.ClassCount]float64 // what it carries, by solute class
	Rest     float64                    // its Strength
	Problem  error                      // of a pour: why it cannot be; nil when it can
	Warning  string                     // of a pour: a remark, or empty
}

// jugSlackL is how far a poured volume may miss what was there by digits alone.
const jugSlackL = 1e-9

// FollowJug follows an extract through its events, in order of time; at one moment
// passes come first, then top-ups, then droppers, then pours, then the order given. A pour takes
// from what there was at its time:
//
//	share = v/V    grams = share G    V, G fall by that share
//
// with V and G what passes ended by then gave, plus top-ups, less earlier pours [1].
// A pour of more than V takes all, up to the half-width of V; one of more than
// that, or before the first pass ended, has a Problem. Volumes are taken to add.
//
// [1] hand calculation: 0.42 L with 18 g, of which 0.21 L are poured; then 0.35 L
// with 6.5 g on the rest, of which 0.28 L are poured: 9 g and 7.75 g.
func FollowJug(name string, events []JugEvent) []JugLine {
	events = slices.Clone(events)
	slices.SortStableFunc(events, func(a, b JugEvent) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Kind, b.Kind))
	})
	j := jugState{name: name}
	lines := make([]JugLine, len(events))
	for i, e := range events {
		lines[i] = j.after(e)
	}
	return lines
}

// jugState is what a jug holds at a moment.
type jugState struct {
	name             string
	volumeL          float64 // liquid
	ownL             float64 // of it, liquid of passes
	halfL            float64 // half-width of volumeL
	solidsG          float64
	grams            [trials.ClassCount]float64
	passes           int
	enteredL, takenL float64 // all that went in, and all that was poured
}

// after lets an event happen.
func (j *jugState) after(e JugEvent) JugLine {
	l := JugLine{JugEvent: e}
	switch e.Kind {
	case JugPass:
		j.passes++
		j.volumeL, j.ownL, j.enteredL = j.volumeL+e.VolumeL, j.ownL+e.VolumeL, j.enteredL+e.VolumeL
		// replaced, not added: it is that of all passes up to here
		j.halfL, j.solidsG = e.HalfL, j.solidsG+e.SolidsG
		for c := range j.grams {
			j.grams[c] += e.Grams[c]
		}
	case JugTopUp:
		j.volumeL, j.enteredL = j.volumeL+e.VolumeL, j.enteredL+e.VolumeL
	case JugDrops:
		// what was really filled in nobody measured: it takes what there is, and is in doubt by all of it
		l.VolumeL = min(l.VolumeL, j.volumeL)
		half := j.halfL + l.VolumeL
		j.pour(&l)
		l.Problem, j.halfL = nil, half
	case JugPour:
		j.pour(&l)
	}
	l.LeftL, l.LeftG, l.Rest = j.volumeL, j.grams, j.strength()
	return l
}

// pour takes liquid off, and with it the same share of all else.
func (j *jugState) pour(l *JugLine) {
	if l.All {
		l.VolumeL = j.volumeL
	}
	l.Strength, l.Problem = j.strength(), j.problem(l.VolumeL)
	over := l.VolumeL - j.volumeL
	if over > jugSlackL && l.Problem == nil {
		l.Warning = litres(l.VolumeL) + " L of " + j.name + " were poured, a little more than the " +
			litres(j.volumeL) + " L there were by reckoning: all that it carried went in"
	}
	// the last millilitres of a jug count as all of it
	l.Share = 1
	if over < -jugSlackL {
		l.Share = l.VolumeL / j.volumeL
	}
	keep := 1 - l.Share
	l.SolidsG, j.solidsG = l.Share*j.solidsG, keep*j.solidsG
	for c, g := range j.grams {
		l.Grams[c], j.grams[c] = l.Share*g, keep*g
	}
	j.takenL += l.VolumeL
	j.ownL *= keep
	if j.volumeL -= l.VolumeL; l.Share == 1 {
		// An emptied jug holds nothing, whatever its volume was in doubt by.
		j.volumeL, j.halfL = 0, 0
	}
}

// strength is how much of the liquid is of passes: 1 without a top-up.
func (j *jugState) strength() float64 {
	if j.volumeL <= 0 {
		return 1
	}
	return min(j.ownL/j.volumeL, 1)
}

// problem says why so much cannot be poured, nil if it can.
func (j *jugState) problem(poured float64) error {
	const hint = "correct the poured volume or the passes, or log a top-up: hedgerow extract top-up "
	switch {
	case j.passes == 0:
		return trials.Refuse("give a later --at, or correct when the pass ended: hedgerow extract edit "+j.name+
			" --replace 1 --ended ...", "%s was poured before its first pass ended", j.name)
	case j.ownL <= jugSlackL && j.takenL > 0: // water on an emptied jug is no extract
		return trials.Refuse(hint+j.name+" 200mL", "nothing is left of %s: %s L of %s L were poured before", j.name,
			litres(j.takenL), litres(j.enteredL))
	case poured <= j.volumeL+j.halfL+jugSlackL:
		return nil
	case j.takenL > 0:
		return trials.Refuse(hint+j.name+" 200mL",
			"%s L were poured, but of %s only %s L are left: %s L of %s L were poured before",
			litres(poured), j.name, litres(j.volumeL), litres(j.takenL), litres(j.enteredL))
	}
	return trials.Refuse(hint+j.name+" 200mL", "%s L were poured, but the extract gave only %s L", litres(poured),
		litres(j.volumeL))
}

// litres prints a volume to the millilitre.
func litres(v float64) string { return trials.Number(float64(int(v*1000+0.5)) / 1000) }

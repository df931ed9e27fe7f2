package main

import (
	"bufio"
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials"
)

// dropInterview leads one taster through both glasses, step by step, and keeps each glass
// when it is done.
func (e *env) dropInterview(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, o scoreOptions) error {
	v := &interview{e: e, n: n, t: t, lines: bufio.NewScanner(e.input())}
	if o.taster == "" {
		fmt.Fprint(e.stderr, "Who tastes? ")
		o.taster, _ = v.next()
	}
	if _, err := n.GlassOf(t, o.taster, trials.DirectionUp); err != nil {
		return err
	}
	v.tell("Tasting %s, %s. Answer y or n; Enter is n, undo goes a step back, done ends the glass.", t.Name, o.taster)
	kept := 0
	for _, d := range n.DosingsOf(t.ID) {
		if !strings.EqualFold(n.TasterName(d.TasterID), o.taster) {
			continue
		}
		if d.Noted() && !o.replace {
			v.tell("Glass %d is noted already; --replace notes it anew.", d.Number)
			continue
		}
		x, more := v.dose(s, d)
		// interrupted in the midst of a glass: what was said of it so far was not meant to be final
		if e.ctx.Err() != nil {
			return e.ctx.Err()
		}
		if x.Right != nil || x.Past != nil || x.Stopped != nil {
			if err := v.keepGlass(x, o.replace); err != nil {
				return err
			}
			kept++
		}
		if !more {
			break
		}
	}
	if err := v.broken(); err != nil {
		return err
	}
	return e.saved(map[string]int{"glasses": kept}, "kept the notes of %s of %s", document.Count(kept, "glass"), o.taster)
}

// dose leads through one glass; more is false when the answers ended.
func (v *interview) dose(s trials.ToTaste, d trials.Dosing) (x trials.DropNotes, more bool) {
	x = trials.DropNotes{Taster: v.n.TasterName(d.TasterID), Glass: fmt.Sprint(d.Number)}
	v.tell("Glass %d goes %s, dropper %s: %s mL of beer.", d.Number, d.Direction, v.dropperOf(d),
		trials.Number(1000*s.GlassL))
	past := trials.PastWord(d.Direction)
	for k := 1; k <= s.Steps(d.Direction); k++ {
		question := "now just right"
		if x.Right != nil {
			question = "now " + past
		}
		fmt.Fprintf(v.e.stderr, "  step %d, %s: %s? [y/N] ", k, dropText(s, d.Direction, k), question)
		line, ok := v.next()
		if !ok {
			return x, false
		}
		step := k
		switch answer := strings.ToLower(line); {
		case answer == "done":
			step-- // this step was not tasted
			if step > 0 {
				x.Stopped = &step
			}
			return x, true
		case answer == "undo":
			if x.Right != nil && *x.Right == k-1 {
				x.Right = nil
			}
			k = max(k-2, 0)
			continue
		case yes(line) && x.Right != nil:
			x.Past = &step
			x.Stopped = &step
			return x, true
		case yes(line):
			x.Right = &step
		case answer == past || "too "+answer == past:
			// past it at once, without having been right
			x.Past, x.Stopped = &step, &step
			return x, true
		case answer != "" && answer != "n" && answer != "no":
			v.tell("  answer y or n, %s if it is past right already, undo or done", strings.TrimPrefix(past, "too "))
			k-- // asked again: one slip must not cost a step
			continue
		}
		x.Stopped = &step
	}
	return x, true
}

// dropperOf is how a taster calls the dropper of a glass.
func (v *interview) dropperOf(d trials.Dosing) string {
	for i, o := range v.n.DroppersOf(v.t.ID) {
		if o.ID == d.DropperID && v.t.CupsUnread() {
			return fmt.Sprintf("at place %d", i+1)
		} else if o.ID == d.DropperID {
			return o.Code
		}
	}
	return "unknown"
}

// dropText says what goes in at a step.
func dropText(s trials.ToTaste, direction string, step int) string {
	ml := func(l float64) string { return trials.Number(trials.Tidy(1000*l)) + " mL" }
	switch {
	case direction == trials.DirectionUp:
		return "put in " + ml(s.UpL[step-1])
	case step == 1:
		return ml(s.DownL) + " from the dropper"
	}
	return ml(s.FillL) + " away, beer in"
}

// keepGlass writes the notes of one glass.
func (v *interview) keepGlass(x trials.DropNotes, replace bool) error {
	// Read anew, since others score meanwhile.
	n, err := v.e.writing()
	if err != nil {
		return err
	}
	defer v.e.release()
	t, err := openTasting(n, v.t.Name, replace)
	if err != nil {
		return err
	}
	entry, err := n.EnterDrops(t, []trials.DropNotes{x}, replace, v.e.now())
	if err != nil {
		return err
	}
	return v.e.keepDrops(n, t, &entry)
}

package sheets

import (
	"fmt"
	"time"

	"hedgerow/trials"
)

// Batch is one row of a list of batches.
type Batch struct {
	Line      int       `json:"line"`            // where its row starts
	Name      string    `json:"name"`            // as it will be kept
	StartedAt time.Time `json:"started_at"`      // when it was begun
	VolumeL   float64   `json:"volume_l"`        // litres
	OG        *float64  `json:"og,omitempty"`    // specific gravity
	FG        *float64  `json:"fg,omitempty"`    // specific gravity
	IBU       *float64  `json:"ibu,omitempty"`   // bitterness
	SRM       *float64  `json:"srm,omitempty"`   // colour
	Style     string    `json:"style,omitempty"` // in the brewer's words
	Note      string    `json:"note,omitempty"`  // free text
}

// batches reads a list of batches.
func (r *reader) batches() {
	fresh := map[string]int{}
	for _, w := range r.rows {
		b, ok := r.batchOf(w)
		if !ok {
			continue
		}
		if line, twice := fresh[fold(b.Name)]; twice {
			r.fault(w.line, r.with(roleBatch), b.Name, fmt.Sprintf("it stands in line %d too", line),
				"leave one of them out, or give it another name")
			continue
		}
		fresh[fold(b.Name)] = w.line
		if r.batchKept(&b) {
			continue
		}
		r.sheet.Batches = append(r.sheet.Batches, b)
		r.sheet.New.Batches = append(r.sheet.New.Batches, b.record())
	}
}

// batchOf reads one row.
func (r *reader) batchOf(w row) (Batch, bool) {
	b := Batch{Line: w.line, Style: r.word(w, r.with(roleStyle)), Note: r.note(w, r.with(roleNote))}
	before := r.doubts()
	c := r.with(roleBatch)
	if c == nil {
		r.once(r.headerLine, r.columns[0], "", "no column names the batch", "add a column Batch")
		return b, false
	}
	name := r.word(w, c)
	if name == "" {
		r.missingBeer(w, c)
	}
	if b.Name = fittingName(name); b.Name != name && b.Name != "" && len(r.beers.byName[fold(name)]) == 0 {
		r.remark("name_changed", w.line, c, "%s is kept as %s", name, b.Name)
	}
	b.StartedAt = r.begun(w)
	if volume := r.with(roleVolume); volume != nil {
		if v := r.amount(w, volume, r.volumes()); v != nil {
			b.VolumeL = *v
		} else if isEmpty(r.cleaned(w, volume)) {
			r.fault(w.line, volume, "", "the volume is missing", "write how much went into the fermenter, such as 12 L")
		}
	} else {
		r.once(r.headerLine, c, "volume", "no column has the volume", "add a column such as Volume (L)")
	}
	b.OG, b.FG = r.gravityIn(w, roleOG), r.gravityIn(w, roleFG)
	b.IBU, b.SRM = r.numberIn(w, roleIBU), r.numberIn(w, roleSRM)
	if r.doubts() > before {
		return b, false
	}
	record := b.record()
	if err := record.Validate(); err != nil {
		why, do := faultOf(err)
		r.fault(w.line, c, name, why, do)
		return b, false
	}
	return b, true
}

// begun is when a batch was begun; one without a date is a fault.
func (r *reader) begun(w row) time.Time {
	c := r.with(roleDate)
	if c == nil {
		r.once(r.headerLine, r.columns[0], "date", "no column says when the batches were begun", "add a column Date")
		return time.Time{}
	}
	at, ok := r.date(w, c, time.Time{})
	if !ok && isEmpty(r.cleaned(w, c)) {
		r.fault(w.line, c, "", "the date is missing", "write when the batch was begun, such as 2025-03-15")
	}
	return at
}

// gravityIn reads the gravity in the column of a role, nil where there is none.
func (r *reader) gravityIn(w row, wanted role) *float64 {
	if c := r.with(wanted); c != nil {
		return r.gravity(w, c)
	}
	return nil
}

// numberIn reads a plain number in the column of a role, nil where there is none.
func (r *reader) numberIn(w row, wanted role) *float64 {
	c := r.with(wanted)
	if c == nil {
		return nil
	}
	if v, ok := r.bare(w, c); ok {
		return &v
	}
	return nil
}

// record returns the batch as it would be written.
func (b Batch) record() trials.Batch {
	return trials.Batch{Record: trials.Record{ID: trials.NewID(), Name: b.Name}, Kind: trials.KindBatch,
		StartedAt: b.StartedAt, VolumeL: b.VolumeL, OG: b.OG, FG: b.FG, IBU: b.IBU, SRM: b.SRM, Style: b.Style, Note: b.Note}
}

// batchKept reports whether the notebook has a batch of that name already, or an
// answer left the row out. One with other figures is asked about.
func (r *reader) batchKept(b *Batch) bool {
	kept, err := r.n.Batch(first(r.beers.byName[fold(b.Name)]))
	c := r.with(roleBatch)
	if err != nil {
		return r.askNear(b, c)
	}
	if sameBatch(kept, b.record()) {
		r.sheet.Already++
		return true
	}
	second := freeName(b.Name, r.beers)
	q := Ask{About: "batch", Key: "batch " + kept.Name, Line: b.Line, Value: b.Name,
		Options: []string{leaveOut, "add: as " + second}, Text: kept.Name + " is there with other figures"}
	answer, given := r.ask(q, c, false)
	if given && answer == "add" {
		b.Name = second
		r.beers.add(second)
		return false
	}
	if given {
		r.leave(b.Line)
	}
	return true
}

// askNear asks about a new batch whose name differs from one that is there by zeros
// before a number alone.
func (r *reader) askNear(b *Batch, c *column) bool {
	for _, kept := range r.beers.all {
		if unpadded(fold(kept)) != unpadded(fold(b.Name)) {
			continue
		}
		q := Ask{About: "batch", Key: "batch " + b.Name, Line: b.Line, Value: b.Name,
			Options: []string{leaveOut, "add: as another batch"}, Text: b.Name + " comes near " + kept + ", which is there"}
		answer, given := r.ask(q, c, false)
		if given && answer == leaveOut {
			r.leave(b.Line)
		}
		return !given || answer == leaveOut
	}
	return false
}

// first returns the first of a list, empty of none.
func first(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[0]
}

// freeName adds the first number to a name that makes it a new one.
func freeName(name string, taken *register) string {
	for i := 2; ; i++ {
		next := fmt.Sprintf("%s-%d", name, i)
		if len(taken.byName[fold(next)]) == 0 {
			return next
		}
	}
}

// sameBatch reports whether a row says of a batch what the notebook says. What the
// row leaves empty it does not contradict.
func sameBatch(kept, read trials.Batch) bool {
	agree := func(a, b *float64) bool { return b == nil || a != nil && near(*a, *b) }
	return near(kept.VolumeL, read.VolumeL) && kept.StartedAt.Equal(read.StartedAt) && agree(kept.OG, read.OG) &&
		agree(kept.FG, read.FG) && agree(kept.IBU, read.IBU) && agree(kept.SRM, read.SRM) &&
		(read.Style == "" || kept.Style == read.Style) && (read.Note == "" || kept.Note == read.Note)
}

// near reports whether two figures are the same but for rounding: a list that was
// made of the notebook has fewer digits.
func near(a, b float64) bool {
	const rounding = 1e-6
	return a == b || a-b <= rounding*a && b-a <= rounding*a
}

package ledger

import (
	"math"
	"slices"
	"time"

	"hedgerow/trials"
)

// look is a moment at which a batch is looked at as a trial.
type look struct {
	step  int       // of the ledger, the last by then
	beer  int       // the step that tells what beer it was
	at    time.Time // the moment
	doses []Dose    // then
	named []string  // ids of the tastings of this look
}

// trialsOf looks at one batch as treatments with a material: one for each dose at which
// it was tasted, or one as it is now.
func (k *book) trialsOf(b trials.Batch, m trials.Material, tasted []trials.Tasting) ([]Trial, error) {
	root := k.Root(b)
	t := Trial{Batch: b, Group: root.Name, Style: root.Style, Control: true, BrewedAt: root.StartedAt}
	if root.OG == nil {
		return []Trial{t}, nil
	}
	l, err := k.ledger(b)
	if err != nil {
		return nil, err
	}
	looks, err := k.looks(l, m, tasted)
	if err != nil {
		return nil, err
	}
	list := make([]Trial, len(looks))
	for i, o := range looks {
		list[i] = t
		if i > 0 {
			days := o.at.Sub(root.StartedAt).Hours() / 24
			list[i].Day = &days
		}
		if err := k.lookAt(&list[i], l, m, o); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// sameEvening is how long after the time of a tasting an extract or a plain liquid may
// have been logged to have been in the glass: a tasting is set up before the glasses are
// filled, and an evening has one time.
const sameEvening = 12 * time.Hour

// looks are the moments at which a batch was tasted, those at the same dose and time in
// the beer being one; now, if it was never tasted with the material in it.
func (k *book) looks(l Ledger, m trials.Material, tasted []trials.Tasting) ([]look, error) {
	last := len(l.Steps) - 1
	now := look{step: last, beer: last, at: later(k.Now, l.Steps[last].At), doses: l.Doses}
	var list []look
	dosed := false
	for _, t := range tasted {
		step := l.lastOfEvening(t.At)
		if step < 0 {
			continue
		}
		doses, err := k.dosesAt(l, step, t.At)
		if err != nil {
			return nil, err
		}
		o := look{step: step, beer: max(step, l.beerAt(t.At)), at: t.At, doses: ofMaterial(doses, m.Key),
			named: []string{t.ID}}
		dosed = dosed || len(o.doses) > 0
		if n := len(list); n > 0 && list[n-1].alike(o) {
			list[n-1].named = append(list[n-1].named, t.ID)
			continue
		}
		list = append(list, o)
	}
	now.doses = ofMaterial(now.doses, m.Key)
	if !dosed || len(list) == 1 && list[0].alike(now) {
		return []look{now}, nil
	}
	return list, nil
}

// lastOfEvening is the last step by the time of a tasting, with the extracts and liquids
// logged in the hours after it.
func (l Ledger) lastOfEvening(at time.Time) int {
	place := l.placeOf(at)
	for i := place + 1; i < len(l.Steps) && l.Steps[i].At.Sub(at) <= sameEvening; i++ {
		if a := l.Steps[i].Addition; l.Steps[i].Kind == EventAddition && !a.IsPlant() {
			place = i
		}
	}
	return place
}

// ofMaterial keeps the doses of one material.
func ofMaterial(all []Dose, key string) []Dose {
	return slices.DeleteFunc(slices.Clone(all), func(d Dose) bool { return d.MaterialKey != key })
}

// sameTrialDose is how far two doses may differ in rounding and still be one.
const sameTrialDose = 1e-6

// alike reports whether two looks see the same additions at the same dose.
func (o look) alike(p look) bool {
	return slices.EqualFunc(o.doses, p.doses, func(a, b Dose) bool {
		x, y := a.GPerL[a.Class].Value, b.GPerL[b.Class].Value
		return a.Addition == b.Addition && math.Abs(x-y) <= sameTrialDose*max(x, y) && sameDays(a.InDays, b.InDays)
	})
}

// lookAt fills in a trial as it was at a moment.
func (k *book) lookAt(t *Trial, l Ledger, m trials.Material, o look) error {
	t.Ledger, t.tastings = l, o.named
	t.Last = l.Steps[k.describes(l, o.beer)].Result
	class, largest := trials.ClassIndex(m), 0.0
	uses := k.uses(l)
	for _, d := range o.doses {
		t.Control = false
		t.AsWeighed += d.AsWeighed
		t.Effective = plus(t.Effective, d.GPerL[class])
		if d.MassG > largest {
			largest, t.Method, t.InDays = d.MassG, d.Method, d.InDays
		}
		u := uses[d.Addition]
		atOut, err := k.atOut(l, o, d, &u)
		if err != nil {
			return err
		}
		t.AtOut = plus(t.AtOut, atOut.GPerL[class])
		t.Uses = append(t.Uses, u)
	}
	t.events(k.Notebook, l, m, o.step)
	return nil
}

// describes is the last step that tells of the beer of step i: a reading made later
// does, until something else goes in, or it has fermented on since it was last read.
func (k *book) describes(l Ledger, i int) int {
	read := slices.ContainsFunc(l.Steps[:i+1], func(s ledgerStep) bool { return s.Reading != nil && s.Reading.SG != nil })
	then := l.Steps[i].State().GravitySG.Value
	for j := i + 1; j < len(l.Steps); j++ {
		s := l.Steps[j]
		if s.Kind == EventAddition || s.Kind == EventConditioned ||
			read && then-s.State().GravitySG.Value > 2*k.limits.gravity {
			break
		}
		i = j
	}
	return i
}

// atOut is a dose as it is once its plant has come out, in as much beer as there was at
// the look. Of one that is still in, the last tasting stands for that, or a week where
// there was none: a dose may not move with the day on which one looks.
func (k *book) atOut(l Ledger, o look, d Dose, u *Use) (Dose, error) {
	i := slices.IndexFunc(l.dosed, func(x dosed) bool { return x.addition == d.Addition })
	if l.dosed[i].plant == nil {
		return d, nil
	}
	end := k.endOf(*l.dosed[i].plant)
	u.OutAt = &end
	return k.doseOf(l.dosed[i], l.Steps[o.step].Result.DosesGPerL[i], end)
}

// plainContact is the time in the beer that is taken where nothing tells one.
const plainContact = 7 * 24 * time.Hour

// endOf is when a plant came out or was left behind, else when the beer was last tasted
// with it, else a week after it went in.
func (k *book) endOf(a trials.Addition) time.Time {
	if out, is := a.TakenOut(); is {
		return out
	}
	if p, is := k.Packaged(a.BatchID); is {
		return p.At
	}
	end := a.At
	for _, t := range k.tastingsOf(a.BatchID) {
		if !t.At.After(k.Now) {
			end = later(end, t.At)
		}
	}
	if end.Equal(a.At) {
		return a.At.Add(plainContact)
	}
	return end
}

// uses are the additions of a ledger by their names.
func (k *book) uses(l Ledger) map[string]Use {
	by := map[string]Use{}
	for _, s := range l.Steps {
		if s.Kind != EventAddition {
			continue
		}
		u := Use{Addition: *s.Addition}
		if id := s.Addition.ExtractID; id != nil {
			if x, ok := k.ExtractByID(*id); ok {
				u.Extract = &x
			}
		}
		by[s.Addition.Name] = u
	}
	return by
}

// sameDays reports whether two times in the beer are the same, or neither is one.
func sameDays(a, b *float64) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}

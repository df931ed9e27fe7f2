package main

import (
	"slices"
	"time"

	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"

	"github.com/spf13/cobra"
)

// closing is what is said at the end of a tasting, as typed.
type closing struct {
	unused []string // codes of droppers that nobody used
	beer   string   // that the glasses took
}

// beerFlag adds what both commands that end an evening of dosing to taste ask for.
func (o *closing) beerFlag(c *cobra.Command) {
	c.Flags().StringVar(&o.beer, "beer", "",
		"dosing to taste: beer that the glasses took, none where it was not of the batch; by the notes if left out")
}

// dropperUse are the records that the end of an evening of dosing to taste leaves: the beer
// that went into the glasses as a loss, and its plan as carried out. The extract in the
// droppers follows from the evening itself.
type dropperUse struct {
	loss *trials.Loss // nil where none is logged
	plan *trials.Plan // nil where there is none, or it was carried out already
}

// records lists what is to be written.
func (u dropperUse) records() []any {
	var list []any
	if u.loss != nil {
		list = append(list, u.loss)
	}
	if u.plan != nil {
		list = append(list, u.plan)
	}
	return list
}

// useOf works out what a tasting that ends took; nothing of one that was not dosed to taste.
func (e *env) useOf(n *trials.Notebook, t trials.Tasting, o closing) (u dropperUse, err error) {
	s, drops := n.ToTasteOf(t.ID)
	switch {
	case !drops && o.beer != "":
		return u, trials.Refuse("leave --beer out", "tasting %s is not dosed to taste: its glasses are not counted", t.Name)
	case !drops:
		return u, nil
	}
	// what is told of an evening that was planned for later was done by now
	at := t.At
	if now := e.now().UTC(); at.After(now) {
		at = now
	}
	for _, p := range n.Plans {
		if p.TastingID != nil && *p.TastingID == t.ID && p.DoneAt == nil {
			p.DoneAt = &at
			u.plan = &p
		}
	}
	if err := checkDroppersFilled(n, t, s); err != nil {
		return u, err
	}
	u.loss, err = e.glassesLost(n, t, s, at, o.beer)
	return u, err
}

// glassesLost is the beer of the glasses as a loss of its batch; nil for none. What was
// reckoned and the account cannot hold is not logged, and said so: an evening that was held
// must come to its end.
func (e *env) glassesLost(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, at time.Time,
	typed string) (*trials.Loss, error) {
	a := e.amounts()
	litres := s.BeerOf(n.DosingsOf(t.ID))
	a.must(&litres, "beer", typed, noneOr(a.volume))
	b, ok := n.BatchByID(s.BatchID)
	if a.err != nil || !ok || litres == 0 {
		return nil, a.err
	}
	l := trials.Loss{Record: trials.Record{ID: trials.NewID()}, BatchID: b.ID, At: at, VolumeL: trials.Tidy(litres),
		Kind: trials.LossSample, Note: "glasses of " + t.Name}
	l.Name = eventName(b.Name, "l", names(n.Losses, func(l trials.Loss) string { return l.Name }))
	err := n.CheckTime(b, "loss", at, false)
	if err == nil {
		err = ledger.CheckAccount(n.With(l), n, b)
	}
	switch {
	case err != nil && typed == "":
		e.remark("the %s of the glasses are not taken off %s: %v", wording.VolumeText(litres, e.style()), b.Name, err)
		return nil, nil
	case err != nil:
		return nil, trials.Refuse("write how much the glasses took of "+b.Name+"; none where they took of another beer",
			"--beer: %q cannot have come out of %s: %v", typed, b.Name, err)
	}
	return &l, nil
}

// checkDroppersFilled refuses the end of an evening where what its droppers took was poured
// elsewhere by what is logged.
func checkDroppersFilled(n *trials.Notebook, t trials.Tasting, s trials.ToTaste) error {
	x, ok := n.ExtractByID(s.ExtractID)
	if !ok {
		return nil
	}
	after := *n
	after.Tastings = slices.Clone(n.Tastings)
	for i := range after.Tastings {
		if after.Tastings[i].ID == t.ID {
			closed := n.Now
			after.Tastings[i].ClosedAt = &closed
		}
	}
	return ledger.CheckPoured(&after, n, x)
}

// sayUse says what the end of an evening wrote beside it.
func (e *env) sayUse(n *trials.Notebook, u dropperUse) {
	if u.loss == nil {
		return
	}
	b, _ := n.BatchByID(u.loss.BatchID)
	e.remark("logged %s: %s of %s went into the glasses; hedgerow batch edit %s --volume .. corrects it", u.loss.Name,
		wording.VolumeText(u.loss.VolumeL, e.style()), b.Name, u.loss.Name)
}

package ledger

import (
	"fmt"
	"slices"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/steeps"
)

// dosedGlass is one glass that was dosed to taste, with the effective doses that its noted
// steps come to, in the solute class of its set.
type dosedGlass struct {
	Tasting    trials.Tasting // the evening
	Taster     string         // name of the taster
	Used       bool           // with the very extract that goes into the beer
	Method     string         // how the extract was made
	Direction  string         // up or down
	StepFactor float64        // from one step to the next
	// The doses of the steps, nil for one that was not noted.
	RightGPerL   *float64 // where it was right for the first time
	PastGPerL    *float64 // where it was too much, or going down too little, for the first time
	StoppedGPerL *float64 // the last that was tasted
}

// TasteGlass is a kind of glass of an evening: all that are dosed from a dropper of one
// strength in one direction are alike.
type TasteGlass struct {
	Evening   trials.ToTaste // its steps
	At        time.Time      // when it is tasted
	Strength  int            // of the dropper
	Direction string         // up or down
}

// TasteDoses are the effective doses of a solute class in a glass after each of its steps.
func TasteDoses(n *trials.Notebook, g TasteGlass, class int) ([]float64, error) {
	k, err := newBook(n, steeps.BestValues)
	if err != nil {
		return nil, err
	}
	set, laid, err := k.withGlasses([]TasteGlass{g})
	if err != nil {
		return nil, err
	}
	return set.dosesIn(laid[0], class)
}

// laidGlass is a glass as if it were logged: a child of its beer, with what went in and
// out at each step. It is in no notebook; its doses come from its ledger like any other.
type laidGlass struct {
	batch trials.Batch
	key   string      // of the material
	ends  []time.Time // when each step was ready to be tasted
}

// glassScale lays a glass out a thousand times smaller than it is: its doses are the same,
// and the jug is as good as full for each of the glasses that pour from it at once.
const glassScale = 1e-3

// withGlasses returns the book with glasses laid out in it.
func (k *book) withGlasses(list []TasteGlass) (*book, []laidGlass, error) {
	with := *k.Notebook
	// cut to their capacity, so that append copies and the lists of the notebook stay as they are
	with.Batches, with.Additions, with.Losses = slices.Clip(with.Batches), slices.Clip(with.Additions),
		slices.Clip(with.Losses)
	// what the droppers took in all is not what one glass gets, and a jug that they emptied still filled them
	with.ToTastes = nil
	laid := make([]laidGlass, len(list))
	for i, g := range list {
		base, ok := k.BatchByID(g.Evening.BatchID)
		if !ok {
			return nil, nil, trials.Refuse("see hedgerow check", "the beer that was dosed to taste is not in the notebook")
		}
		x, ok := k.ExtractByID(g.Evening.ExtractID)
		if !ok {
			return nil, nil, trials.Refuse("see hedgerow check", "the extract that was dosed to taste is not in the notebook")
		}
		laid[i] = lay(&with, fmt.Sprintf("glass %d", i+1), base, x, g)
	}
	in := *k
	// a steeper of its own: the one in hand knows the pours of the notebook alone
	in.history, in.steeper = newHistory(with.Index()), nil
	return in.in(steeps.BestValues), laid, nil
}

// dosesIn are the doses in a glass after each step.
func (k *book) dosesIn(g laidGlass, class int) ([]float64, error) {
	l, err := k.ledger(g.batch)
	if err != nil {
		return nil, err
	}
	doses := make([]float64, len(g.ends))
	for i, end := range g.ends {
		now, err := k.dosesAt(l, l.placeOf(end), end)
		if err != nil {
			return nil, err
		}
		for _, d := range ofMaterial(now, g.key) {
			doses[i] += d.GPerL[class].Value
		}
	}
	return doses, nil
}

// lay puts a glass into a notebook.
func lay(n *trials.Notebook, name string, base trials.Batch, x trials.Extract, g TasteGlass) laidGlass {
	s := g.Evening
	out := laidGlass{key: x.MaterialKey, batch: trials.Batch{Record: trials.Record{ID: name, Name: name, CreatedAt: n.Now},
		ParentID: &base.ID, Kind: trials.KindGlass, StartedAt: g.At, VolumeL: glassScale * s.GlassL}}
	n.Batches = append(n.Batches, out.batch)
	clock := g.At
	record := func() trials.Record {
		clock = clock.Add(time.Second)
		id := fmt.Sprintf("%s.%d", name, len(n.Additions)+len(n.Losses)+1)
		// made now: a pass that was logged before it had ended before it
		return trials.Record{ID: id, Name: id, CreatedAt: n.Now}
	}
	drop := func(litres float64) {
		for _, a := range dropped(x, s.InDropper(g.Strength), glassScale*litres) {
			a.Record, a.BatchID, a.Stage = record(), name, trials.StageGlass
			a.At = clock // after record, which moves it
			n.Additions = append(n.Additions, a)
		}
		out.ends = append(out.ends, clock)
	}
	drink := func(litres float64) {
		l := trials.Loss{Record: record(), BatchID: name, Kind: trials.LossSample, VolumeL: glassScale * litres}
		l.At = clock
		n.Losses = append(n.Losses, l)
	}
	if g.Direction == trials.DirectionUp {
		for _, litres := range s.UpL {
			drop(litres)
			drink(s.SipL)
		}
		return out
	}
	drop(s.DownL)
	for range s.DownSteps - 1 {
		drink(s.FillL)
		beer := filledUp(glassScale * s.FillL)
		beer.Record, beer.BatchID, beer.Stage = record(), name, trials.StageGlass
		beer.At = clock
		n.Additions = append(n.Additions, beer)
		out.ends = append(out.ends, clock)
	}
	return out
}

// dropped is what goes in from a dropper: extract, and what it was thinned with.
func dropped(x trials.Extract, share, litres float64) []trials.Addition {
	poured := share * litres
	list := []trials.Addition{{ExtractID: &x.ID, PouredL: &poured}}
	if rest := litres - poured; rest > 0 {
		thin := trials.Addition{LiquidKind: "water", VolumeL: &rest}
		if x.SpiritPct != nil {
			thin.LiquidKind, thin.StrengthPct = "spirit", x.SpiritPct
		}
		list = append(list, thin)
	}
	return list
}

// filledUp is more of the beer, taken for water: a dose is by volume, and water and beer
// give the volume that they have to within 0.1 %.
func filledUp(litres float64) trials.Addition {
	return trials.Addition{LiquidKind: "water", VolumeL: &litres}
}

// evening is one evening of dosing to taste with a material.
type evening struct {
	trials.ToTaste
	tasting trials.Tasting
	extract trials.Extract
}

// eveningsWith are the evenings on which the material was dosed to taste, in order of time.
func (g *gatherer) eveningsWith(key string) []evening {
	var list []evening
	for _, t := range g.Tastings {
		s, ok := g.ToTasteOf(t.ID)
		if !ok {
			continue
		}
		if x, known := g.ExtractByID(s.ExtractID); known && x.MaterialKey == key {
			list = append(list, evening{s, t, x})
		}
	}
	slices.SortFunc(list, func(a, b evening) int { return compareTastings(a.tasting, b.tasting) })
	return list
}

// dosed adds what was noted on the evenings of dosing to taste, and the evenings
// themselves to the tastings of the set. Other brewers' evenings say little of what this
// panel would call right.
func (g *gatherer) dosed(s *TrialSet) error {
	var list []evening
	for _, v := range g.eveningsWith(s.Material.Key) {
		base, _ := g.BatchByID(v.BatchID)
		switch {
		case base.Brewer != "":
			s.Others, s.OthersDosed = append(s.Others, v.tasting.Name), append(s.OthersDosed, v.tasting.Name)
		case g.Root(base).OG == nil:
			s.NoLedger = append(s.NoLedger, base.Name)
		case g.told(s, v.tasting):
			list = append(list, v)
		}
	}
	return g.dosedOn(s, list)
}

// dosedOn adds the glasses of evenings, each kind of glass being worked out once.
func (g *gatherer) dosedOn(s *TrialSet, list []evening) error {
	type kind struct {
		tasting, direction string
		strength           int
	}
	places := map[kind]int{}
	var glasses []TasteGlass
	type noted struct {
		evening
		trials.Dosing
		kind kind
	}
	var rows []noted
	for _, v := range list {
		strengths := map[string]int{}
		for _, d := range g.DroppersOf(v.tasting.ID) {
			strengths[d.ID] = d.Strength
		}
		for _, d := range g.DosingsOf(v.tasting.ID) {
			if !d.Noted() {
				continue
			}
			k := kind{v.tasting.ID, d.Direction, strengths[d.DropperID]}
			if _, known := places[k]; !known {
				places[k] = len(glasses)
				glasses = append(glasses, TasteGlass{v.ToTaste, v.tasting.At, k.strength, k.direction})
			}
			rows = append(rows, noted{v, d, k})
		}
	}
	if len(rows) == 0 {
		return nil
	}
	book, laid, err := g.withGlasses(glasses)
	if err != nil {
		return err
	}
	doses := make([][]float64, len(laid))
	for i := range laid {
		if doses[i], err = book.dosesIn(laid[i], s.Class); err != nil {
			return err
		}
	}
	for _, r := range rows {
		at := func(step *int) *float64 {
			if step == nil {
				return nil
			}
			return &doses[places[r.kind]][*step-1]
		}
		s.Dosed = append(s.Dosed, dosedGlass{Tasting: r.tasting, Taster: g.TasterName(r.TasterID), Used: r.Used,
			Method: r.extract.Method, Direction: r.Direction, StepFactor: r.StepFactor,
			RightGPerL: at(r.Right), PastGPerL: at(r.Past), StoppedGPerL: at(r.Stopped)})
	}
	return nil
}

// ClassFor is the solute class in which the doses of a material are counted for an
// attribute.
func ClassFor(n *trials.Notebook, key, attribute string) (int, error) {
	m, err := n.Material(key)
	if err != nil {
		return 0, err
	}
	if class := trials.FamilyOf(attribute); class != "" {
		m.Class = class
	}
	return trials.ClassIndex(m), nil
}

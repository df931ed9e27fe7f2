package steeps

import (
	"cmp"
	"slices"

	"hedgerow/trials"
)

// Jug is an extract from its making on: what was poured off it, when it was
// topped up, and what is left.
type Jug struct {
	MadeL float64 // liquid that came out of the passes, litres at 20 C
	Pours []Pour  // in time order
	LeftL float64 // liquid left now, litres
	Share float64 // of all that the extract carried, still in the jug
	halfL float64 // half-width of MadeL
	pouredL,
	addedL float64
}

// Pour is one addition of some of an extract.
type Pour struct {
	Addition trials.Addition // that poured it
	Batch    string          // name of the batch
	VolumeL  float64         // liquid poured
	Share    float64         // of all that the extract carried
	// Strength is how strong the liquid was beside the extract as made: 1 without
	// a top-up.
	Strength float64
	// Problem says that so much was not there; nil when it was.
	Problem error
}

// follow is JugOf with an index.
func follow(index *trials.Index, x trials.Extract, y Yield) Jug {
	j := Jug{MadeL: y.LiquidL, LeftL: y.LiquidL, Share: 1, halfL: y.LiquidHalfL}
	topUps := slices.Clone(x.TopUps)
	slices.SortStableFunc(topUps, func(a, b trials.TopUp) int { return a.At.Compare(b.At) })
	for _, a := range poursOf(index, x) {
		for len(topUps) > 0 && !topUps[0].At.After(a.At) {
			j.topUp(topUps[0])
			topUps = topUps[1:]
		}
		b, _ := index.BatchByID(a.BatchID)
		j.pour(x, a, b.Name)
	}
	for _, t := range topUps {
		j.topUp(t)
	}
	return j
}

// Check returns the first problem with a pour, nil if all that was poured was
// there.
func (j Jug) Check() error {
	for _, p := range j.Pours {
		if p.Problem != nil {
			return p.Problem
		}
	}
	return nil
}

// poursOf returns the additions that poured an extract, in time order.
func poursOf(index *trials.Index, x trials.Extract) []trials.Addition {
	list := slices.Clone(index.PoursOf(x.ID))
	slices.SortFunc(list, func(a, b trials.Addition) int {
		return cmp.Or(a.At.Compare(b.At), a.CreatedAt.Compare(b.CreatedAt), cmp.Compare(a.Name, b.Name))
	})
	return list
}

// topUp adds water.
func (j *Jug) topUp(t trials.TopUp) {
	j.LeftL += t.VolumeL
	j.addedL += t.VolumeL
}

// pour takes liquid off.
func (j *Jug) pour(x trials.Extract, a trials.Addition, batch string) {
	poured := j.LeftL
	if a.PouredL != nil {
		poured = *a.PouredL
	}
	p := Pour{Addition: a, Batch: batch, VolumeL: poured, Share: j.Share, Strength: j.strength()}
	// A jug is read to a few mL: the last of it must not fail on digits.
	if slack := j.halfL + 0.001*j.MadeL; poured > j.LeftL+slack || j.Share <= 0 && j.pouredL > 0 {
		p.Problem = j.tooMuch(x, poured)
	}
	if poured < j.LeftL {
		p.Share *= poured / j.LeftL
	}
	j.Share -= p.Share
	j.LeftL = max(j.LeftL-poured, 0)
	j.pouredL += poured
	if j.LeftL == 0 {
		j.Share = 0
	}
	j.Pours = append(j.Pours, p)
}

// strength is how strong the liquid in the jug is beside the extract as made.
func (j *Jug) strength() float64 {
	if j.LeftL <= 0 || j.MadeL <= 0 {
		return 1
	}
	return j.Share * j.MadeL / j.LeftL
}

// Strength returns how strong what is left in the jug is beside the extract as
// made: 1 without a top-up.
func (j Jug) Strength() float64 { return j.strength() }

// tooMuch says what is left of an extract.
func (j *Jug) tooMuch(x trials.Extract, poured float64) error {
	const hint = "correct the poured volume or the passes, or log a top-up: hedgerow extract top-up "
	switch {
	case j.Share <= 0 || j.LeftL <= 0:
		return trials.Refuse(hint+x.Name+" 200mL", "nothing is left of %s: %s L of %s L were poured before", x.Name,
			litres(j.pouredL), litres(j.MadeL+j.addedL))
	case j.pouredL > 0:
		return trials.Refuse(hint+x.Name+" 200mL",
			"%s L were poured, but of %s only %s L are left: %s L of %s L were poured before",
			litres(poured), x.Name, litres(j.LeftL), litres(j.pouredL), litres(j.MadeL+j.addedL))
	}
	return trials.Refuse(hint+x.Name+" 200mL", "%s L were poured, but the extract gave only %s L", litres(poured),
		litres(j.LeftL))
}

// litres prints a volume to the millilitre.
func litres(v float64) string { return trials.Number(float64(int(v*1000+0.5)) / 1000) }

// Of returns the pour of one addition.
func (j Jug) Of(additionID string) (Pour, bool) {
	i := slices.IndexFunc(j.Pours, func(p Pour) bool { return p.Addition.ID == additionID })
	if i < 0 {
		return Pour{}, false
	}
	return j.Pours[i], true
}

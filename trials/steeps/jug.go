package steeps

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// Jug is an extract from its making on: what its passes gave, when it was topped
// up, what was poured off it, and what is left.
type Jug struct {
	Lines  []JugLine // its history, in order of time
	Pours  []Pour    // the pours among the lines
	DropsL float64   // of it, filled into droppers on evenings that are over
	LeftL  float64   // liquid left now, litres
	// LeftG is what the rest carries of the class that counts, grams of fully
	// extracted, as-dried material.
	LeftG float64
	rest  float64 // strength of what is left
}

// Pour is one addition of some of an extract.
type Pour struct {
	Addition trials.Addition // that poured it
	Batch    string          // name of the batch
	VolumeL  float64         // liquid poured
	Grams    float64         // that it carried, of the class that counts
	Share    float64         // of all that the passes before it gave
	// Strength is how strong the liquid was beside the extract as made: 1 without
	// a top-up.
	Strength float64
	// Yield is what was poured, as the yield of the passes that had ended by then.
	Yield Yield
	// Problem says that so much was not there; nil when it was.
	Problem error
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

// Of returns the pour of one addition.
func (j Jug) Of(additionID string) (Pour, bool) {
	i := slices.IndexFunc(j.Pours, func(p Pour) bool { return p.Addition.ID == additionID })
	if i < 0 {
		return Pour{}, false
	}
	return j.Pours[i], true
}

// Strength returns how strong what is left in the jug is beside the extract as
// made: 1 without a top-up.
func (j Jug) Strength() float64 { return j.rest }

// Changes says for each pour of before that carries something else in j by how much
// it changed, one sentence each.
func (j Jug) Changes(before Jug) []string {
	var list []string
	for _, old := range before.Pours {
		p, ok := j.Of(old.Addition.ID)
		// a carried amount that went through other sums differs by a rounding
		if !ok || old.Problem != nil || p.Problem != nil || math.Abs(p.Grams-old.Grams) <= 1e-6*max(old.Grams, p.Grams) {
			continue
		}
		list = append(list, fmt.Sprintf("this changes what was poured as %s: %s -> %s g of fully extracted dried material",
			old.Addition.Name, trials.Number(trials.Round3(old.Grams)), trials.Number(trials.Round3(p.Grams))))
	}
	return list
}

// poursOf returns the additions that poured an extract, in time order.
func poursOf(index *trials.Index, x trials.Extract) []trials.Addition {
	list := slices.Clone(index.PoursOf(x.ID))
	slices.SortFunc(list, func(a, b trials.Addition) int {
		// a10 comes after a9
		return cmp.Or(a.At.Compare(b.At), a.CreatedAt.Compare(b.CreatedAt), cmp.Compare(len(a.Name), len(b.Name)),
			cmp.Compare(a.Name, b.Name))
	})
	return list
}

// jug follows an extract that gives y in all.
func (s *Steeper) jug(x trials.Extract, y Yield) (Jug, error) {
	pours := poursOf(s.index, x)
	filled := s.index.FilledFrom(x.ID)
	ends := passEnds(x, takings(pours, filled))
	yields, err := s.stages(x, y, ends, pours)
	if err != nil {
		return Jug{}, err
	}
	events := passEvents(yields, ends)
	topUps := slices.Clone(x.TopUps)
	// by amount, since the order of records must not decide
	slices.SortFunc(topUps, func(a, b trials.TopUp) int {
		return cmp.Or(cmp.Compare(a.VolumeL, b.VolumeL), cmp.Compare(a.ID, b.ID))
	})
	for _, t := range topUps {
		events = append(events, JugEvent{Name: "top-up", At: t.At, Kind: JugTopUp, VolumeL: t.VolumeL})
	}
	for _, a := range pours {
		e := JugEvent{Name: a.Name, At: a.At, Kind: JugPour, All: a.PouredL == nil}
		if !e.All {
			e.VolumeL = *a.PouredL
		}
		events = append(events, e)
	}
	for _, f := range filled {
		e := JugEvent{Name: f.Tasting.Name, At: f.Tasting.At, Kind: JugDrops, VolumeL: f.ExtractL}
		if e.At.Before(ends[0]) {
			e.At = ends[0]
		}
		events = append(events, e)
	}
	return s.told(FollowJug(x.Name, events), pours, yields), nil
}

// stages returns what the first pass gives, the first two, and so on. They are
// worked out in full only where something was poured between passes: else the
// pours need but the last of them.
func (s *Steeper) stages(x trials.Extract, y Yield, ends []time.Time, pours []trials.Addition) ([]Yield, error) {
	yields := make([]Yield, len(x.Passes))
	yields[len(yields)-1] = y
	part := *s
	if len(pours) == 0 || !pours[0].At.Before(ends[len(ends)-1]) {
		part.detail = BestValues
	}
	passes := x.Passes
	for k := range len(yields) - 1 {
		x.Passes = passes[:k+1]
		var err error
		if yields[k], err = part.Extract(x); err != nil {
			return nil, err
		}
	}
	return yields, nil
}

// passEvents are the ends of the passes: each gave what the passes up to it give
// more than those before.
func passEvents(yields []Yield, ends []time.Time) []JugEvent {
	var events []JugEvent
	var before JugEvent
	for k, y := range yields {
		all := JugEvent{At: ends[k], VolumeL: y.LiquidL, HalfL: y.LiquidHalfL, SolidsG: y.SolidsGPerL * y.LiquidL}
		for c, g := range y.Grams {
			// A class that was not worked out for this pass counts with a later one.
			if all.Grams[c] = before.Grams[c]; g.OK {
				all.Grams[c] = max(g.Value, before.Grams[c])
			}
		}
		e := all
		e.Name = fmt.Sprint("pass ", k+1)
		e.VolumeL, e.SolidsG = max(all.VolumeL-before.VolumeL, 0), max(all.SolidsG-before.SolidsG, 0)
		for c := range e.Grams {
			e.Grams[c] -= before.Grams[c]
		}
		events = append(events, e)
		before = all
	}
	return events
}

// told is a jug with its pours, which stand among the lines in their own order,
// turned into records.
func (s *Steeper) told(lines []JugLine, pours []trials.Addition, yields []Yield) Jug {
	j := Jug{Lines: lines, rest: 1}
	ended, class := 0, yields[0].Class
	for _, l := range lines {
		switch l.Kind {
		case JugPass:
			ended++
		case JugDrops:
			j.DropsL += l.VolumeL
		case JugPour:
			a := pours[len(j.Pours)]
			b, _ := s.index.BatchByID(a.BatchID)
			p := Pour{Addition: a, Batch: b.Name, VolumeL: l.VolumeL, Grams: l.Grams[class], Strength: l.Strength,
				Share: l.Share, Problem: l.Problem}
			if ended > 0 {
				p.Yield, p.Share = yields[ended-1].poured(l)
			}
			j.Pours = append(j.Pours, p)
		}
		j.LeftL, j.LeftG, j.rest = l.LeftL, l.LeftG[class], l.Rest
	}
	return j
}

// poured is the yield of all passes that had ended before a pour, cut to what was
// poured, and the share of it that this is. The relative doubt of what was poured
// is that of all that had come out.
func (y Yield) poured(l JugLine) (Yield, float64) {
	share := func(c int) float64 {
		if all := y.Grams[c].Value; y.Grams[c].OK && all > 0 {
			return l.Grams[c] / all
		}
		return l.Share
	}
	of := share(y.Class)
	for c := range y.Grams {
		y.Grams[c] = scaled(y.Grams[c], share(c))
	}
	y.MassG *= of
	gPerL := 0.0
	if l.VolumeL > 0 {
		gPerL = l.SolidsG / l.VolumeL
	}
	if y.SolidsGPerL > 0 {
		y.SolidsHalf *= gPerL / y.SolidsGPerL
	}
	y.SolidsGPerL = gPerL
	if l.Warning != "" {
		y.Warnings = append(slices.Clone(y.Warnings), l.Warning)
	}
	return y, of
}

// scaled is a part of an amount.
func scaled(g figure.Estimate, share float64) figure.Estimate {
	g.Value, g.Low, g.High, g.U = g.Value*share, g.Low*share, g.High*share, g.U*share
	return g
}

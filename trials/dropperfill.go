package trials

import "math"

// filling is what an evening takes: of each dropper, of the extract and of the beer.
type filling struct {
	DropperL map[int]float64 // by strength, all glasses together and a little more
	ExtractL float64         // for both droppers
	BeerL    float64         // for all glasses
}

// FillingOf works out what the glasses of an evening take; glasses is how many are dosed
// from a dropper of a strength in a direction.
func (s ToTaste) FillingOf(glasses map[int]map[string]int) filling {
	f := filling{DropperL: map[int]float64{}}
	var up float64
	for _, l := range s.UpL {
		up += l
	}
	const more = 1.1 // some stays in the dropper (common practice, no source)
	for strength, by := range glasses {
		need := more * (float64(by[DirectionUp])*up + float64(by[DirectionDown])*s.DownL)
		f.DropperL[strength] = math.Ceil(1000*need-1e-9) / 1000
		f.ExtractL += f.DropperL[strength] * s.InDropper(strength)
		f.BeerL += float64(by[DirectionUp])*s.GlassL +
			float64(by[DirectionDown])*(s.GlassL+float64(s.DownSteps-1)*s.FillL)
	}
	return f
}

// Glasses counts the glasses of an evening by the strength of their dropper and by
// direction.
func (n *Notebook) Glasses(tastingID string) map[int]map[string]int {
	count := map[int]map[string]int{1: {}, 2: {}}
	strength := map[string]int{}
	for _, d := range n.DroppersOf(tastingID) {
		strength[d.ID] = d.Strength
	}
	for _, d := range n.DosingsOf(tastingID) {
		count[strength[d.DropperID]][d.Direction]++
	}
	return count
}

// DroppersFilled is what the droppers of an evening that is over took of its extract.
type DroppersFilled struct {
	Tasting  Tasting // the evening
	ExtractL float64 // that both droppers were filled with
}

// FilledFrom lists the evenings that are over on which droppers were filled from an
// extract. Before the end nothing counts as taken: the evening may not be held.
func (n *Notebook) FilledFrom(extractID string) []DroppersFilled {
	var list []DroppersFilled
	for _, s := range n.ToTastes {
		if s.ExtractID != extractID {
			continue
		}
		if t, ok := n.TastingByID(s.TastingID); ok && t.ClosedAt != nil {
			list = append(list, DroppersFilled{t, s.FillingOf(n.Glasses(s.TastingID)).ExtractL})
		}
	}
	return list
}

// BeerOf is the beer that went into the glasses that were noted: what each held, and in one
// that goes down what it was filled up with as far as it was tasted.
func (s ToTaste) BeerOf(list []Dosing) float64 {
	var sum float64
	for _, d := range list {
		if !d.Noted() {
			continue
		}
		sum += s.GlassL
		if d.Direction != DirectionDown {
			continue
		}
		sum += float64(*d.LastStep()-1) * s.FillL
	}
	return sum
}

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

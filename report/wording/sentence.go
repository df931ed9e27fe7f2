package wording

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// EventSentence says in plain words what happened.
func EventSentence(n *trials.Notebook, e ledger.Event, u quantity.Units) string {
	switch e.Kind {
	case ledger.EventStart:
		return "started: " + VolumeText(e.Batch.VolumeL, u) + originText(n, e.Batch, u)
	case ledger.EventChild:
		return "split off into " + e.Batch.Name + ": " + VolumeText(e.Batch.VolumeL, u)
	case ledger.EventSplit:
		return VolumeText(e.Child.VolumeL, u) + " split off into " + e.Child.Name
	case ledger.EventReading:
		return "read " + ReadingLine(n, *e.Reading, u)
	case ledger.EventAddition:
		return AdditionSentence(n, *e.Addition, u)
	case ledger.EventRemoval:
		return outSentence(*e.Addition, u)
	case ledger.EventLoss:
		return lossSentence(*e.Loss, u)
	case ledger.EventPackage:
		return WithNote("packaged", e.Package.Note)
	case ledger.EventConditioned:
		return "after conditioning (expected)"
	case ledger.EventTasting:
		return "tasted: " + e.Tasting.Name
	case ledger.EventNote:
		return e.Note.Text
	}
	return string(e.Kind)
}

// outSentence says how a plant came out.
func outSentence(a trials.Addition, u quantity.Units) string {
	// an event all the same: the plant takes beer with it when the rest is packaged
	if _, out := a.TakenOut(); !out && a.InWort() {
		return a.MaterialKey + " drained, or left in the kettle, with the wort it holds"
	}
	if _, out := a.TakenOut(); !out {
		return a.MaterialKey + " stays behind with the beer it holds"
	}
	text := a.MaterialKey + " taken out"
	if a.OutBy != "" {
		text += ", " + a.OutBy
	}
	if a.SpentG != nil {
		text += ", " + MassText(*a.SpentG, u) + " wet"
	}
	return text
}

// originText prints the original gravity as it was read, or nothing.
func originText(n *trials.Notebook, b trials.Batch, u quantity.Units) string {
	text := orNothing(" at OG ", b.OG)
	if text == "" {
		return ""
	}
	if b.OGSampleTempC != nil {
		text += " in a sample at " + TempText(*b.OGSampleTempC, u)
	}
	if b.OGMeterID != nil {
		text += meterText(n, *b.OGMeterID)
	}
	return text
}

// meterText names the instrument of a reading.
func meterText(n *trials.Notebook, id string) string {
	for _, m := range n.Meters {
		if m.ID == id {
			return ", with " + m.Name
		}
	}
	return ""
}

// orNothing prints a lead and a gravity, or nothing when it is not known.
func orNothing(lead string, sg *float64) string {
	if sg == nil {
		return ""
	}
	return lead + GravityText(*sg)
}

// lossSentence says what was lost.
func lossSentence(l trials.Loss, u quantity.Units) string {
	if l.Kind == trials.LossEvaporation {
		return WithNote(VolumeText(l.VolumeL, u)+" of water evaporated", l.Note)
	}
	return WithNote(VolumeText(l.VolumeL, u)+" lost ("+l.Kind+")", l.Note)
}

// WithNote appends a remark.
func WithNote(text, note string) string {
	if note == "" {
		return text
	}
	return text + "; " + note
}

// AdditionSentence says what went in: "40 g heather, cut, tea in 2 passes,
// squeezed; all of it poured".
func AdditionSentence(n *trials.Notebook, a trials.Addition, u quantity.Units) string {
	switch {
	case a.ExtractID != nil:
		x, ok := n.ExtractByID(*a.ExtractID)
		if !ok {
			return "an extract that is no longer there"
		}
		poured := "all of it poured in"
		if a.PouredL != nil {
			poured = VolumeText(*a.PouredL, u) + " of it poured in"
		}
		return WithNote(ExtractSentence(steeps.AsPoured(n, x, a), u)+"; "+poured, a.Note)
	case a.LiquidKind != "":
		return WithNote(liquidSentence(a, u), a.Note)
	}
	return WithNote(directSentence(a, u), a.Note)
}

// ExtractSentence says what an extract is: "40 g heather, cut, tea in 2 passes
// (400 mL 96 to 60 C 30 min drained; ...)".
func ExtractSentence(x trials.Extract, u quantity.Units) string {
	text := MassText(x.MassG, u) + " " + x.MaterialKey
	if x.Form != "" {
		text += ", " + x.Form
	}
	text += ", " + MethodWords(x)
	if len(x.Passes) == 1 {
		text += ": " + PassWords(x.Passes[0], u)
	}
	if len(x.Passes) > 1 {
		text += ", " + Separations(x)
	}
	return text
}

// MethodWords names the method and the number of passes.
func MethodWords(x trials.Extract) string {
	word := strings.ReplaceAll(x.Method, "cold-tea", "cold tea")
	if x.SpiritPct != nil {
		word += " in " + document.Fixed(*x.SpiritPct, 0) + " % spirit"
	}
	switch len(x.Passes) {
	case 0:
		return word + ", not steeped yet"
	case 1:
		return word
	}
	return fmt.Sprintf("%s in %d passes", word, len(x.Passes))
}

// Separations tells how the passes were parted: once if all alike.
func Separations(x trials.Extract) string {
	list := []string{x.Passes[0].Separation}
	same := true
	for _, p := range x.Passes[1:] {
		same = same && p.Separation == list[0]
		list = append(list, p.Separation)
	}
	if same {
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + ", then " + list[len(list)-1]
}

// PassWords is one pass in words.
func PassWords(p trials.Pass, u quantity.Units) string {
	temp := TempText(p.StartC, u)
	if p.EndC != nil {
		temp += " falling to " + TempText(*p.EndC, u)
		// cold water on a warm hob: "falling" would be wrong
		if *p.EndC > p.StartC {
			temp = TempText(p.StartC, u) + " rising to " + TempText(*p.EndC, u)
		}
	}
	parts := []string{VolumeText(p.VolumeL, u), temp, DurationText(p.Minutes)}
	if p.Agitation != "" {
		parts = append(parts, p.Agitation)
	}
	if p.InBag {
		parts = append(parts, "in a bag")
	}
	parts = append(parts, p.Separation)
	if p.RecoveredL != nil {
		parts = append(parts, VolumeText(*p.RecoveredL, u)+" came out")
	}
	if p.HeldL != nil {
		parts = append(parts, VolumeText(*p.HeldL, u)+" stayed in")
	}
	if p.TeaSG != nil {
		parts = append(parts, "read as "+document.Fixed(*p.TeaSG, 4))
	}
	if p.TeaBrix != nil {
		parts = append(parts, "read as "+document.Fixed(*p.TeaBrix, 1)+" Brix")
	}
	return strings.Join(parts, ", ")
}

// directSentence is a material put in itself.
func directSentence(a trials.Addition, u quantity.Units) string {
	text := MassText(*a.MassG, u) + " " + a.MaterialKey
	// some methods are called after the form, which would then be said twice
	if a.Form != "" && a.Form != a.Method {
		text += ", " + a.Form
	}
	switch a.Method {
	case trials.MethodBoil:
		text += ", boiled"
	case trials.MethodFlameOut:
		text += ", in the hot wort after the boil"
	case trials.MethodContact:
		text += ", in the fermenter"
	default:
		text += ", " + a.Method
	}
	if a.InBag {
		text += " in a bag"
	}
	text += kettleWords(a, u)
	switch {
	case a.OutAt != nil && !a.InWort():
		return text + " for " + DurationText(a.OutAt.Sub(a.At).Minutes())
	case a.Minutes != nil:
		return text + " for " + DurationText(*a.Minutes)
	case a.Method == trials.MethodContact:
		return text + ", left in"
	}
	return text
}

// kettleWords tell the wort that a plant went into, nothing where it was read
// afterwards.
func kettleWords(a trials.Addition, u quantity.Units) string {
	if a.BeforeBoilL == nil {
		return ""
	}
	text := " in " + VolumeText(*a.BeforeBoilL, u)
	if a.BoilOffL != nil {
		text += ", less " + VolumeText(*a.BoilOffL, u) + " boiled off"
	}
	return text + ","
}

// liquidSentence is a plain liquid or sugar.
func liquidSentence(a trials.Addition, u quantity.Units) string {
	var parts []string
	if a.LiquidMassG != nil {
		parts = append(parts, MassText(*a.LiquidMassG, u)+" "+a.LiquidKind)
	} else {
		parts = append(parts, VolumeText(*a.VolumeL, u)+" "+a.LiquidKind)
	}
	if a.StrengthPct != nil {
		parts = append(parts, document.Fixed(*a.StrengthPct, 0)+" % vol")
	}
	if a.SolidsGPerL != nil {
		parts = append(parts, document.Significant(*a.SolidsGPerL, 2)+" g/L dissolved")
	}
	if a.Plato != nil {
		parts = append(parts, document.Significant(*a.Plato, 3)+" P")
	}
	if a.LiquidOG != nil && a.LiquidSG != nil {
		parts = append(parts, "OG "+GravityText(*a.LiquidOG)+", FG "+GravityText(*a.LiquidSG))
	}
	if a.VolumeTempC != nil {
		parts = append(parts, "measured at "+TempText(*a.VolumeTempC, u))
	}
	return strings.Join(parts, ", ")
}

package standing

import (
	"fmt"
	"math"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// recipeStep is a step of a recipe as --json prints it.
type recipeStep struct {
	Day      float64          `json:"day"`      // since the brew began
	What     string           `json:"what"`     // in words
	Addition *trials.Addition `json:"addition"` // its amounts, scaled; null for other steps
	Extract  *trials.Extract  `json:"extract"`  // what is made for it, scaled; null for none
}

// recipePayload is what --json prints.
type recipePayload struct {
	Batch    string       `json:"batch"`    // what was done
	VolumeL  float64      `json:"volume_l"` // it is made for
	DoneL    float64      `json:"done_l"`   // it was done with
	OG       *float64     `json:"og"`       // of the brew
	FG       *float64     `json:"fg"`       // expected of it, or read last
	IBU      *float64     `json:"ibu"`
	SRM      *float64     `json:"srm"`
	Steps    []recipeStep `json:"steps"`
	Warnings []string     `json:"warnings"`
}

// cookingFactor is from where a steep of another size cools otherwise than the one that
// was done (judgement).
const cookingFactor = 1.5

// Recipe tells what was done with a batch as a recipe for a volume; 0 for the volume it
// was done with. What went into an ancestor counts by the share of it that became this
// batch. Losses are no part of it.
func Recipe(n *trials.Notebook, b trials.Batch, volumeL float64, u quantity.Units) document.View {
	if volumeL == 0 {
		volumeL = b.VolumeL
	}
	root := n.Index().Root(b)
	p := recipePayload{Batch: b.Name, VolumeL: volumeL, DoneL: b.VolumeL, OG: root.OG, FG: root.FG, IBU: root.IBU,
		SRM: root.SRM, Steps: []recipeStep{}, Warnings: []string{}}
	p.add(0, recipeStep{What: brewText(root, volumeL, u)})
	made := map[string]bool{}
	for _, e := range ledger.Events(n, b) {
		day := e.At.Sub(root.StartedAt).Hours() / 24
		switch e.Kind {
		case ledger.EventAddition:
			p.addition(n, day, *e.Addition, volumeL/e.Batch.VolumeL, made, u)
		case ledger.EventRemoval:
			p.add(day, recipeStep{What: "take the " + e.Addition.MaterialKey + " out" + outText(*e.Addition)})
		case ledger.EventReading:
			p.add(day, recipeStep{What: "it read " + wording.ReadingLine(n, *e.Reading, u)})
			if e.Reading.SG != nil {
				p.FG = e.Reading.SG
			}
		case ledger.EventPackage:
			p.add(day, recipeStep{What: "package"})
		case ledger.EventNote:
			p.add(day, recipeStep{What: "noted: " + e.Note.Text})
		}
	}
	if volumeL > cookingFactor*b.VolumeL || volumeL < b.VolumeL/cookingFactor {
		p.Warnings = append(p.Warnings, "a steep of another size cools at another pace: log its own temperatures")
	}
	return document.View{Document: recipeDocument(p, u), Payload: p}
}

// add appends a step.
func (p *recipePayload) add(day float64, s recipeStep) {
	s.Day = day
	p.Steps = append(p.Steps, s)
}

// brewText says which beer it starts from.
func brewText(root trials.Batch, volumeL float64, u quantity.Units) string {
	parts := []string{"brew " + wording.VolumeText(round3(volumeL), u)}
	if root.Style != "" {
		parts[0] += " of " + root.Style
	}
	if root.OG != nil {
		parts = append(parts, "OG "+document.Fixed(*root.OG, 3))
	}
	if root.FG != nil {
		parts = append(parts, "expected FG "+document.Fixed(*root.FG, 3))
	}
	if root.IBU != nil {
		parts = append(parts, document.Fixed(*root.IBU, 0)+" IBU")
	}
	if root.SRM != nil {
		parts = append(parts, document.Fixed(*root.SRM, 0)+" SRM")
	}
	return strings.Join(parts, ", ")
}

// outText says how a plant was taken out.
func outText(a trials.Addition) string {
	if a.OutBy == "" {
		return ""
	}
	return ", " + a.OutBy
}

// addition appends an addition scaled by a factor, with the extract that is made for it
// the first time it is poured.
func (p *recipePayload) addition(n *trials.Notebook, day float64, a trials.Addition, factor float64,
	made map[string]bool, u quantity.Units) {
	a = scaledAddition(a, factor)
	s := recipeStep{Addition: &a}
	if a.ExtractID == nil {
		s.What = "add " + wording.AdditionSentence(n, a, u)
		p.add(day, s)
		return
	}
	x, ok := n.ExtractByID(*a.ExtractID)
	if !ok {
		return
	}
	x = scaledExtract(x, factor)
	if !made[x.ID] {
		made[x.ID] = true
		p.add(day, recipeStep{What: "make " + x.MaterialKey + " " + x.Method + ": " + steepText(x, u), Extract: &x})
	}
	s.What = "pour in all of it"
	if a.PouredL != nil {
		s.What = "pour in " + wording.VolumeText(*a.PouredL, u) + " of the " + x.MaterialKey + " " + x.Method
	}
	p.add(day, s)
}

// steepText tells a steep pass by pass.
func steepText(x trials.Extract, u quantity.Units) string {
	parts := []string{wording.MassText(x.MassG, u)}
	if x.Form != "" {
		parts[0] += ", " + x.Form
	}
	if x.SpiritPct != nil {
		parts = append(parts, "in spirit of "+trials.Number(*x.SpiritPct)+" % vol")
	}
	for i, pass := range x.Passes {
		text := wording.PassWords(pass, u)
		if len(x.Passes) > 1 {
			text = fmt.Sprintf("pass %d: %s", i+1, text)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// round3 keeps three significant digits: no scale or jug shows more.
func round3(v float64) float64 { return trials.Round3(v) }

// scaledAmount scales an amount that may be missing.
func scaledAmount(v *float64, factor float64) *float64 {
	if v == nil {
		return nil
	}
	s := round3(*v * factor)
	return &s
}

// scaledAddition scales every amount of an addition.
func scaledAddition(a trials.Addition, factor float64) trials.Addition {
	for _, v := range []**float64{&a.MassG, &a.BoilOffL, &a.BeforeBoilL, &a.SpentG, &a.PouredL, &a.VolumeL, &a.LiquidMassG,
		&a.VolumeLimitL} {
		*v = scaledAmount(*v, factor)
	}
	return a
}

// scaledExtract scales every amount of an extract. What was measured of it belongs to
// the steep that was done, so it goes.
func scaledExtract(x trials.Extract, factor float64) trials.Extract {
	x.MassG = round3(x.MassG * factor)
	passes := make([]trials.Pass, len(x.Passes))
	for i, p := range x.Passes {
		p.VolumeL = round3(p.VolumeL * factor)
		p.RecoveredL, p.HeldL, p.SpentG, p.TeaSG, p.TeaBrix, p.TeaPH = nil, nil, nil, nil, nil, nil
		passes[i] = p
	}
	x.Passes = passes
	tops := make([]trials.TopUp, len(x.TopUps))
	for i, w := range x.TopUps {
		w.VolumeL = round3(w.VolumeL * factor)
		tops[i] = w
	}
	x.TopUps = tops
	return x
}

// recipeDocument is the recipe as text.
func recipeDocument(p recipePayload, u quantity.Units) document.Document {
	title := "Recipe of " + p.Batch + ", for " + wording.VolumeText(round3(p.VolumeL), u)
	t := document.Table{Columns: []document.Column{{Title: "day", Right: true}, {Title: "what to do", Wrap: true}}}
	for _, s := range p.Steps {
		t.Rows = append(t.Rows, []string{dayText(s.Day), document.Capital(s.What)})
	}
	sec := document.Section{Table: &t}
	if math.Abs(p.VolumeL/p.DoneL-1) > 0.001 {
		sec.Paragraphs = []string{"Scaled from the " + wording.VolumeText(round3(p.DoneL), u) + " that were made."}
	}
	sec.Notes = append(sec.Notes, p.Warnings...)
	return document.Document{Title: title, Sections: []document.Section{sec}}
}

// dayText prints a day whole, or to a tenth where it is between.
func dayText(day float64) string {
	if math.Abs(day-math.Round(day)) < 0.05 {
		return document.Fixed(day, 0)
	}
	return document.Fixed(day, 1)
}

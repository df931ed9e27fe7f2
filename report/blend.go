package report

import (
	"fmt"
	"math"
	"strings"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/planning"
	"hedgerow/trials/quantity"
)

// Blend is the extract of an evening of dosing to taste as it goes into a beer.
type Blend struct {
	Tasting  string            // the evening
	Batch    trials.Batch      // the beer that it goes into
	Extract  trials.Extract    // what goes in
	Used     bool              // it is what was tasted as what goes in
	VolumeL  float64           // of beer
	Carries  float64           // effective g/L of the extract
	LeftL    float64           // of the extract
	Measured bool              // LeftL was measured
	Dose     decisions.ToBlend // what the beer is to get
	PourL    float64           // how much goes in
	Typed    bool              // PourL was typed, and is not worked out
	Ledger   ledger.Ledger     // of the beer with the addition
	Addition trials.Addition   // as it is, or would be, logged
	Recorded bool              // it was written
	Units    quantity.Units    // of the reader
}

// muchBlended is the share of added liquid past which a beer tastes thin (judgement).
const muchBlended = 0.05

// Pour is how much of the extract brings the beer to the dose, in what a cylinder shows:
// 1 mL under 100 mL, 5 mL above; +Inf where the extract is too weak.
func (b Blend) Pour(dose float64) float64 {
	litres := planning.DosePour(b.Carries, dose, b.VolumeL)
	if math.IsInf(litres, 0) {
		return litres
	}
	step := 0.005
	if litres < 0.1 {
		step = 0.001
	}
	return trials.Tidy(math.Round(litres/step) * step)
}

// Check refuses an extract that is too weak or too little.
func (b Blend) Check() error {
	if b.Carries <= b.Dose.DoseGPerL {
		return trials.Refuse("make a stronger one: hedgerow plan batch "+b.Extract.MaterialKey+" --from "+b.Batch.Name,
			"%s carries %s g/L, not more than the dose of %s g/L", b.Extract.Name, document.Significant(b.Carries, 2),
			document.Significant(b.Dose.DoseGPerL, 2))
	}
	if b.PourL > b.LeftL*(1+1e-9) {
		return trials.Refuse(fmt.Sprintf("blend less beer with --volume, pour less with --pour, make more of it, or say "+
			"what was measured in the jug with --left; %s of it would bring %s to %s g/L", wording.VolumeText(b.LeftL, b.Units),
			wording.VolumeText(b.VolumeL, b.Units), document.Significant(b.LeftL*b.Carries/(b.VolumeL+b.LeftL), 2)),
			"%s of %s takes %s of %s, but %s are left", wording.VolumeText(b.VolumeL, b.Units), b.Batch.Name,
			wording.VolumeText(b.PourL, b.Units), b.Extract.Name, wording.VolumeText(b.LeftL, b.Units))
	}
	return nil
}

// warnings say what to keep in mind.
func (b Blend) warnings() []string {
	list := []string{}
	if !b.Dose.Heard {
		list = append(list, "no glass of your panel was right or past it, and no beer was scored: this is advice alone")
	}
	if share := b.PourL / b.VolumeL; share > muchBlended {
		list = append(list, fmt.Sprintf("it adds %s %% of liquid, past 5 %% a beer tastes thin: an extract twice as strong, "+
			"steeped in half the water, would take %s", document.Significant(100*share, 2),
			wording.VolumeText(decisions.Rounded(planning.DosePour(2*b.Carries, b.Dose.DoseGPerL, b.VolumeL)), b.Units)))
	}
	if !b.Used {
		list = append(list, "what was tasted was an extract made for the evening: the beer may want half or twice as much")
	}
	if !b.Measured {
		list = append(list, "what is left is reckoned from the steep, less what the droppers took; measure the jug and "+
			"say so with --left")
	}
	for _, w := range b.Ledger.Warnings {
		if w.Record == b.Addition.Name {
			list = append(list, w.Text)
		}
	}
	return list
}

// blendAnswer is a blend as --json prints it.
type blendAnswer struct {
	Tasting  string         `json:"tasting"`
	Batch    string         `json:"batch"`
	Extract  string         `json:"extract"`
	VolumeL  float64        `json:"volume_l"`
	PourML   figure.Stated  `json:"pour_ml"`
	Dose     float64        `json:"dose_g_per_l"` // that the pour brings
	Right    figure.Stated  `json:"right_dose_g_per_l"`
	Carries  float64        `json:"extract_carries_g_per_l"`
	LeftML   float64        `json:"left_ml"`
	AfterML  float64        `json:"left_after_ml"`
	Before   wording.State  `json:"before"`
	After    wording.State  `json:"after"`
	Change   *wording.State `json:"change"`
	Addition *string        `json:"saved"` // its name; null while it is not logged
	Warnings []string       `json:"warnings"`
}

// View draws the blend.
func (b Blend) View() document.View {
	low, high := b.rightDoses()
	a := blendAnswer{Tasting: b.Tasting, Batch: b.Batch.Name, Extract: b.Extract.Name, VolumeL: b.VolumeL,
		PourML: figure.StatedBetween(1000*b.PourL, 1000*b.Pour(low), 1000*b.Pour(high), 0.9),
		Dose:   b.PourL * b.Carries / (b.VolumeL + b.PourL), Right: b.Dose.Right, Carries: b.Carries,
		LeftML: 1000 * b.LeftL, AfterML: 1000 * (b.LeftL - b.PourL), Warnings: b.warnings()}
	e := b.effect()
	a.Before, a.After, a.Change = e.before, e.after, e.change
	if b.Recorded {
		a.Addition = &b.Addition.Name
	}
	section := document.Section{Paragraphs: b.words(a, low, high), Table: e.table(b.Units), Notes: a.Warnings}
	return document.View{Payload: a, Document: document.Document{Title: "Blend of " + b.Tasting + " into " + b.Batch.Name,
		Sections: []document.Section{section}}}
}

// rightDoses are the ends of the right dose.
func (b Blend) rightDoses() (low, high float64) {
	if b.Dose.Right.Low == nil || b.Dose.Right.High == nil {
		return b.Dose.DoseGPerL, b.Dose.DoseGPerL
	}
	return *b.Dose.Right.Low, *b.Dose.Right.High
}

// effect is the beer before and after the pour.
func (b Blend) effect() effect {
	at := 0
	for i, s := range b.Ledger.Steps {
		if s.Name == b.Addition.Name && s.Kind == ledger.EventAddition {
			at = i
		}
	}
	step := b.Ledger.Steps[at]
	change, changed := step.Change()
	return effect{before: wording.StateView(b.Ledger.Steps[max(at-1, 0)].State()), after: wording.StateView(step.State()),
		change: wording.ChangeView(change, changed)}
}

// words say how much goes in, what dose that is and what is left.
func (b Blend) words(a blendAnswer, low, high float64) []string {
	vol := func(l float64) string { return wording.VolumeText(l, b.Units) }
	ends := vol(b.Pour(low)) + " and more: it is too weak for the upper end"
	if b.Carries > high {
		ends = between(vol(b.Pour(low)), vol(b.Pour(high)))
	}
	out := b.Pour(b.Dose.DoseGPerL) // as worked out
	text := fmt.Sprintf("For %s add %s (%s) of %s; you have %s.", vol(b.VolumeL), vol(out), ends, b.Extract.Name,
		vol(b.LeftL))
	if b.Typed {
		text = fmt.Sprintf("%s of %s in %s, as typed; worked out are %s (%s). You have %s.", vol(b.PourL), b.Extract.Name,
			vol(b.VolumeL), vol(out), ends, vol(b.LeftL))
	}
	list := []string{text, fmt.Sprintf("That is %s effective g/L; the right dose for %s lies between %s and %s (90 %%). "+
		"%s of %s are left then.", document.Significant(a.Dose, 2), b.Dose.Attribute, document.Significant(low, 2),
		document.Significant(high, 2), document.Capital(vol(b.LeftL-b.PourL)), b.Extract.Name)}
	if b.Recorded {
		list = append(list, "Logged as "+b.Addition.Name+".")
	}
	return list
}

// between joins two amounts, their unit said once where it is the same.
func between(low, high string) string {
	if number, unit, ok := strings.Cut(low, " "); ok && strings.HasSuffix(high, " "+unit) {
		low = number
	}
	return low + " to " + high
}

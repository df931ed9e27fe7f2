package report

import (
	"fmt"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// steepPass is one pass as --json prints it.
type steepPass struct {
	Yield              float64 `json:"yield"`
	LiquidOutML        float64 `json:"liquid_out_ml"`
	LiquidHeldML       float64 `json:"liquid_held_ml"`
	ShareOfEquilibrium float64 `json:"share_of_equilibrium"`
	HeldOrigin         string  `json:"held_origin"`
	ReducedMinutes     float64 `json:"reduced_min_at_80c"`
}

// steepFigure is an input with its origin as --json prints it.
type steepFigure struct {
	Name   string  `json:"name"`   // unique among records of its kind
	Value  float64 `json:"value"`  // the figure itself
	Unit   string  `json:"unit"`   // of the figure
	Origin string  `json:"origin"` // where it comes from
	Grade  string  `json:"grade,omitempty"`
	Source string  `json:"source,omitempty"` // who said it or where it is written
}

// SteepStyle says what of a steep is shown.
type SteepStyle struct {
	Class   int            // solute class, index into trials.ClassNames; -1 for all
	Explain bool           // show how it was worked out
	Units   quantity.Units // of the reader
	More    []steeps.Gain  // what would get more out; nil if that was not asked for
}

// shows reports whether a class is one of those shown. The families that the water
// class is made of are shown when asked for.
func (s SteepStyle) shows(class int) bool {
	if s.Class < 0 {
		return class < trials.ShownClasses
	}
	return s.Class == class
}

// Steep shows what a steep comes to.
func Steep(a steeps.SteepAnswer, s SteepStyle) document.View {
	// -1 asks for all classes; passes and yield have room for one, and are then of the first
	class := max(s.Class, 0)
	passes := steepPasses(a, class)
	kept := a.Doubt.Kept[class].At95
	yield := figure.StatedBetween(kept.Value, kept.Low, kept.High, kept.Level)
	figures := shownFigures(a, s)
	warnings := append(rankingNotes(a, s), a.Result.Warnings...)
	dose := steepDoseTable(a, s)
	dose.Notes = warnings
	sections := []document.Section{steepTable(passes, class, s.Units), dose,
		leftSection(a.Result, class, s.Units, figures)}
	liquid := steepLiquid(a)
	if liquid != nil {
		sections[0].Paragraphs = append(sections[0].Paragraphs, liquidWords(*liquid, s.Units))
	}
	if a.Immersion != nil {
		sections[0].Paragraphs = append(sections[0].Paragraphs, plantWords(a, s.Units))
	}
	if s.More != nil {
		sections = append(sections, moreSection(s.More, s.Units))
	}
	if s.Explain {
		sections = append(sections, steepExplain(figures), stepSection(a, class))
	}
	return document.View{
		Document: document.Document{Sections: sections},
		Payload: struct {
			Passes   []steepPass              `json:"passes"`
			Class    string                   `json:"class"`
			Yield    figure.Stated            `json:"yield"`
			Dose     map[string]figure.Stated `json:"effective_dose_g_per_l"`
			Weighed  float64                  `json:"dose_g_per_l"`
			Liquid   *figure.Stated           `json:"liquid_ml"`
			AddedL   float64                  `json:"added_l"`
			MixL     float64                  `json:"volume_after_mixing_l"`
			Plant    *plantView               `json:"plant"`
			Solids   steepSolids              `json:"solids_g_per_l"`
			Cost     strengthCost             `json:"strength_cost"`
			Left     leftBehind               `json:"left_behind"`
			More     []gainRow                `json:"more,omitempty"`
			Figures  []steepFigure            `json:"inputs"`
			Draws    int                      `json:"draws"`
			Seed     uint64                   `json:"seed"`
			Warnings []string                 `json:"warnings"`
		}{passes, trials.ClassNames[class], yield, shownDoses(a, s), a.Dose.WeighedGPerL, liquid,
			a.Dose.AddedL, a.Dose.MixL,
			viewOfPlant(a), solidsView(a), costView(a.Cost), leftView(a.Result,
				class), gainRows(s.More), figures, a.Doubt.N, a.Doubt.Seed, warnings},
	}
}

// shownDoses are the effective doses of the classes that are shown, by their names.
func shownDoses(a steeps.SteepAnswer, s SteepStyle) map[string]figure.Stated {
	doses := map[string]figure.Stated{}
	for c, name := range trials.ClassNames {
		if s.shows(c) {
			at := a.Doubt.Dose[c].At95
			doses[name] = figure.StatedBetween(at.Value, at.Low, at.High, at.Level)
		}
	}
	return doses
}

// shownFigures are the inputs and the defaults of the classes that are shown.
func shownFigures(a steeps.SteepAnswer, s SteepStyle) []steepFigure {
	figures := steepFigures(a)
	for c := range trials.ClassNames {
		if s.shows(c) {
			figures = append(figures, defaultFigures(a.ClassDefaults(c))...)
		}
	}
	return figures
}

// steepLiquid is the liquid of an extract with its limits, mL; nil for a material
// put in itself.
func steepLiquid(a steeps.SteepAnswer) *figure.Stated {
	if a.Result.Steep.Method.IsDirect() {
		return nil
	}
	stated := figure.StatedBetween(a.Result.ExtractML, a.Result.ExtractLowML, a.Result.ExtractHighML, 0.8)
	return &stated
}

// liquidWords says how much liquid is recovered.
func liquidWords(ml figure.Stated, u quantity.Units) string {
	return fmt.Sprintf("Liquid recovered: %s (80 %%: %s to %s).", wording.VolumeText(ml.Value/1000, u),
		wording.VolumeText(*ml.Low/1000, u), wording.VolumeText(*ml.High/1000, u))
}

// plantView is what a plant put straight in does to the volume, as --json prints it.
type plantView struct {
	Kind    string  `json:"kind"`           // how it holds liquid
	InL     float64 `json:"volume_in_l"`    // while it is in
	HeldL   float64 `json:"held_l"`         // what it keeps when it comes out, drained
	AfterL  float64 `json:"volume_after_l"` // once it is out
	WaterML float64 `json:"own_water_ml"`   // that it brings
	SolidsG float64 `json:"solids_g"`       // that it gives
}

// viewOfPlant turns the liquid books of a plant into their printed form.
func viewOfPlant(a steeps.SteepAnswer) *plantView {
	if a.Immersion == nil {
		return nil
	}
	b := a.Books
	// the books hold grams; water at 20 C weighs 0.99820123 g a millilitre
	return &plantView{a.Immersion.Kind.String(), b.MixL, b.HeldL, b.AfterL, b.WaterG / 0.99820123, b.DissolvedG}
}

// plantWords says what a plant put straight in does to the volume.
func plantWords(a steeps.SteepAnswer, u quantity.Units) string {
	b := a.Books
	return fmt.Sprintf("While it is in there are %s; drained it keeps %s, which leaves %s. Squeezing or pressing "+
		"keeps less: "+
		"hedgerow addition out.", wording.VolumeText(b.MixL, u), wording.VolumeText(b.HeldL, u),
		wording.VolumeText(b.AfterL, u))
}

// steepPasses turns the passes into their printed form.
func steepPasses(a steeps.SteepAnswer, class int) []steepPass {
	passes := make([]steepPass, len(a.Result.Passes))
	for i, p := range a.Result.Passes {
		passes[i] = steepPass{p.Yield[class], p.LiquidOutML, p.LiquidHeldML, p.ShareOfEquilibrium[class],
			p.HeldOrigin.String(), p.ReducedMinutes[class]}
	}
	return passes
}

// steepFigures turns the inputs into their printed form.
func steepFigures(a steeps.SteepAnswer) []steepFigure {
	list := make([]steepFigure, len(a.Figures))
	for i, f := range a.Figures {
		list[i] = steepFigure{f.Name, f.Value, f.Unit, f.Origin.String(), f.Grade, f.Source}
	}
	return list
}

// steepTable is the table of passes.
func steepTable(passes []steepPass, class int, u quantity.Units) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "pass", Right: true}, {Title: "out", Right: true},
		{Title: "held", Right: true}, {Title: "held is"},
		{Title: "yield", Right: true}, {Title: "of equilibrium", Right: true}, {Title: "min at 80 C", Right: true,
			Wide: true}}}
	for i, p := range passes {
		out, held, origin := wording.VolumeText(p.LiquidOutML/1000, u), wording.VolumeText(p.LiquidHeldML/1000,
			u), p.HeldOrigin
		if p.LiquidOutML == 0 && p.LiquidHeldML == 0 { // material put in itself is not parted from a liquid
			out, held, origin = "-", "-", "-"
		}
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), out, held, origin,
			document.Percent(p.Yield), document.Percent(p.ShareOfEquilibrium), document.Fixed(p.ReducedMinutes, 1)})
	}
	return document.Section{Heading: "Passes, " + trials.ClassNames[class] + " class", Table: &t}
}

// steepDoseTable is the table of doses.
func steepDoseTable(a steeps.SteepAnswer, s SteepStyle) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "class"}, {Title: "yield (95 %)", Right: true},
		{Title: "left by heat", Right: true}, {Title: "effective g/L (80 %)", Right: true},
		{Title: "(95 %)", Right: true, Wide: true}}}
	for c, name := range trials.ClassNames {
		if !s.shows(c) {
			continue
		}
		kept, dose := a.Doubt.Kept[c].At95, a.Doubt.Dose[c]
		t.Rows = append(t.Rows, []string{name, document.Percent(kept.Value) + " (" + document.Fixed(100*kept.Low, 0) +
			" to " + document.Fixed(100*kept.High, 0) + ")", document.Percent(a.Result.Survival[c]),
			document.SignificantSpread(figure.StatedBetween(dose.At80.Value, dose.At80.Low, dose.At80.High, 0.8)),
			document.SignificantSpread(figure.StatedBetween(dose.At95.Value, dose.At95.Low, dose.At95.High, 0.95))})
	}
	lead := fmt.Sprintf("%s into %s gives %s as weighed; %s of liquid goes in, %s in all%s.",
		wording.MassText(a.Result.Steep.MassG, s.Units), wording.VolumeText(a.Dose.MixL-a.Dose.AddedL,
			s.Units), wording.DoseText(a.Dose.WeighedGPerL, s.Units), wording.VolumeText(a.Dose.AddedL,
			s.Units), wording.VolumeText(a.Dose.MixL, s.Units), costWords(a.Cost))
	paragraphs := []string{lead}
	// said before the table: the figures below have it in them
	if a.Request.Own != nil {
		paragraphs = append(paragraphs, "Counted in: "+a.Request.Own.Words()+".")
	}
	return document.Section{Heading: "Dose", Paragraphs: paragraphs, Table: &t}
}

// rankingNotes says of which classes the figures are only good for a ranking.
func rankingNotes(a steeps.SteepAnswer, s SteepStyle) []string {
	notes := []string{}
	for c, name := range trials.ClassNames {
		if !s.shows(c) {
			continue
		}
		for _, r := range a.RankingReasons(c) {
			notes = append(notes, name+": good for ranking steeps, not as a number ("+r+")")
		}
	}
	return notes
}

// defaultFigures turns defaults into inputs as --json prints them.
func defaultFigures(list []steeps.SteepDefault) []steepFigure {
	rows := []steepFigure{}
	for _, d := range list {
		rows = append(rows, steepFigure{d.Name, d.Value, d.Unit, "default", d.Grade, d.Source})
	}
	return rows
}

// gradeLetter is a grade without its remark, which belongs to the source.
func gradeLetter(grade string) string {
	letter, _, _ := strings.Cut(grade, ",")
	return letter
}

// stepSection lists the values on the way to the result.
func stepSection(a steeps.SteepAnswer, class int) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "value", Wrap: true}, {Title: "formula", Wrap: true},
		{Title: "", Right: true}, {Title: "unit"}}}
	for _, s := range a.Steps(class) {
		t.Rows = append(t.Rows, []string{s.Name, s.Formula, document.Significant(s.Value, 4), s.Unit})
	}
	return document.Section{Heading: "Step by step, " + trials.ClassNames[class] + " class", Table: &t}
}

// steepExplain lists formula and inputs.
func steepExplain(figures []steepFigure) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "input", Wrap: true}, {Title: "value", Right: true},
		{Title: "unit"}, {Title: "origin"}, {Title: "grade"}, {Title: "source", Wrap: true}}}
	for _, f := range figures {
		t.Rows = append(t.Rows, []string{f.Name, document.Significant(f.Value, 4), f.Unit, f.Origin,
			gradeLetter(f.Grade), f.Source})
	}
	return document.Section{Heading: "How it was worked out", Table: &t, Paragraphs: []string{
		"X = w + (1-w)(1 - exp(-K)), K = k80 g s tau; tau = minutes at 80 C by Arrhenius over the temperature course.",
		"Passes: what is dissolved is shared between the liquid that runs off and the liquid held. Effective dose = " +
			"as-dried grams times the share the solvent can carry times the yield, per litre after mixing.",
		"Grades: A measured in a cited source, B worked out from one, C our judgement.",
	}}
}

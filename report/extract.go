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

// ExtractStyle says what of an extract is shown.
type ExtractStyle struct {
	Units   quantity.Units // of the reader
	Explain bool           // show how it was worked out
	More    []steeps.Gain  // what would have got more out; nil if that was not asked for
}

// heldDefault compares measured held liquid with the default, as --json prints it.
type heldDefault struct {
	HeldML []float64 `json:"held_ml"` // by pass, had nothing been measured
	Yield  float64   `json:"yield"`
	Factor float64   `json:"dose_factor"` // effective dose with what was measured over that by default
}

// Extract shows one extract as it was logged, what it carries and where it went.
func Extract(s steeps.ExtractStory, style ExtractStyle) document.View {
	x, y, u := s.Extract, s.Yield, style.Units
	answer := steeps.SteepAnswer{Result: y.Result, Figures: y.Figures}
	figures := append(steepFigures(answer), defaultFigures(answer.ClassDefaults(y.Class))...)
	sections := []document.Section{extractPasses(x, y, u), extractCarries(s, figures, u)}
	// a jug that nobody touched has one line, which repeats the sentence above
	if len(s.Jug.Pours) > 0 || s.Jug.DropsL > 0 || len(x.TopUps) > 0 || style.Explain {
		sections = append(sections, jugSection(s, u))
	}
	if style.More != nil {
		sections = append(sections, moreSection(style.More, u))
	}
	if style.Explain {
		sections = append(sections, readingSection(s)...)
		sections = append(sections, steepExplain(figures), stepSection(answer, y.Class))
	}
	carried := map[string]figure.Stated{}
	for c, name := range trials.ClassNames[:trials.ShownClasses] {
		carried[name] = *wording.EstimateView(y.Grams[c])
	}
	return document.View{
		Document: document.Document{Title: x.Name, Sections: sections},
		Payload: struct {
			Extract  trials.Extract           `json:"extract"`
			Passes   []steepPass              `json:"passes"`
			LiquidL  float64                  `json:"liquid_l"`
			Solids   float64                  `json:"solids_g_per_l"`
			Carried  map[string]figure.Stated `json:"carried_g"`
			Left     leftBehind               `json:"left_behind"`
			Default  *heldDefault             `json:"by_default"`
			Reading  *readingView             `json:"reading"`
			Poured   []pouredRow              `json:"poured"`
			History  []jugRow                 `json:"history"`
			LeftL    float64                  `json:"left_in_jug_l"`
			Strength float64                  `json:"strength_of_rest"`
			More     []gainRow                `json:"more,omitempty"`
			Figures  []steepFigure            `json:"inputs"`
			Warnings []string                 `json:"warnings"`
		}{x, passesOf(y), y.LiquidL, y.SolidsGPerL, carried, leftView(y.Result,
			y.Class), defaultView(s), viewReading(s), pouredRows(s.Jug), jugRows(s), s.Jug.LeftL, s.Jug.Strength(),
			gainRows(style.More), figures, append([]string{}, y.Warnings...)},
	}
}

// passesOf turns the passes of an extract into their printed form.
func passesOf(y steeps.Yield) []steepPass {
	return steepPasses(steeps.SteepAnswer{Result: y.Result}, y.Class)
}

// extractPasses is the table of passes.
func extractPasses(x trials.Extract, y steeps.Yield, u quantity.Units) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "pass", Right: true}, {Title: "steep", Wrap: true},
		{Title: "out", Right: true}, {Title: "held", Right: true}, {Title: "held is"}, {Title: "yield", Right: true}}}
	for i, p := range passesOf(y) {
		t.Rows = append(t.Rows, []string{fmt.Sprint(i + 1), wording.PassWords(x.Passes[i], u),
			wording.VolumeText(p.LiquidOutML/1000, u), wording.VolumeText(p.LiquidHeldML/1000, u), p.HeldOrigin,
			document.Percent(p.Yield)})
	}
	return document.Section{Paragraphs: []string{wording.ExtractSentence(x, u)}, Table: &t}
}

// extractCarries says what the extract carries, what stayed behind, and what
// measuring changed.
func extractCarries(s steeps.ExtractStory, figures []steepFigure, u quantity.Units) document.Section {
	y := s.Yield
	var carried []string
	for c, name := range trials.ClassNames[:trials.ShownClasses] {
		carried = append(carried, name+" "+document.SignificantSpread(*wording.EstimateView(y.Grams[c]))+" g")
	}
	lines := []string{
		"It gives " + wording.VolumeText(y.LiquidL, u) + " with " + document.Significant(y.SolidsGPerL, 2) +
			" g/L dissolved.",
		"It carries, as fully extracted dried material: " + strings.Join(carried, ", ") + ".",
		leftWords(leftView(y.Result, y.Class), y.Class, u),
	}
	lines = append(lines, measuredWords(figures)...)
	lines = append(lines, readingWords(s)...)
	if text := defaultWords(s, u); text != "" {
		lines = append(lines, text)
	}
	return document.Section{Paragraphs: lines, Notes: y.Warnings}
}

// defaultView is what the defaults would have made of the extract, nil where
// nothing was measured.
func defaultView(s steeps.ExtractStory) *heldDefault {
	if s.Plain == nil {
		return nil
	}
	class := s.Yield.Class
	d := heldDefault{Yield: s.Plain.Result.Yield[class]}
	for _, p := range s.Plain.Result.Passes {
		d.HeldML = append(d.HeldML, p.LiquidHeldML)
	}
	// of a class of which nothing comes out no factor can be given
	if v := s.Plain.Grams[class].Value; v > 0 {
		d.Factor = s.Yield.Grams[class].Value / v
	}
	return &d
}

// defaultWords says what measuring the held liquid changed; empty where nothing
// was measured.
func defaultWords(s steeps.ExtractStory, u quantity.Units) string {
	d := defaultView(s)
	if d == nil {
		return ""
	}
	var held []string
	for i, p := range s.Yield.Result.Passes {
		if origin := p.HeldOrigin.String(); origin == "measured" || origin == "remembered" {
			held = append(held, fmt.Sprintf("pass %d held %s (%s); the default would have been %s", i+1,
				wording.VolumeText(p.LiquidHeldML/1000, u), origin, wording.VolumeText(d.HeldML[i]/1000, u)))
		}
	}
	return fmt.Sprintf("Held liquid: %s. That puts the yield at %s in place of %s, and every effective dose at %s "+
		"times that by default.",
		strings.Join(held, "; "), document.Percent(s.Yield.Result.Yield[s.Yield.Class]), document.Percent(d.Yield),
		document.Fixed(d.Factor, 2))
}

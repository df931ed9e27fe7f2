package report

import (
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/quantity"
	"hedgerow/trials/steeps"
)

// leftBehind is what the spent material keeps, as --json prints it: shares of all
// that is extractable.
type leftBehind struct {
	Undissolved float64 `json:"undissolved"`
	InHeld      float64 `json:"in_held_liquid"`
	ByHeat      float64 `json:"lost_by_heat"`
	HeldML      float64 `json:"held_ml"`
}

// leftView turns what stays behind into its printed form.
func leftView(r steeps.SteepResult, class int) leftBehind {
	l := r.Left
	return leftBehind{l.Undissolved[class], l.InHeldLiquid[class], l.LostByHeat[class], l.HeldML}
}

// leftSection says what stays behind and which figures were measured.
func leftSection(r steeps.SteepResult, class int, u quantity.Units, figures []steepFigure) document.Section {
	if r.Steep.Method.IsDirect() {
		// Only the liquid of an extract has a strength in solids.
		figures = slices.DeleteFunc(slices.Clone(figures),
			func(f steepFigure) bool { return measurable(f.Name) == "dissolved solids" })
	}
	return document.Section{Paragraphs: append([]string{leftWords(leftView(r, class), class, u)},
		measuredWords(figures)...)}
}

// leftWords says what stays behind.
func leftWords(l leftBehind, class int, u quantity.Units) string {
	var parts []string
	add := func(share float64, where string) {
		// less would print as 0 %
		if share >= 0.0005 {
			parts = append(parts, document.Percent(share)+" "+where)
		}
	}
	add(l.Undissolved, "not dissolved")
	// a material put in itself holds no liquid of an extract
	if l.HeldML > 0 {
		add(l.InHeld, "in the "+wording.VolumeText(l.HeldML/1000, u)+" that the spent material holds")
	}
	add(l.ByHeat, "lost by heat")
	if len(parts) == 0 {
		return "Left behind: nothing of the " + trials.ClassNames[class] + " class to speak of."
	}
	return "Left behind, " + trials.ClassNames[class] + " class: " + strings.Join(parts, ", ") + "."
}

// measuredWords says which figures were measured and which of those that a brewer
// can measure are assumed.
func measuredWords(figures []steepFigure) []string {
	known := map[string]bool{}
	var measured, could []string
	for _, f := range figures {
		name := measurable(f.Name)
		switch {
		case name == "":
		case f.Origin == "measured" || f.Origin == "remembered":
			// passes are not told apart, so three of them would say the same three times
			if text := name + remark(f.Origin); !known[text] {
				known[text], measured = true, append(measured, text)
			}
		case f.Origin == "default" || f.Origin == "catalogue":
			text := fmt.Sprintf("%s %s %s (%s)", name, document.Significant(f.Value, 2), unitWords(f.Unit), f.Origin)
			if !known[text] {
				known[text], could = true, append(could, text)
			}
		}
	}
	var list []string
	if len(measured) > 0 {
		list = append(list, "Measured: "+strings.Join(measured, ", ")+".")
	}
	if len(could) > 0 {
		list = append(list, "Assumed: "+strings.Join(could, ", ")+". Measuring replaces it and narrows the interval.")
	}
	return list
}

// remark marks what was measured in an earlier steep of the material.
func remark(origin string) string {
	if origin == "remembered" {
		return " (remembered from an earlier steep)"
	}
	return ""
}

// measurable names what a brewer can measure, empty for other inputs. Passes are
// not told apart, but for held liquid by its way of parting.
func measurable(name string) string {
	if rest, ok := strings.CutPrefix(name, "pass "); ok {
		_, name, _ = strings.Cut(rest, " ")
	}
	switch {
	case name == "moisture":
		return "moisture"
	case name == "held liquid" || strings.HasPrefix(name,
		"held liquid, "), name == "liquid recovered", name == "spent material":
		return name
	case name == "solids of the extract":
		return "dissolved solids"
	case strings.HasPrefix(name, "dissolved solids"):
		return "dissolved solids"
	}
	return ""
}

// unitWords spells a unit of a share.
func unitWords(unit string) string {
	if unit == "1" {
		return "of the dry matter that comes out"
	}
	return unit
}

package decisions

import (
	"slices"

	"hedgerow/report/evidence"
	"hedgerow/trials"
)

// dropperOf tells which extract can be dosed to taste: where the plant goes in as one,
// that one; where the plant itself goes in, one made for the evening, or at hand; "" where
// none can be made. Method is the one that the dose is for, "" when it is not known.
func dropperOf(method string, m trials.Material) evidence.Extract {
	switch method {
	case trials.MethodTea, trials.MethodColdTea, trials.MethodTincture:
		return evidence.Used
	case trials.MethodJuice, trials.MethodPuree:
		return ""
	}
	steeped := func(form string) bool { return form != "juice" && form != "puree" }
	// a sugar is dissolved, not steeped; of an unknown plant a tea is taken to be possible
	if m.DominantSolute == "sugar" || len(m.TypicalForms) > 0 && !slices.ContainsFunc(m.TypicalForms, steeped) {
		return ""
	}
	return evidence.Other
}

// dropperFirst reports whether dosing to taste teaches more than anything else that costs
// no brew. Lessons come with the one that teaches most first.
func dropperFirst(lessons []lessonView) bool {
	i := slices.IndexFunc(lessons, func(l lessonView) bool { return l.Brews == 0 })
	return i >= 0 && lessons[i].Extract != ""
}

// dropperNote says what dosing to taste means for the reader.
func dropperNote(material string, e evidence.Extract) string {
	note := "Dose to taste: who tastes drops extract into a glass until it is right, once up and once down, "
	if e == evidence.Used {
		return note + "with the very extract that then goes into the beer: hedgerow plan taste " + material + " --from BATCH."
	}
	return note + "with an extract made for it; how a beer with the plant in it compares stays open: hedgerow plan " +
		"taste " + material + " --from BATCH."
}

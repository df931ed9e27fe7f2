package report

import (
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials"
)

// cited returns the sources of what is shown of a material, each once, in the
// order in which they are met.
func cited(
	materials trials.Materials, m trials.Material, cautions []trials.Caution, limits []trials.Limit,
) []trials.Source {
	citations := []string{m.DoseLowSource, m.DoseHighSource, m.SugarSource, m.HeatSource}
	for _, form := range []string{"dried", "fresh"} {
		_, source, _ := materials.DefaultMoisture(m, form)
		citations = append(citations, source)
	}
	for _, c := range cautions {
		citations = append(citations, c.SourceID)
	}
	for _, l := range limits {
		citations = append(citations, l.SourceID)
	}
	var list []trials.Source
	for _, citation := range citations {
		for _, src := range materials.Sources(citation) {
			// a table is named once, whatever the row
			src.ID, _, _ = strings.Cut(src.ID, ":")
			src.Item = ""
			// practice and memory have said all there is to say in their id
			if src.Checked() && !slices.Contains(list, src) {
				list = append(list, src)
			}
		}
	}
	return list
}

// materialSources names sources by their ids.
func materialSources(list []trials.Source) document.Section {
	s := document.Section{Heading: "Sources"}
	for _, src := range list {
		parts := []string{src.Title, src.Publisher, src.Year, src.Section}
		parts = slices.DeleteFunc(parts, func(text string) bool { return text == "" || text == "-" || text == "n.d." })
		s.Notes = append(s.Notes, src.ID+": "+strings.Join(parts, ", "))
	}
	return s
}

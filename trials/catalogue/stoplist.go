package catalogue

import (
	"fmt"
	"slices"
	"strings"
)

// StopPlant is a plant that has no place in a drink.
type StopPlant struct {
	Name          string   // the usual one
	Variants      []string // other names
	BotanicalName string   // several are parted by semicolons, older ones stand in brackets; empty if there is none
	Part          string   // which part is meant
	Why           string   // a few words
	Level         level    // warn or stop
	SourceID      string   // see Catalogue.Sources
	MistakenFor   []string // plants that it is taken for
}

var stopColumns = []string{
	"name", "variants", "botanical_name", "part", "why", "level", "source_id", "mistaken_for", "pair_source_id",
}

// readStopList reads the stop list by every folded name. A name may be that of
// two plants: false hellebore is.
func readStopList() (map[string][]StopPlant, error) {
	byName := map[string][]StopPlant{}
	err := readTable("stoplist.csv", stopColumns, func(r *record) error {
		p := StopPlant{
			Name:          r.text("name"),
			Variants:      r.list("variants"),
			BotanicalName: withoutDash(r.text("botanical_name")),
			Part:          r.text("part"),
			Why:           r.text("why"),
			Level:         level(r.text("level")),
			SourceID:      r.text("source_id"),
			MistakenFor:   r.list("mistaken_for"),
		}
		if !slices.Contains(levels, p.Level) {
			return fmt.Errorf("%s line %d: level %q is not known", r.file, r.line, p.Level)
		}
		for _, name := range p.names() {
			byName[name] = append(byName[name], p)
		}
		return nil
	})
	return byName, err
}

// names returns every name of the plant, folded and each once.
func (p StopPlant) names() []string {
	all := append([]string{p.Name}, p.Variants...)
	all = append(all, strings.FieldsFunc(p.BotanicalName, func(r rune) bool { return strings.ContainsRune(";()", r) })...)
	var names []string
	for _, name := range all {
		if n := fold(strings.TrimSpace(name)); n != "" && !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	return names
}

// StopPlants returns the plants of the stop list that bear one of the names.
// Only whole names count, so that "ground ivy" is no ivy; case, spaces, hyphens
// and a plural s do not matter.
func (c *Catalogue) StopPlants(names ...string) []StopPlant {
	var found []StopPlant
	for _, name := range names {
		for _, p := range c.stopped()[fold(name)] {
			// one plant may bear several of the names
			if !slices.ContainsFunc(found, func(f StopPlant) bool { return f.Name == p.Name }) {
				found = append(found, p)
			}
		}
	}
	return found
}

// stopCautions returns a caution for each plant of the stop list whose name an
// own material bears. The built-in plants have rows of their own.
func (c *Catalogue) stopCautions(m Material) []Caution {
	if !m.Own {
		return nil
	}
	general := c.classRow(classStopList)
	var list []Caution
	for _, p := range c.StopPlants(m.Key, m.CommonName, m.BotanicalName) {
		row := general
		row.Level, row.SourceID, row.NoDose = p.Level, p.SourceID, p.Level == levelStop
		row.Text = p.Sentence()
		row.Evidence = c.stopEvidence(p)
		list = append(list, row)
	}
	return list
}

// Sentence says what the stop list has on the plant.
func (p StopPlant) Sentence() string {
	name := p.Name
	if p.BotanicalName != "" {
		name += " (" + strings.NewReplacer(" (", ", also ", ")", "").Replace(p.BotanicalName) + ")"
	}
	return fmt.Sprintf("On the stop list: %s, %s: %s.", name, p.Part, p.Why)
}

// stopEvidence is read if one of the cited sources was opened for the table.
func (c *Catalogue) stopEvidence(p StopPlant) string {
	if slices.ContainsFunc(c.Sources(p.SourceID), func(s Source) bool { return s.Read == "full" || s.Read == "excerpt" }) {
		return evidenceRead
	}
	return EvidenceSecondary
}

// classRow returns the first caution about a class.
func (c *Catalogue) classRow(class string) Caution {
	i := slices.IndexFunc(c.cautions(), func(row Caution) bool { return slices.Contains(row.AppliesTo, class) })
	if i < 0 {
		// a caution has to be given even where the class has no row
		return Caution{About: aboutClass, Scope: scopeMaterial}
	}
	return c.cautions()[i]
}

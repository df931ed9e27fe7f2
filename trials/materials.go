package trials

import (
	"fmt"
	"strings"

	"hedgerow/trials/catalogue"
	"hedgerow/trials/spelling"
)

// The catalogue's types, for callers that must not know it.
type (
	Material = catalogue.Material
	Caution  = catalogue.Caution
	Limit    = catalogue.Limit
	Source   = catalogue.Source
)

// The evidence of a caution or limit, in the catalogue's words.
const (
	EvidenceSecondary = catalogue.EvidenceSecondary
	EvidenceEarlier   = catalogue.EvidenceEarlier
	EvidencePractice  = catalogue.EvidencePractice
	EvidenceMemory    = catalogue.EvidenceMemory
)

// Materials are the built-in materials and the user's own.
type Materials struct {
	*catalogue.Catalogue
	counted map[string]string // class to count a material by in place of its own, by key
}

// Catalogue returns the catalogue with the user's own materials in it.
func (n *Notebook) Catalogue() (Materials, error) {
	c, err := catalogue.Load()
	if err != nil {
		return Materials{}, fmt.Errorf("read the built-in materials: %w", err)
	}
	own := make([]Material, 0, len(n.Materials))
	for _, m := range n.Materials {
		own = append(own, m.material())
	}
	return Materials{Catalogue: c.With(own)}, nil
}

// Material returns the material that a name means, the notebook's own among them: see
// Materials.Find.
func (n *Notebook) Material(name string) (Material, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return Material{}, err
	}
	return materials.Find(name)
}

// material turns an own material into one of the catalogue's shape.
func (m OwnMaterial) material() Material {
	out := Material{
		Key: m.Name, CommonName: m.CommonName, PartUsed: m.PartUsed, Category: m.Category,
		Class: m.Class, HardWhole: m.HardWhole, SugarPct: m.SugarPct, SugarState: "as-is",
		GramsPerTsp: m.GramsPerTsp, Notes: m.Note, Reason: m.Reason,
	}
	if m.MoisturePct != nil {
		// people write per cent, the catalogue keeps shares of the mass
		share := *m.MoisturePct / 100
		out.MoistureAsBought = &share
	}
	return out
}

// Counting returns the materials with one of them counted by another solute class than
// its own.
func (m Materials) Counting(key, class string) Materials {
	m.counted = map[string]string{key: class}
	return m
}

// Find returns the material a name means: its key or one of its names. Several
// or none is a Problem that lists what was probably meant.
func (m Materials) Find(name string) (Material, error) {
	found := m.Lookup(name)
	switch len(found) {
	case 1:
		one := found[0]
		if class, ok := m.counted[one.Key]; ok {
			one.Class = class
		}
		return one, nil
	case 0:
		// before near misses: the name of a poisonous plant must not be answered with that of another
		if stopped := m.StopPlants(name); len(stopped) > 0 {
			return Material{}, &Problem{Code: NotFound,
				Message: "no material " + quote(name) + "; " + m.stopLine(stopped[0]),
				Hint:    "do not use it; a name that is missing in the stop list is no sign that a plant is safe"}
		}
		hint := "add it with: hedgerow material add " + strings.ReplaceAll(strings.ToLower(name), " ", "-")
		if near := m.Suggest(name); len(near) > 0 {
			hint = spelling.Question(near[:min(3, len(near))])
		}
		return Material{}, &Problem{Code: NotFound, Message: "no material " + quote(name), Hint: hint}
	}
	keys := make([]string, len(found))
	for i, f := range found {
		keys[i] = f.Key
	}
	return Material{}, Refuse("choose one of "+strings.Join(keys, ", "), "material %q could be several", name)
}

// stopLine says in one line what the stop list has on a plant, with the sources
// of it.
func (m Materials) stopLine(p catalogue.StopPlant) string {
	titles := make([]string, 0, 2)
	for _, s := range m.Sources(p.SourceID) {
		titles = append(titles, s.ID+" "+s.Title)
	}
	return lowerFirst(strings.TrimSuffix(p.Sentence(), ".")) + " [" + strings.Join(titles, "; ") + "]"
}

// lowerFirst writes the first letter small.
func lowerFirst(text string) string { return strings.ToLower(text[:1]) + text[1:] }

// CheckStopList refuses a material whose name stands in the stop list, unless
// it is kept with a reason.
func (m Materials) CheckStopList(own OwnMaterial) error {
	stopped := m.StopPlants(own.Name, own.CommonName)
	if len(stopped) == 0 || strings.TrimSpace(own.Reason) != "" {
		return nil
	}
	return Refuse("do not use it; to keep a record of it all the same, say why with --reason TEXT",
		"%s is %s", quote(own.Name), m.stopLine(stopped[0]))
}

// CheckDose refuses a calculation of the dose of a material of which none is
// suggested.
func (m Materials) CheckDose(mat Material) error {
	reason, stop := m.NoDose(mat)
	if !stop {
		return nil
	}
	return Refuse(strings.TrimSuffix(reason.WhatToDo, "."), "no dose of %s is worked out: %s [%s]", mat.Key,
		strings.TrimSuffix(reason.Text, "."), reason.SourceID)
}

// Moisture returns the water of a material in a form as a share of its mass:
// the measured figure if there is one, else the catalogue's, with its origin.
func (m Materials) Moisture(mat Material, form string, measuredPct *float64) (materialFigure, error) {
	if measuredPct != nil {
		return materialFigure{Value: *measuredPct / 100, Origin: originTyped}, nil
	}
	share, source, ok := m.DefaultMoisture(mat, form)
	if !ok {
		return materialFigure{}, Refuse("add --moisture 85%, or weigh some before and after drying",
			"the moisture of %s %s is not known", form, mat.Key)
	}
	return materialFigure{Value: share, Origin: OriginCatalogue, Source: source}, nil
}

// materialFigure is an input of a calculation with where it came from.
type materialFigure struct {
	Value  float64 // in the unit of its place
	Origin string  // typed, measured, remembered, catalogue or default
	Source string  // of a catalogue figure or default
}

// The origins of a figure.
const (
	originTyped      = "typed"
	originMeasured   = "measured"
	originRemembered = "remembered"
	OriginCatalogue  = "catalogue"
	originDefault    = "default"
)

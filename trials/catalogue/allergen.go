package catalogue

import (
	"fmt"
	"slices"
	"strings"
)

// allergen is a name of a food that must be declared on a label.
type allergen struct {
	Name     string // as people call the food
	Allergen string // what it is declared as: nuts, milk, celery ...
	Item     string // number in Annex II of Regulation (EU) No 1169/2011
	Note     string // exceptions and other things to know
	SourceID string // see Catalogue.Sources
}

var allergenColumns = []string{"name", "botanical_name", "allergen", "annex_ii_item", "note", "source_id"}

// readAllergens reads the names of listed allergens by their folded name.
func readAllergens() (map[string]allergen, error) {
	byName := map[string]allergen{}
	err := readTable("allergens.csv", allergenColumns, func(r *record) error {
		a := allergen{
			Name:     r.text("name"),
			Allergen: r.text("allergen"),
			Item:     r.text("annex_ii_item"),
			Note:     r.text("note"),
			SourceID: r.text("source_id"),
		}
		// the singular and the plural fold to one name
		if old, twice := byName[fold(a.Name)]; twice && old.Allergen != a.Allergen {
			return fmt.Errorf("%s line %d: %s is %s and %s", r.file, r.line, a.Name, old.Allergen, a.Allergen)
		}
		byName[fold(a.Name)] = a
		return nil
	})
	return byName, err
}

// allergenCautions returns a caution for each listed allergen whose name an
// own material bears, whatever its category.
func (c *Catalogue) allergenCautions(m Material) []Caution {
	// built-in materials have rows of their own
	if !m.Own {
		return nil
	}
	general := c.classRow(classAllergens)
	var list []Caution
	for _, name := range []string{m.Key, m.CommonName} {
		a, ok := c.allergens()[fold(name)]
		// key and common name may name the same allergen
		if !ok || slices.ContainsFunc(list, func(row Caution) bool { return strings.Contains(row.Text, a.Allergen) }) {
			continue
		}
		row := general
		row.SourceID = a.SourceID
		row.Text = fmt.Sprintf("%s is a declared allergen in the European Union: %s (Annex II, item %s).", a.Name, a.Allergen,
			a.Item)
		if a.Note != "" {
			row.Text = strings.TrimSuffix(row.Text, ".") + "; " + a.Note + "."
		}
		list = append(list, row)
	}
	return list
}

package catalogue

import "strings"

// Source says where a figure or a statement comes from.
type Source struct {
	ID        string // as cited, such as "SR26:09302"
	Item      string // number of the row in a data table, such as "09302", else empty
	Kind      string // open data, page, law, paper abstract, memory, practice ...
	Title     string // of the table, page, law or paper
	Publisher string // author, publisher or place, "-" if there is none
	Year      string // or date as the source has it, "n.d." if it has none
	Quality   string // A best to D weakest, P common practice, "-" not graded
	Section   string // which part of it the tables use
	Address   string // where it was read, empty if not on the open web
	Read      string // how much was read: full, excerpt, secondary, not re-read; empty for memory and practice
	DateRead  string // day of the reading, empty if not read again
}

// Checked reports whether the source is something published, that is, neither
// memory nor common practice.
func (s Source) Checked() bool { return s.Kind != "memory" && s.Kind != "practice" }

var sourceColumns = []string{
	"source_id", "kind", "title", "publisher", "year", "quality", "section", "address", "read", "date_read",
}

// readSources reads the table of sources by id.
func readSources() (map[string]Source, error) {
	sources := map[string]Source{}
	err := readTable("sources.csv", sourceColumns, func(r *record) error {
		s := Source{
			ID:        r.text("source_id"),
			Kind:      r.text("kind"),
			Title:     r.text("title"),
			Publisher: r.text("publisher"),
			Year:      r.text("year"),
			Quality:   r.text("quality"),
			Section:   r.text("section"),
			Address:   r.text("address"),
			Read:      r.text("read"),
			DateRead:  r.text("date_read"),
		}
		sources[s.ID] = s
		return nil
	})
	return sources, err
}

// source returns the source of an id as cited in the tables. An id such as
// "SR26:09302" resolves to the table SR26 with Item "09302".
func (c *Catalogue) source(id string) (Source, bool) {
	id = strings.TrimSpace(id)
	if s, ok := c.sources()[id]; ok {
		return s, true
	}
	table, item, found := strings.Cut(id, ":")
	s, ok := c.sources()[table]
	if !found || !ok || item == "" {
		return Source{}, false
	}
	s.ID, s.Item = id, item
	return s, true
}

// Sources returns the sources of a citation, which may name several ids
// separated by semicolons ("D02;SR26:02013"). A bare number after an id with a
// table ("SR26:02003;02004") belongs to the same table. Ids that are not known
// are left out.
func (c *Catalogue) Sources(citation string) []Source {
	var found []Source
	table := ""
	for _, id := range splitList(citation) {
		s, ok := c.source(id)
		if !ok && table != "" && strings.Trim(id, "0123456789") == "" {
			s, ok = c.source(table + ":" + id)
		}
		if !ok {
			continue
		}
		if s.Item != "" {
			table, _, _ = strings.Cut(s.ID, ":")
		}
		found = append(found, s)
	}
	return found
}

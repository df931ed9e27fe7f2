package trials

import (
	"strings"
	"unicode"
)

// TasterName returns the name as it is kept: trimmed, inner spaces single. It
// refuses an empty or overlong one, what nobody sees and what a table would take for a
// column.
func TasterName(text string) (string, error) {
	name := strings.Join(strings.Fields(text), " ")
	if name == "" || len([]rune(name)) > 40 || strings.ContainsAny(name, ",;\"=") || strings.ContainsFunc(name, Hidden) {
		return "", Refuse("use a name or a letter, such as \"Taster A\"", "taster name %q cannot be used", text)
	}
	return name, nil
}

// Hidden reports whether a sign cannot be seen in a name, or steers how what stands
// around it is shown.
func Hidden(r rune) bool { return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) }

// roll is the tasters by name, while new ones are added.
type roll struct {
	known map[string]Taster // by the name without case
	fresh []Taster          // those of them who are not in the notebook yet
}

// roll returns the tasters of the notebook. Of two whose names look alike
// the first is found.
func (n *Notebook) roll() *roll {
	r := &roll{known: make(map[string]Taster, len(n.Tasters))}
	for _, t := range n.Tasters {
		if _, taken := r.known[Likeness(t.Name)]; !taken {
			r.known[Likeness(t.Name)] = t
		}
	}
	return r
}

// named finds a taster by name, or adds one.
func (r *roll) named(name string) (Taster, error) {
	name, err := TasterName(name)
	if err != nil {
		return Taster{}, err
	}
	key := Likeness(name)
	t, known := r.known[key]
	if !known {
		t = Taster{Record: Record{ID: NewID(), Name: name}}
		r.known[key] = t
		r.fresh = append(r.fresh, t)
	}
	return t, nil
}

// caseless returns one text for all that strings.EqualFold calls equal: of each
// letter's forms the one that Unicode lists first.
func caseless(name string) string {
	return strings.Map(func(letter rune) rune {
		first := letter
		for form := unicode.SimpleFold(letter); form != letter; form = unicode.SimpleFold(form) {
			first = min(first, form)
		}
		return first
	}, name)
}

// Merge is what joining two names of one person moves and drops.
type Merge struct {
	From, Into Taster
	Moved      []Score      // scores that now belong to Into
	Dropped    []Score      // scores of From where Into had scored the same
	Notes      []TasterNote // free text that moves

	MovedPlaces   []Place // serving orders that now belong to Into
	DroppedPlaces []Place // of From in tastings where Into has an order

	MovedDosings   []Dosing // glasses dosed to taste that now belong to Into
	DroppedDosings []Dosing // of From in tastings where Into has such glasses
}

// MergeTasters works out the joining of two tasters. Where both scored the
// same attribute of the same serving, the score of into stays.
func (n *Notebook) MergeTasters(from, into Taster) Merge {
	type cell struct{ serving, attribute string }
	has := map[cell]bool{}
	for _, s := range n.Scores {
		if s.TasterID == into.ID {
			has[cell{s.ServingID, s.Attribute}] = true
		}
	}
	m := Merge{From: from, Into: into}
	for _, s := range n.Scores {
		switch {
		case s.TasterID != from.ID:
		case has[cell{s.ServingID, s.Attribute}]:
			m.Dropped = append(m.Dropped, s)
		default:
			s.TasterID = into.ID
			m.Moved = append(m.Moved, s)
		}
	}
	m.places(n)
	m.dosings(n)
	for _, t := range n.TasterNotes {
		if t.TasterID == from.ID {
			t.TasterID = into.ID
			m.Notes = append(m.Notes, t)
		}
	}
	return m
}

// places hands the serving orders on, but for tastings where into has one.
func (m *Merge) places(n *Notebook) {
	for _, p := range n.Places {
		switch {
		case p.TasterID != m.From.ID:
		case len(n.OrderOf(p.TastingID, m.Into.ID)) > 0:
			m.DroppedPlaces = append(m.DroppedPlaces, p)
		default:
			p.TasterID = m.Into.ID
			m.MovedPlaces = append(m.MovedPlaces, p)
		}
	}
}

// dosings hands the glasses dosed to taste on, but for tastings where into has some.
func (m *Merge) dosings(n *Notebook) {
	has := map[string]bool{}
	for _, d := range n.Dosings {
		has[d.TastingID] = has[d.TastingID] || d.TasterID == m.Into.ID
	}
	for _, d := range n.Dosings {
		switch {
		case d.TasterID != m.From.ID:
		case has[d.TastingID]:
			m.DroppedDosings = append(m.DroppedDosings, d)
		default:
			d.TasterID = m.Into.ID
			m.MovedDosings = append(m.MovedDosings, d)
		}
	}
}

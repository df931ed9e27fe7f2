package trials

import (
	"slices"

	"hedgerow/trials/catalogue"
)

// Handling is a material as it is used. A form or method that is not known yet is
// empty.
type Handling struct {
	MaterialKey string // key of the material
	Form        string // one of Forms
	Method      string // one of Methods
}

// Handling is the material of the extract as it is used.
func (x Extract) Handling() Handling { return Handling{x.MaterialKey, x.Form, x.Method} }

// Handling is the material of the addition as it is used; it has no key for a liquid
// or a pour.
func (a Addition) Handling() Handling { return Handling{a.MaterialKey, a.Form, a.Method} }

// Handling is the material of the design as it is used.
func (d Design) Handling() Handling { return Handling{d.MaterialKey, d.Form, d.Method} }

// Concerned returns the cautions of a list that hold for the handling, or may: one about
// what a handling does not tell, such as whether it was picked, holds for all and says
// so.
func (u Handling) Concerned(list []Caution) []Caution {
	var kept []Caution
	for _, c := range list {
		known, is := u.has(c.Form)
		switch {
		case !known:
			kept = append(kept, c)
		case is:
			c.Form = "" // it need not be said again which form it is about
			kept = append(kept, c)
		}
	}
	return kept
}

// has reports whether a material is used in a form of the table of cautions, and whether
// that is known at all.
func (u Handling) has(form string) (known, is bool) {
	hot := u.Method == MethodBoil || u.Method == MethodFlameOut || u.Method == MethodTea
	switch form {
	case "dried":
		return u.Form != "", slices.Contains([]string{"whole", "cut", "crushed", "powder"}, u.Form)
	case "fresh":
		return u.Form != "", slices.Contains([]string{"fresh", "fresh-cut", "zest"}, u.Form)
	case "heated":
		return u.Method != "", hot
	case "unheated", "raw":
		return u.Method != "", !hot
	case "spirit":
		return u.Method != "", u.Method == MethodTincture
	}
	return false, false
}

// EntryCautions returns what is to be said of a material when it is logged: its
// serious cautions, but not those of another form, and of the general ones (pick with
// care, keep dry) only those that no earlier entry of the notebook has brought up.
func (n *Notebook) EntryCautions(u Handling) []Caution {
	var said []string
	for _, earlier := range n.materialsLogged() {
		for _, c := range n.SeriousCautions(earlier) {
			said = append(said, c.HazardCode)
		}
	}
	return slices.DeleteFunc(u.Concerned(n.SeriousCautions(u.MaterialKey)), func(c Caution) bool {
		return c.Scope == catalogue.ScopeGeneral && slices.Contains(said, c.HazardCode)
	})
}

// EntryCautionsIn is EntryCautions for what goes into a batch: of a material that is in
// it already, but for what must not go on, all was said.
func (n *Notebook) EntryCautionsIn(batchID string, u Handling) []Caution {
	list := n.EntryCautions(u)
	before := slices.ContainsFunc(n.Additions, func(a Addition) bool {
		if a.ExtractID != nil {
			x, _ := n.ExtractByID(*a.ExtractID)
			return a.BatchID == batchID && x.MaterialKey == u.MaterialKey
		}
		return a.BatchID == batchID && a.MaterialKey == u.MaterialKey
	})
	if !before {
		return list
	}
	return slices.DeleteFunc(list, func(c Caution) bool { return c.Level != levelStop })
}

// levelStop is the level of a caution that is said every time.
const levelStop = "stop"

// materialsLogged returns the keys of what was steeped or put into a batch, each
// once.
func (n *Notebook) materialsLogged() []string {
	var keys []string
	for _, a := range n.Additions {
		keys = append(keys, a.MaterialKey)
	}
	for _, x := range n.Extracts {
		keys = append(keys, x.MaterialKey)
	}
	slices.Sort(keys)
	return slices.DeleteFunc(slices.Compact(keys), func(key string) bool { return key == "" })
}

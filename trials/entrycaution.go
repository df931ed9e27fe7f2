package trials

import (
	"slices"

	"hedgerow/trials/catalogue"
)

// EntryCautions returns what is to be said of a material when it is logged: its
// serious cautions, but of the general ones (pick with care, keep dry) only those
// that no earlier entry of the notebook has brought up.
func (n *Notebook) EntryCautions(key string) []Caution {
	var said []string
	for _, earlier := range n.materialsLogged() {
		for _, c := range n.SeriousCautions(earlier) {
			said = append(said, c.HazardCode)
		}
	}
	return slices.DeleteFunc(n.SeriousCautions(key), func(c Caution) bool {
		return c.Scope == catalogue.ScopeGeneral && slices.Contains(said, c.HazardCode)
	})
}

// EntryCautionsIn is EntryCautions for what goes into a batch: of a material that is in
// it already, but for what must not go on, all was said.
func (n *Notebook) EntryCautionsIn(batchID, key string) []Caution {
	list := n.EntryCautions(key)
	before := slices.ContainsFunc(n.Additions, func(a Addition) bool {
		if a.ExtractID != nil {
			x, _ := n.ExtractByID(*a.ExtractID)
			return a.BatchID == batchID && x.MaterialKey == key
		}
		return a.BatchID == batchID && a.MaterialKey == key
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

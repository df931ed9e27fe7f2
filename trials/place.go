package trials

import (
	"cmp"
	"slices"
	"strings"
)

// Place is the position of one serving in the order of one taster.
type Place struct {
	ID        string `json:"id"`         // stable random id
	TastingID string `json:"tasting_id"` // id of the tasting
	TasterID  string `json:"taster_id"`  // id of the taster
	ServingID string `json:"serving_id"` // id of the serving
	Position  int    `json:"position"`   // from 1
}

// Evening is a tasting as it is set up: servings, and an order for each taster.
type Evening struct {
	Tasting    Tasting   // the tasting itself
	Servings   []Serving // in the order of their codes
	Tasters    []Taster  // who gets an order
	NewTasters []Taster  // those of them who are not in the notebook yet
	Orders     [][]int   // Orders[t][p] is the index of the serving that Tasters[t] gets at position p, from 0
}

// Places returns the orders as records. The servings must have their ids.
func (v Evening) Places() []Place {
	var list []Place
	for t, order := range v.Orders {
		list = append(list, placesOf(v.Tasting, v.Tasters[t], v.Servings, order)...)
	}
	return list
}

// placesOf turns the order of one taster into records.
func placesOf(t Tasting, taster Taster, servings []Serving, order []int) []Place {
	list := make([]Place, len(order))
	for p, s := range order {
		list[p] = Place{TastingID: t.ID, TasterID: taster.ID, ServingID: servings[s].ID, Position: p + 1}
	}
	return list
}

// Join returns the records that give one more taster an order in a tasting that
// is already set up. order holds indexes into ServingsOf.
func (n *Notebook) Join(t Tasting, taster Taster, order []int) []Place {
	return placesOf(t, taster, n.ServingsOf(t.ID), order)
}

// CheckJoin refuses a taster who has an order already, and a tasting that is
// over.
func (n *Notebook) CheckJoin(t Tasting, taster Taster) error {
	if t.ClosedAt != nil {
		return Refuse("a late score needs no order: hedgerow tasting score "+t.Name+" --taster ... --replace",
			"tasting %s is closed", t.Name)
	}
	if t.Alone {
		return Refuse("set up another tasting, with --tasters 2", "tasting %s is done by one person alone", t.Name)
	}
	if len(n.OrderOf(t.ID, taster.ID)) > 0 {
		return Refuse("hedgerow tasting sheet "+t.Name+" --taster "+quote(taster.Name),
			"%s has an order in tasting %s already", taster.Name, t.Name)
	}
	return nil
}

// OrderOf returns the servings of a tasting in the order of a taster, nothing
// where that taster has none.
func (n *Notebook) OrderOf(tastingID, tasterID string) []Serving {
	var places []Place
	for _, p := range n.Places {
		if p.TastingID == tastingID && p.TasterID == tasterID {
			places = append(places, p)
		}
	}
	slices.SortFunc(places, func(a, b Place) int { return cmp.Compare(a.Position, b.Position) })
	var list []Serving
	for _, p := range places {
		i := slices.IndexFunc(n.Servings, func(s Serving) bool { return s.ID == p.ServingID })
		if i >= 0 {
			list = append(list, n.Servings[i])
		}
	}
	return list
}

// Expected returns the tasters who have an order in a tasting, by name.
func (n *Notebook) Expected(tastingID string) []Taster {
	var list []Taster
	for _, t := range n.Tasters {
		if slices.ContainsFunc(n.Places, func(p Place) bool { return p.TastingID == tastingID && p.TasterID == t.ID }) {
			list = append(list, t)
		}
	}
	slices.SortFunc(list, func(a, b Taster) int { return cmp.Compare(a.Name, b.Name) })
	return list
}

// TastersNamed returns the tasters of the given names in that order, and apart
// those of them who are not in the notebook yet.
func (n *Notebook) TastersNamed(names []string) (all, fresh []Taster, err error) {
	r := n.roll()
	for _, name := range names {
		t, err := r.named(name)
		if err != nil {
			return nil, nil, err
		}
		// by id, for two spellings can be one taster
		if slices.ContainsFunc(all, func(o Taster) bool { return o.ID == t.ID }) {
			return nil, nil, Refuse("name each taster once", "taster %q is named twice", strings.TrimSpace(name))
		}
		all = append(all, t)
	}
	return all, r.fresh, nil
}

// DefaultFlight is how many glasses are poured before a pause unless something
// else is asked for: past six the palate tires (common practice, no source).
// strongFlight is the same for chilli, smoke, strong spice and very tart beer.
const DefaultFlight, strongFlight = 6, 3

// Flights parts so many glasses into flights of at most FlightSize, as even as
// they can be.
func (t Tasting) Flights(glasses int) []int {
	size := max(t.FlightSize, 1)
	count := max((glasses+size-1)/size, 1)
	flights := make([]int, count)
	for i := range glasses {
		flights[i%count]++
	}
	return flights
}

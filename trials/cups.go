package trials

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// CupsUnread reports whether a tasting done alone still goes by the places of its cups:
// the codes under them were not read yet. Until then the servings, in the order of their
// codes, stand for the places.
func (t Tasting) CupsUnread() bool { return t.Alone && t.PlacesReadAt == nil }

// byPlace gives the servings of a tasting done alone the numbers of the places in the
// stead of their codes.
func byPlace(servings []Serving) {
	for i := range servings {
		servings[i].Code = strconv.Itoa(i + 1)
	}
}

// CupsRead is what changes once the codes under them were read.
type CupsRead struct {
	Tasting Tasting      // with the time of the reading, and closed
	Before  []Score      // scores as they were kept by place
	After   []Score      // the same, each with the serving that stood there
	Notes   []TasterNote // with the serving that stood there
}

// ReadCups works out which beer stood at which place from "1=367 2=839 ..", one for each
// cup.
func (n *Notebook) ReadCups(t Tasting, said []string, now time.Time) (CupsRead, error) {
	r := CupsRead{Tasting: t}
	if err := n.checkCups(t); err != nil {
		return r, err
	}
	var coded []Serving
	for _, s := range n.Servings {
		if s.TastingID == t.ID {
			coded = append(coded, s)
		}
	}
	slices.SortFunc(coded, func(a, b Serving) int { return cmp.Compare(a.Code, b.Code) })
	stood, err := cupsSaid("cup", coded, said)
	if err != nil {
		return r, err
	}
	for _, s := range n.Scores {
		if s.TastingID != t.ID {
			continue
		}
		r.Before = append(r.Before, s)
		// written anew: two that change places would for a moment be one
		s.ID, s.ServingID = "", stood[s.ServingID]
		r.After = append(r.After, s)
	}
	for _, x := range n.TasterNotes {
		if x.TastingID == t.ID {
			x.ServingID = stood[x.ServingID]
			r.Notes = append(r.Notes, x)
		}
	}
	r.Tasting.PlacesReadAt, r.Tasting.ClosedAt = &now, &now
	return r, nil
}

// checkCups refuses a tasting whose cups are not to be read.
func (n *Notebook) checkCups(t Tasting) error {
	switch {
	case !t.Alone:
		return Refuse("hedgerow tasting close "+t.Name, "tasting %s was not done alone; its codes are known", t.Name)
	case t.PlacesReadAt != nil:
		return Refuse("hedgerow tasting show "+t.Name+"; hedgerow undo takes the reading back",
			"the codes of tasting %s were read already", t.Name)
	case !slices.ContainsFunc(n.Scores, func(s Score) bool { return s.TastingID == t.ID }):
		return Refuse("score first: hedgerow tasting score "+t.Name+" --taster .. --serving 1 ..",
			"nothing of tasting %s is scored yet, and once the codes are read it is no longer blind", t.Name)
	}
	return nil
}

// cupsSaid reads which code stood at which place: from the id of the serving that stands
// for a place to that of the serving that stood there.
func cupsSaid(what string, coded []Serving, said []string) (map[string]string, error) {
	stood, used := map[string]string{}, map[string]string{}
	example := "write all " + strconv.Itoa(len(coded)) + ", such as 1=" + coded[len(coded)-1].Code + " 2=" + coded[0].Code
	for _, text := range said {
		place, code, ok := strings.Cut(text, "=")
		at, err := strconv.Atoi(strings.TrimSpace(place))
		if !ok || err != nil || at < 1 || at > len(coded) {
			return nil, Refuse(example, "%q is no place and code", text)
		}
		i := slices.IndexFunc(coded, func(s Serving) bool { return s.Code == strings.TrimSpace(code) })
		switch {
		case i < 0:
			return nil, Refuse("its codes are "+codesOf(coded), "no %s has the code %q", what, code)
		case stood[coded[at-1].ID] != "":
			return nil, Refuse(example, "place %d is named twice", at)
		case used[coded[i].ID] != "":
			return nil, Refuse(example, "code %s is named twice: at %s and at %d", code, used[coded[i].ID], at)
		}
		stood[coded[at-1].ID], used[coded[i].ID] = coded[i].ID, strconv.Itoa(at)
	}
	if len(stood) < len(coded) {
		return nil, Refuse(example, "%d of %d %ss are named", len(stood), len(coded), what)
	}
	return stood, nil
}

// codesOf lists codes.
func codesOf(servings []Serving) string {
	codes := make([]string, len(servings))
	for i, s := range servings {
		codes[i] = s.Code
	}
	return strings.Join(codes, ", ")
}

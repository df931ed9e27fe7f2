package trials

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"hedgerow/trials/catalogue"
	"hedgerow/trials/spelling"
)

// Notebook is all the records at one moment, as read from the store. Reading
// it changes nothing.
type Notebook struct {
	Batches      []Batch           // with children
	Losses       []Loss            // of all batches
	Packagings   []Packaging       // one a batch at most
	BatchNotes   []BatchNote       // of all batches
	Extracts     []Extract         // with passes and top-ups
	Additions    []Addition        // to all batches
	Readings     []Reading         // of all batches
	Meters       []Meter           // hydrometers and pH meters
	Calibrations []Calibration     // of pH meters
	Claims       []Claim           // on all materials
	Materials    []OwnMaterial     // the user's own
	Tasters      []Taster          // of all tastings
	Tastings     []Tasting         // open and closed
	Servings     []Serving         // of all tastings
	Places       []Place           // of servings in the orders of tasters
	Plans        []Plan            // that were written down
	ToTastes     []ToTaste         // of tastings that are dosed to taste
	Droppers     []Dropper         // of these tastings
	Dosings      []Dosing          // glasses of these tastings, noted or not
	Scores       []Score           // read only for commands that need them
	TasterNotes  []TasterNote      // read with the scores
	Marks        []Mark            // on tastings; undo does not take them away
	Suggestions  []Suggestion      // the last of each material, as it was given
	Settings     map[string]string // the user's settings by key
	Now          time.Time         // the moment of the reading; what is still going on is reckoned up to it
}

// Find returns the record of that name, else the first whose name looks the same,
// or a Problem that names near misses.
func Find[T any](what, name string, list []T, nameOf func(T) string) (T, error) {
	names := make([]string, 0, len(list))
	for _, r := range list {
		if nameOf(r) == name {
			return r, nil
		}
		names = append(names, nameOf(r))
	}
	for i, other := range names {
		if Likeness(other) == Likeness(name) {
			return list[i], nil
		}
	}
	var none T
	return none, &Problem{Code: NotFound, Message: "no " + what + " " + quote(name), Hint: missingHint(what, name, names)}
}

// missingHint says which records come near, or how to list them.
func missingHint(what, name string, names []string) string {
	if asked := spelling.DidYouMean(name, names); asked != "" {
		return asked
	}
	if len(names) == 0 {
		return "there is no " + what + " yet"
	}
	slices.Sort(names)
	if len(names) > 8 {
		names = append(names[:8], "...")
	}
	return "there is " + strings.Join(names, ", ")
}

// quote puts a name in double quotes.
func quote(s string) string { return `"` + s + `"` }

// Batch returns the batch of that name.
func (n *Notebook) Batch(name string) (Batch, error) {
	return Find("batch", name, n.Batches, func(b Batch) string { return b.Name })
}

// BatchByID returns the batch with that id.
func (n *Notebook) BatchByID(id string) (Batch, bool) {
	i := slices.IndexFunc(n.Batches, func(b Batch) bool { return b.ID == id })
	if i < 0 {
		return Batch{}, false
	}
	return n.Batches[i], true
}

// Extract returns the extract of that name.
func (n *Notebook) Extract(name string) (Extract, error) {
	return Find("extract", name, n.Extracts, func(e Extract) string { return e.Name })
}

// ExtractByID returns the extract with that id.
func (n *Notebook) ExtractByID(id string) (Extract, bool) {
	i := slices.IndexFunc(n.Extracts, func(e Extract) bool { return e.ID == id })
	if i < 0 {
		return Extract{}, false
	}
	return n.Extracts[i], true
}

// Addition returns the addition of that name.
func (n *Notebook) Addition(name string) (Addition, error) {
	return Find("addition", name, n.Additions, func(a Addition) string { return a.Name })
}

// Reading returns the reading of that name.
func (n *Notebook) Reading(name string) (Reading, error) {
	return Find("reading", name, n.Readings, func(r Reading) string { return r.Name })
}

// Claim returns the claim of that name.
func (n *Notebook) Claim(name string) (Claim, error) {
	return Find("claim", name, n.Claims, func(c Claim) string { return c.Name })
}

// OwnMaterial returns the user's material of that name.
func (n *Notebook) OwnMaterial(name string) (OwnMaterial, error) {
	return Find("own material", name, n.Materials, func(m OwnMaterial) string { return m.Name })
}

// Meter returns the meter of that name.
func (n *Notebook) Meter(name string) (Meter, error) {
	return Find("meter", name, n.Meters, func(m Meter) string { return m.Name })
}

// Tasting returns the tasting of that name.
func (n *Notebook) Tasting(name string) (Tasting, error) {
	return Find("tasting", name, n.Tastings, func(t Tasting) string { return t.Name })
}

// TastingByID returns the tasting with that id.
func (n *Notebook) TastingByID(id string) (Tasting, bool) {
	i := slices.IndexFunc(n.Tastings, func(t Tasting) bool { return t.ID == id })
	if i < 0 {
		return Tasting{}, false
	}
	return n.Tastings[i], true
}

// Taster returns the taster of that name.
func (n *Notebook) Taster(name string) (Taster, error) {
	return Find("taster", name, n.Tasters, func(t Taster) string { return t.Name })
}

// TasterName returns the name of the taster with that id.
func (n *Notebook) TasterName(id string) string {
	for _, t := range n.Tasters {
		if t.ID == id {
			return t.Name
		}
	}
	return unknownTaster
}

// unknownTaster stands for a taster whose record is not there.
const unknownTaster = "unknown taster"

// Packaged returns the packaging of a batch, if it has been packaged.
func (n *Notebook) Packaged(batchID string) (Packaging, bool) {
	i := slices.IndexFunc(n.Packagings, func(p Packaging) bool { return p.BatchID == batchID })
	if i < 0 {
		return Packaging{}, false
	}
	return n.Packagings[i], true
}

// Children returns the batches split from a batch, in time order.
func (n *Notebook) Children(batchID string) []Batch {
	var kids []Batch
	for _, b := range n.Batches {
		if b.ParentID != nil && *b.ParentID == batchID {
			kids = append(kids, b)
		}
	}
	slices.SortStableFunc(kids, compareStart)
	return kids
}

// ServingsOf returns the servings of a tasting in the order of their codes; of one done
// alone, while its codes are not read, with the numbers of the places for codes.
func (n *Notebook) ServingsOf(tastingID string) []Serving {
	var list []Serving
	for _, s := range n.Servings {
		if s.TastingID == tastingID {
			list = append(list, s)
		}
	}
	slices.SortFunc(list, func(a, b Serving) int { return cmp.Compare(a.Code, b.Code) })
	if slices.ContainsFunc(n.Tastings, func(t Tasting) bool { return t.ID == tastingID && t.CupsUnread() }) {
		byPlace(list)
	}
	return list
}

// CheckTime refuses an event before its batch began, and, unless forced, one
// after the batch was packaged.
func (n *Notebook) CheckTime(b Batch, what string, at time.Time, force bool) error {
	if at.Before(b.StartedAt) {
		event, start := Apart(at, b.StartedAt)
		return Refuse("give a later --at, or correct the start with: hedgerow batch edit "+Typed(b.Name)+" --at ...",
			"the %s at %s is before batch %s began at %s", what, event, b.Name, start)
	}
	p, packaged := n.Packaged(b.ID)
	// losses and readings go on as bottles are opened; only what goes into a closed one can burst it
	if packaged && at.After(p.At) && what == "addition" && !force {
		return Refuse("if it really was opened again, repeat with --force; fermentable sugar in a closed bottle can burst it",
			"batch %s was packaged on %s", b.Name, p.At.Local().Format(time.DateOnly))
	}
	return nil
}

// With returns the notebook with one loss, reading, batch, meter, packaging or extract added, or
// put in the place of the one with its id. The notebook itself stays as it was.
func (n *Notebook) With(record any) *Notebook {
	// shallow: only the list that changes is copied, as notebooks of years are tried out with one record
	with := *n
	switch r := record.(type) {
	case Batch:
		with.Batches = Replaced(n.Batches, r, func(x Batch) string { return x.ID })
	case Loss:
		with.Losses = Replaced(n.Losses, r, func(x Loss) string { return x.ID })
	case Reading:
		with.Readings = Replaced(n.Readings, r, func(x Reading) string { return x.ID })
	case Meter:
		with.Meters = Replaced(n.Meters, r, func(x Meter) string { return x.ID })
	case Packaging:
		with.Packagings = Replaced(n.Packagings, r, func(x Packaging) string { return x.ID })
	case Extract:
		with.Extracts = Replaced(n.Extracts, r, func(x Extract) string { return x.ID })
	}
	return &with
}

// Replaced returns a copy of list in which r stands in the place of the record
// with its id, or at the end.
func Replaced[T any](list []T, r T, id func(T) string) []T {
	out := slices.Clone(list)
	i := slices.IndexFunc(out, func(x T) bool { return id(x) == id(r) })
	if i < 0 {
		return append(out, r)
	}
	out[i] = r
	return out
}

// ReplaceExtract puts a corrected extract in the place of the one with its id.
func (n *Notebook) ReplaceExtract(x Extract) {
	for i := range n.Extracts {
		if n.Extracts[i].ID == x.ID {
			n.Extracts[i] = x
		}
	}
}

// ReplaceAddition puts a corrected addition in the place of the one with its id.
func (n *Notebook) ReplaceAddition(a Addition) {
	for i := range n.Additions {
		if n.Additions[i].ID == a.ID {
			n.Additions[i] = a
		}
	}
}

// SeriousCautions returns the cautions of a material of level warn and stop,
// those about a process left out.
func (n *Notebook) SeriousCautions(key string) []Caution {
	materials, err := n.Catalogue()
	if err != nil {
		// an unreadable catalogue is reported by whoever looks a material up; a caution must not stop the log
		return nil
	}
	m, ok := materials.Get(key)
	if !ok {
		return nil
	}
	var list []Caution
	for _, c := range materials.Cautions(m) {
		if c.Level.AtLeast(catalogue.LevelWarn) && c.About != catalogue.AboutProcess {
			list = append(list, c)
		}
	}
	return list
}

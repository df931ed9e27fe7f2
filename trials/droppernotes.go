package trials

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// DropperEvening is an evening of dosing to taste as it is set up.
type DropperEvening struct {
	Tasting    Tasting   // the tasting itself
	ToTaste    ToTaste   // its steps
	Extract    *Extract  // made for it; nil for one that is there
	Droppers   []Dropper // in the order of their codes
	Tasters    []Taster  // who gets glasses
	NewTasters []Taster  // those of them who are not in the notebook yet
	Glasses    []Dosing  // of all tasters, without their droppers
	Uses       []int     // Uses[i] is the index of the dropper of Glasses[i]
}

// DropNotes are what one taster noted of one glass, as entered.
type DropNotes struct {
	Taster  string // name of the taster
	Glass   string // up, down or the number of the glass
	Dropper string // code; empty for the one that was drawn
	Right   *int   // step, nil for not noted
	Past    *int   // step
	Stopped *int   // step
	Where   string // line of a table, for messages
}

// DropEntry is what entering notes writes.
type DropEntry struct {
	Glasses  []Dosing // with their notes
	Replaced int      // how many had notes before
}

// EnterDrops works out what notes write into the glasses of an evening. A glass that has
// notes is refused unless replace is true. Nothing is returned unless every line is good.
func (n *Notebook) EnterDrops(t Tasting, notes []DropNotes, replace bool, now time.Time) (DropEntry, error) {
	var entry DropEntry
	s, ok := n.ToTasteOf(t.ID)
	if !ok {
		return entry, Refuse("score it with: hedgerow tasting score "+t.Name+" --serving CODE",
			"tasting %s is not dosed to taste", t.Name)
	}
	entered := map[string]bool{}
	for _, x := range notes {
		d, err := n.noteDrops(t, s, x, replace, now)
		if err == nil && entered[d.ID] {
			err = Refuse("leave one of them out", "glass %d of %s stands there twice", d.Number, n.TasterName(d.TasterID))
		}
		if err != nil {
			p := ProblemOf(err).(*Problem) // ProblemOf gives nothing but Problems
			if x.Where != "" {
				p.Message = x.Where + ": " + p.Message
			}
			return DropEntry{}, p
		}
		if old, _ := n.dosing(d.ID); old.Noted() {
			entry.Replaced++
		}
		entered[d.ID] = true
		entry.Glasses = append(entry.Glasses, d)
	}
	return entry, nil
}

// dosing returns the glass with that id.
func (n *Notebook) dosing(id string) (Dosing, bool) {
	i := slices.IndexFunc(n.Dosings, func(d Dosing) bool { return d.ID == id })
	if i < 0 {
		return Dosing{}, false
	}
	return n.Dosings[i], true
}

// noteDrops is one glass with its notes.
func (n *Notebook) noteDrops(t Tasting, s ToTaste, x DropNotes, replace bool, now time.Time) (Dosing, error) {
	d, err := n.GlassOf(t, x.Taster, x.Glass)
	if err != nil {
		return d, err
	}
	if d.Noted() && !replace {
		return d, Refuse("repeat with --replace to put the new notes in their place",
			"%s has already noted glass %s of tasting %s",
			n.TasterName(d.TasterID), x.Glass, t.Name)
	}
	if x.Dropper != "" {
		if t.CupsUnread() {
			return d, Refuse("leave the code out and say at the end: hedgerow tasting places "+t.Name+" 1=.. 2=..",
				"which dropper stood where in tasting %s is not to be known yet", t.Name)
		}
		droppers := n.DroppersOf(t.ID)
		i := slices.IndexFunc(droppers, func(o Dropper) bool { return o.Code == strings.TrimSpace(x.Dropper) })
		if i < 0 {
			return d, &Problem{Code: NotFound, Message: "no dropper " + quote(x.Dropper) + " in tasting " + t.Name,
				Hint: "its droppers are " + dropperCodes(droppers)}
		}
		d.DropperID = droppers[i].ID
	}
	d.Right, d.Past, d.Stopped = x.Right, x.Past, x.Stopped
	if !d.Noted() {
		return d, Refuse("write right=6, "+pastKey(d.Direction)+"=9, or stopped=12 where neither came", "nothing was noted")
	}
	at := now.UTC()
	d.At = &at
	return d, d.Validate(s)
}

// pastKey is how what lies past the right step is typed.
func pastKey(direction string) string { return strings.TrimPrefix(PastWord(direction), "too ") }

// GlassOf finds a glass of a taster by its direction or its number.
func (n *Notebook) GlassOf(t Tasting, taster, glass string) (Dosing, error) {
	if taster == "" {
		return Dosing{}, Refuse("add --taster A", "who tasted is missing")
	}
	who, err := n.Taster(taster)
	if err != nil {
		return Dosing{}, err
	}
	number, numberErr := strconv.Atoi(strings.TrimSpace(glass))
	own, found := 0, Dosing{}
	for _, d := range n.DosingsOf(t.ID) {
		if d.TasterID != who.ID {
			continue
		}
		own++
		if numberErr == nil && d.Number == number || d.Direction == strings.ToLower(strings.TrimSpace(glass)) {
			found = d
		}
	}
	switch {
	case own == 0:
		return found, &Problem{Code: NotFound, Message: who.Name + " has no glass in tasting " + t.Name,
			Hint: "hedgerow tasting join " + t.Name + " " + quote(who.Name)}
	case glass == "":
		return found, Refuse("add --glass up or --glass down", "which glass it was is missing")
	case found.ID == "":
		return found, Refuse("write up, down or its number", "%s has no glass %q in tasting %s", who.Name, glass, t.Name)
	}
	return found, nil
}

// dropperCodes lists codes.
func dropperCodes(list []Dropper) string {
	codes := make([]string, len(list))
	for i, d := range list {
		codes[i] = d.Code
	}
	return strings.Join(codes, ", ")
}

// checkDropsClose refuses to close an evening on which nothing was noted, or with a dropper
// that nobody used: a slip in who had which would go unseen.
func (n *Notebook) checkDropsClose(t Tasting, unused []string) error {
	used := map[string]bool{}
	for _, d := range n.DosingsOf(t.ID) {
		if d.Noted() {
			used[d.DropperID] = true
		}
	}
	if len(used) == 0 {
		return Refuse("hedgerow tasting score "+t.Name+" --taster A", "nobody has noted anything of tasting %s", t.Name)
	}
	for _, d := range n.DroppersOf(t.ID) {
		if !used[d.ID] && !slices.Contains(unused, d.Code) {
			return Refuse("note the glasses that it was for: hedgerow tasting score "+t.Name+" --taster A; or, if it stayed "+
				"unused, repeat with --unused "+d.Code, "dropper %s was used by nobody", d.Code)
		}
	}
	return nil
}

// ReadDroppers works out which dropper was used for which glass of an evening done alone,
// from "1=367 2=839", and returns the tasting, closed, and its glasses.
func (n *Notebook) ReadDroppers(t Tasting, said []string, now time.Time) (Tasting, []Dosing, error) {
	if t.PlacesReadAt != nil {
		return t, nil, Refuse("hedgerow tasting show "+t.Name+"; hedgerow undo takes the reading back",
			"the codes of tasting %s were read already", t.Name)
	}
	droppers := n.DroppersOf(t.ID)
	var coded []Serving
	for _, d := range droppers {
		coded = append(coded, Serving{ID: d.ID, Code: d.Code})
	}
	stood, err := cupsSaid("dropper", coded, said)
	if err != nil {
		return t, nil, err
	}
	glasses := n.DosingsOf(t.ID)
	if !slices.ContainsFunc(glasses, Dosing.Noted) {
		return t, nil, Refuse("score first: hedgerow tasting score "+t.Name+" --taster ..",
			"nothing of tasting %s is noted yet, and once the codes are read it is no longer blind", t.Name)
	}
	for i := range glasses {
		glasses[i].DropperID = stood[glasses[i].DropperID]
	}
	t.PlacesReadAt, t.ClosedAt = &now, &now
	return t, glasses, nil
}

package exchange

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hedgerow/trials"
)

// Told is what a person says beside a merge.
type Told struct {
	Tasters   map[string]string // their name of a taster, and ours
	Materials map[string]string // their key of a material, and ours or a built-in one
	Answers   map[string]string // ours or theirs, by Ask.Key
	Mine      bool              // their brews are one's own, made on another machine
	Brewer    string            // what their brewer is called here; empty: Brewer B, C ...
}

// Ask is a record that was changed on both sides.
type Ask struct {
	Kind   string  `json:"kind"`   // kind of the record
	ID     string  `json:"id"`     // its id
	Name   string  `json:"name"`   // its name, or its id
	Key    string  `json:"key"`    // what an answer names: KEY=ours or KEY=theirs
	Fields []field `json:"fields"` // what differs
}

// field is one figure of a record that differs.
type field struct {
	Name   string `json:"name"`   // key of the figure
	Ours   any    `json:"ours"`   // as it is here
	Theirs any    `json:"theirs"` // as it comes in
}

// Remark says what was renamed, joined or left.
type Remark struct {
	About string `json:"about"` // a fixed word for programs, such as renamed
	Text  string `json:"text"`  // for people
}

// Merged is what a merge would do.
type Merged struct {
	Add     *trials.Notebook // new records
	Update  []any            // pointers to records that they changed
	Counts  map[string]int   // new records by kind
	Same    int              // records that both have alike
	Asks    []Ask            // changed on both sides
	Remarks []Remark         // what was taken
	Whole   *trials.Notebook // ours with all of it
}

// merger holds what is known while two notebooks are joined.
type merger struct {
	ours, theirs *trials.Notebook
	told         Told
	out          Merged

	tasters   map[string]string // our id of a taster by theirs
	materials map[string]string // key by key of theirs
	stems     map[string]string // name of a batch by theirs, for the names of its events
}

// Merge works out how theirs joins ours, by the ids of the records. Neither is
// changed.
func Merge(ours, theirs *trials.Notebook, told Told) (Merged, error) {
	told.Answers = maps.Clone(told.Answers) // those that were used are struck out
	m := &merger{ours: ours, theirs: copied(theirs), told: told, tasters: map[string]string{},
		materials: map[string]string{}, stems: map[string]string{}}
	m.out = Merged{Add: &trials.Notebook{}, Counts: map[string]int{}}
	whole := copied(ours)
	m.out.Whole = whole
	for _, step := range []func() error{m.joinTasters, m.joinMaterials, m.renameBatches, m.renameEvents, m.renameOthers,
		m.refer, m.dropClashes, m.checkTheirs} {
		if err := step(); err != nil {
			return Merged{}, err
		}
	}
	m.owners()
	m.join()
	if err := m.checkWhole(); err != nil {
		return Merged{}, err
	}
	if err := m.unasked(); err != nil {
		return Merged{}, err
	}
	m.takeSettings()
	if err := m.nameBrewers(); err != nil {
		return Merged{}, err
	}
	return m.out, nil
}

// copied returns a notebook whose lists can be changed without changing n.
func copied(n *trials.Notebook) *trials.Notebook {
	c := *n
	c.Materials, c.Meters, c.Calibrations = slices.Clone(n.Materials), slices.Clone(n.Meters), slices.Clone(n.Calibrations)
	c.Batches, c.Losses, c.Packagings = slices.Clone(n.Batches), slices.Clone(n.Losses), slices.Clone(n.Packagings)
	c.BatchNotes, c.Extracts, c.Additions = slices.Clone(n.BatchNotes), slices.Clone(n.Extracts), slices.Clone(n.Additions)
	c.Readings, c.Claims, c.Tasters = slices.Clone(n.Readings), slices.Clone(n.Claims), slices.Clone(n.Tasters)
	c.Tastings, c.Servings, c.Places = slices.Clone(n.Tastings), slices.Clone(n.Servings), slices.Clone(n.Places)
	c.Scores, c.TasterNotes = slices.Clone(n.Scores), slices.Clone(n.TasterNotes)
	c.Marks, c.Plans = slices.Clone(n.Marks), slices.Clone(n.Plans)
	c.Suggestions = slices.Clone(n.Suggestions)
	c.ToTastes, c.Droppers, c.Dosings = slices.Clone(n.ToTastes), slices.Clone(n.Droppers), slices.Clone(n.Dosings)
	return &c
}

// remark keeps a remark.
func (m *merger) remark(about, format string, args ...any) {
	m.out.Remarks = append(m.out.Remarks, Remark{about, fmt.Sprintf(format, args...)})
}

// joinTasters takes a taster of theirs for one of ours, where that was said.
func (m *merger) joinTasters() error {
	for their, our := range m.told.Tasters {
		i := slices.IndexFunc(m.theirs.Tasters, func(t trials.Taster) bool {
			return trials.Likeness(t.Name) == trials.Likeness(their)
		})
		if i < 0 {
			return &trials.Problem{Code: trials.NotFound, Message: "their notebook has no " + their,
				Hint: "it has " + strings.Join(namesOf(m.theirs.Tasters, func(t trials.Taster) string { return t.Name }), ", ")}
		}
		into, err := m.ours.Taster(our)
		if err != nil {
			return err
		}
		m.tasters[m.theirs.Tasters[i].ID] = into.ID
		m.theirs.Tasters = slices.Delete(m.theirs.Tasters, i, i+1)
		m.remark("taster_joined", "their %s is our %s", their, into.Name)
	}
	return nil
}

// namesOf collects names in the order of the alphabet.
func namesOf[T any](list []T, name func(T) string) []string {
	var names []string
	for _, r := range list {
		names = append(names, name(r))
	}
	slices.Sort(names)
	return names
}

// joinMaterials takes own materials that are alike for one, and those of which it was
// said; another with a key that is taken gets one of its own.
func (m *merger) joinMaterials() error {
	catalogue, err := m.ours.Catalogue()
	if err != nil {
		return err
	}
	for their := range m.told.Materials {
		if !slices.ContainsFunc(m.theirs.Materials, func(x trials.OwnMaterial) bool { return x.Name == their }) {
			return &trials.Problem{Code: trials.NotFound, Message: fmt.Sprintf("their notebook has no own material %q", their),
				Hint: "it has " + strings.Join(namesOf(m.theirs.Materials,
					func(x trials.OwnMaterial) string { return x.Name }), ", ")}
		}
	}
	taken := takenNames(m.ours.Materials, func(x trials.OwnMaterial) string { return x.Name })
	var kept []trials.OwnMaterial
	for _, x := range m.theirs.Materials {
		if key, joined := m.told.Materials[x.Name]; joined {
			into, ok := catalogue.Get(key)
			if !ok {
				return &trials.Problem{Code: trials.NotFound, Message: fmt.Sprintf("there is no material %q", key),
					Hint: "hedgerow material list shows them"}
			}
			m.materials[x.Name] = into.Key
			m.remark("material_joined", "their %s is %s%s", x.Name, into.Key, m.otherFigures(x, into.Key))
			continue
		}
		alike := slices.IndexFunc(m.ours.Materials, func(o trials.OwnMaterial) bool { return sameMaterial(o, x) })
		if alike >= 0 && m.ours.Materials[alike].ID != x.ID {
			m.materials[x.Name] = m.ours.Materials[alike].Name
			continue
		}
		if !hasID(m.ours.Materials, x.ID, func(o trials.OwnMaterial) string { return o.ID }) {
			m.sayMaybeSame(x)
			if name := taken.free(x.Name, "-"); name != x.Name {
				m.materials[x.Name] = name
				m.remark("renamed", "their material %s is %s here", x.Name, name)
				x.Name = name
			}
		}
		kept = append(kept, x)
	}
	m.theirs.Materials = kept
	return nil
}

// otherFigures names what an own material of ours says otherwise than theirs.
func (m *merger) otherFigures(x trials.OwnMaterial, key string) string {
	i := slices.IndexFunc(m.ours.Materials, func(o trials.OwnMaterial) bool { return o.Name == key })
	if i < 0 {
		return ""
	}
	var parts []string
	for _, f := range fieldsThatDiffer(m.ours.Materials[i], x, "name", "common_name") {
		parts = append(parts, fmt.Sprintf("%s %v there, %v here", f.Name, f.Theirs, f.Ours))
	}
	if len(parts) == 0 {
		return ""
	}
	return "; ours counts: " + strings.Join(parts, "; ")
}

// sayMaybeSame says that a material of theirs has the common name of one of ours.
func (m *merger) sayMaybeSame(x trials.OwnMaterial) {
	for _, o := range m.ours.Materials {
		if o.Name != x.Name && o.CommonName != "" && fold(o.CommonName) == fold(x.CommonName) {
			m.remark("maybe_same_material", "their %s and our %s are both called %q and stay two; --material %s=%s joins them",
				x.Name, o.Name, o.CommonName, x.Name, o.Name)
		}
	}
}

// fold drops what does not tell names apart: letter case, spaces and hyphens, and what
// looks alike.
func fold(name string) string {
	return trials.Likeness(strings.NewReplacer(" ", "", "-", "", "_", "", "#", "", "\u00a0", "").Replace(name))
}

// sameMaterial reports whether two own materials are alike in all but id and times.
func sameMaterial(a, b trials.OwnMaterial) bool { return len(fieldsThatDiffer(a, b, "id")) == 0 }

// hasID reports whether a list has a record with that id.
func hasID[T any](list []T, id string, idOf func(T) string) bool {
	return slices.ContainsFunc(list, func(r T) bool { return idOf(r) == id })
}

// names finds names that are taken.
type names map[string]bool

// takenNames collects the names of a list.
func takenNames[T any](list []T, name func(T) string) names {
	n := names{}
	for _, r := range list {
		n[fold(name(r))] = true
	}
	return n
}

// free returns name, or name with the first number that makes it a new one, and
// takes it.
func (n names) free(name, before string) string {
	out := name
	for i := 2; n[fold(out)]; i++ {
		out = fmt.Sprintf("%s%s%d", name, before, i)
	}
	n[fold(out)] = true
	return out
}

// suffixed reports whether name is the other with a number that free gave it.
func suffixed(name, other string) bool {
	rest, ok := strings.CutPrefix(name, other)
	return ok && len(rest) > 1 && (rest[0] == '-' || rest[0] == ' ') && strings.Trim(rest[1:], "0123456789") == ""
}

// renamed gives a list of theirs names that are free: a record that ours has by its
// id keeps the name that it has here, if the two differ by a number that was given.
func renamed[T any](m *merger, what, before string, ours, theirs []T, record func(*T) *trials.Record) {
	taken := names{}
	byID := map[string]string{}
	for i := range ours {
		r := record(&ours[i])
		taken[fold(r.Name)] = true
		byID[r.ID] = r.Name
	}
	// those that ours has first: what they are called here is settled
	for i := range theirs {
		r := record(&theirs[i])
		if name, known := byID[r.ID]; known && (suffixed(name, r.Name) || suffixed(r.Name, name)) {
			m.stems[r.Name], r.Name = name, name
		}
	}
	for i := range theirs {
		r := record(&theirs[i])
		if _, known := byID[r.ID]; known {
			continue
		}
		if name := taken.free(r.Name, before); name != r.Name {
			if !strings.Contains(r.Name, ".") {
				m.remark("renamed", "their %s %s is %s here", what, r.Name, name)
			}
			m.stems[r.Name], r.Name = name, name
		}
	}
}

// renameBatches gives their batches names that are free.
func (m *merger) renameBatches() error {
	renamed(m, "batch", "-", m.ours.Batches, m.theirs.Batches, func(r *trials.Batch) *trials.Record { return &r.Record })
	return nil
}

// follow renames an event after its batch, extract or material.
func (m *merger) follow(r *trials.Record) {
	stem, event, ok := strings.Cut(r.Name, ".")
	if name, changed := m.stems[stem]; ok && changed {
		r.Name = name + "." + event
	}
}

// events renames a list of theirs after what the events belong to, then where a name
// is taken all the same.
func events[T any](m *merger, ours, theirs []T, record func(*T) *trials.Record) {
	for i := range theirs {
		m.follow(record(&theirs[i]))
	}
	renamed(m, "event", "-", ours, theirs, record)
}

// renameEvents lets the names of events follow those of their batches.
func (m *merger) renameEvents() error {
	o, t := m.ours, m.theirs
	events(m, o.Additions, t.Additions, func(r *trials.Addition) *trials.Record { return &r.Record })
	events(m, o.Readings, t.Readings, func(r *trials.Reading) *trials.Record { return &r.Record })
	events(m, o.Losses, t.Losses, func(r *trials.Loss) *trials.Record { return &r.Record })
	events(m, o.Packagings, t.Packagings, func(r *trials.Packaging) *trials.Record { return &r.Record })
	events(m, o.BatchNotes, t.BatchNotes, func(r *trials.BatchNote) *trials.Record { return &r.Record })
	return nil
}

// renameOthers gives the other records with names of their own names that are free.
func (m *merger) renameOthers() error {
	o, t := m.ours, m.theirs
	renamed(m, "extract", "-", o.Extracts, t.Extracts, func(r *trials.Extract) *trials.Record { return &r.Record })
	renamed(m, "meter", "-", o.Meters, t.Meters, func(r *trials.Meter) *trials.Record { return &r.Record })
	events(m, o.Calibrations, t.Calibrations, func(r *trials.Calibration) *trials.Record { return &r.Record })
	events(m, o.Claims, t.Claims, func(r *trials.Claim) *trials.Record { return &r.Record })
	renamed(m, "tasting", "-", o.Tastings, t.Tastings, func(r *trials.Tasting) *trials.Record { return &r.Record })
	renamed(m, "plan", "-", o.Plans, t.Plans, func(r *trials.Plan) *trials.Record { return &r.Record })
	renamed(m, "taster", " ", o.Tasters, t.Tasters, func(r *trials.Taster) *trials.Record { return &r.Record })
	return nil
}

// refer puts the ids and keys of what was joined into what refers to it.
func (m *merger) refer() error {
	key := func(k *string) {
		if other, changed := m.materials[*k]; changed {
			*k = other
		}
	}
	taster := func(id *string) {
		if other, joined := m.tasters[*id]; joined {
			*id = other
		}
	}
	t := m.theirs
	for i := range t.Additions {
		key(&t.Additions[i].MaterialKey)
	}
	for i := range t.Extracts {
		key(&t.Extracts[i].MaterialKey)
	}
	for i := range t.Claims {
		key(&t.Claims[i].MaterialKey)
	}
	for i := range t.Plans {
		key(&t.Plans[i].MaterialKey)
		key(&t.Plans[i].Design.MaterialKey)
	}
	for i := range t.Suggestions {
		key(&t.Suggestions[i].MaterialKey)
	}
	for i := range t.Scores {
		taster(&t.Scores[i].TasterID)
	}
	for i := range t.Places {
		taster(&t.Places[i].TasterID)
	}
	for i := range t.TasterNotes {
		taster(&t.TasterNotes[i].TasterID)
	}
	for i := range t.Dosings {
		taster(&t.Dosings[i].TasterID)
	}
	return nil
}

// dropClashes leaves what can be there only once to ours: a score of one glass by one
// taster, an order of glasses, the packaging of a batch.
func (m *merger) dropClashes() error {
	type scored struct{ serving, taster, attribute string }
	scores := map[scored]string{}
	for _, s := range m.ours.Scores {
		scores[scored{s.ServingID, s.TasterID, s.Attribute}] = s.ID
	}
	m.theirs.Scores = slices.DeleteFunc(m.theirs.Scores, func(s trials.Score) bool {
		id, has := scores[scored{s.ServingID, s.TasterID, s.Attribute}]
		if has && id != s.ID {
			m.remark("score_kept", "%s scored a serving of both notebooks: ours stays", m.ours.TasterName(s.TasterID))
		}
		return has && id != s.ID
	})
	ordered := map[[2]string]map[string]bool{}
	for _, p := range m.ours.Places {
		at := [2]string{p.TastingID, p.TasterID}
		if ordered[at] == nil {
			ordered[at] = map[string]bool{}
		}
		ordered[at][p.ID] = true
	}
	m.theirs.Places = slices.DeleteFunc(m.theirs.Places, func(p trials.Place) bool {
		ids := ordered[[2]string{p.TastingID, p.TasterID}]
		return ids != nil && !ids[p.ID]
	})
	type glass struct {
		tasting, taster string
		number          int
	}
	dosed := map[glass]string{}
	for _, d := range m.ours.Dosings {
		dosed[glass{d.TastingID, d.TasterID, d.Number}] = d.ID
	}
	m.theirs.Dosings = slices.DeleteFunc(m.theirs.Dosings, func(d trials.Dosing) bool {
		id, has := dosed[glass{d.TastingID, d.TasterID, d.Number}]
		return has && id != d.ID
	})
	m.theirs.Packagings = slices.DeleteFunc(m.theirs.Packagings, func(p trials.Packaging) bool {
		kept, has := m.ours.Packaged(p.BatchID)
		if has && kept.ID != p.ID {
			m.remark("packaging_kept", "%s was packaged in both notebooks: ours stays", kept.Name)
		}
		return has && kept.ID != p.ID
	})
	return nil
}

// owners says whose the brews are that come in: those without a brewer are theirs,
// and ours that come back are ours.
func (m *merger) owners() {
	own := m.ours.Settings[trials.SettingNotebookID]
	their := m.theirs.Settings[trials.SettingNotebookID]
	if their == "" {
		their = unnamedNotebook
	}
	moved := m.moved()
	m.keepSuggestions(moved)
	byID := map[string]string{}
	for _, b := range m.ours.Batches {
		byID[b.ID] = b.Brewer
	}
	for i := range m.theirs.Batches {
		b := &m.theirs.Batches[i]
		brewer, known := byID[b.ID]
		switch {
		case known:
			b.Brewer = brewer
		case b.Brewer == own && own != "":
			b.Brewer = ""
		case b.Brewer == "" && !moved:
			b.Brewer = their
		}
	}
}

// moved reports whether what comes in is one's own, from another machine.
func (m *merger) moved() bool {
	their := m.theirs.Settings[trials.SettingNotebookID]
	return m.told.Mine || isBlank(m.ours) || their != "" && their == m.ours.Settings[trials.SettingNotebookID]
}

// keepSuggestions takes what was last suggested along when one's own notebook moves, where
// it is later than what is here. What another brewer was told is of another panel.
func (m *merger) keepSuggestions(moved bool) {
	last := map[string]trials.Suggestion{}
	for _, s := range m.ours.Suggestions {
		last[s.MaterialKey] = s
	}
	m.theirs.Suggestions = slices.DeleteFunc(m.theirs.Suggestions, func(s trials.Suggestion) bool {
		here, known := last[s.MaterialKey]
		return !moved || known && here.ID != s.ID && !s.At.After(here.At)
	})
}

// unnamedNotebook stands for a notebook that does not tell its id.
const unnamedNotebook = "another notebook"

// isBlank reports whether a notebook has no record at all: what comes in is then the
// notebook itself, moved.
func isBlank(n *trials.Notebook) bool {
	return len(n.Batches)+len(n.Extracts)+len(n.Claims)+len(n.Materials)+len(n.Meters)+len(n.Tasters)+len(n.Tastings) == 0
}

// takeSettings hands the settings and the id on where ours was blank.
func (m *merger) takeSettings() {
	if isBlank(m.ours) {
		m.out.Add.Settings = m.theirs.Settings
		if m.theirs.Settings[trials.SettingNotebookID] == "" {
			delete(m.out.Add.Settings, trials.SettingNotebookID)
		}
	}
}

package exchange

import (
	"maps"
	"slices"

	"hedgerow/trials"
)

// nameBrewers gives every other brewer whose batches are here a name that stays, and
// theirs the one that was said.
func (m *merger) nameBrewers() error {
	their := m.theirs.Settings[trials.SettingNotebookID]
	if their == "" {
		their = unnamedNotebook
	}
	whole := *m.out.Whole
	whole.Settings = map[string]string{}
	// blank, ours takes over what theirs called the others
	for _, from := range []map[string]string{m.out.Add.Settings, m.ours.Settings} {
		maps.Copy(whole.Settings, from)
	}
	if name := m.told.Brewer; name != "" {
		if err := m.checkBrewer(name, their, &whole); err != nil {
			return err
		}
		whole.Settings[trials.SettingBrewer+their] = name
	}
	names := whole.BrewerNames()
	add := maps.Clone(m.out.Add.Settings)
	for _, id := range slices.Sorted(maps.Keys(names)) {
		key := trials.SettingBrewer + id
		if m.ours.Settings[key] == names[id] || add[key] == names[id] {
			continue
		}
		if add == nil {
			add = map[string]string{}
		}
		add[key] = names[id]
		if id == their {
			m.remark("brewer_named", "their brews are those of %s here; --brewer NAME calls them otherwise", names[id])
		}
	}
	m.out.Add.Settings = add
	return nil
}

// checkBrewer refuses a name for their brewer that cannot be used, that is another's, or
// that no brew here needs.
func (m *merger) checkBrewer(name, their string, whole *trials.Notebook) error {
	if err := trials.CheckBrewer(name); err != nil {
		return err
	}
	names := whole.BrewerNames()
	if _, known := names[their]; !known {
		return trials.Refuse("leave --brewer out", "no brew of theirs is another brewer's here: there is nobody to call %q",
			name)
	}
	for id, other := range names {
		// a name that nobody chose gives way
		chosen := m.ours.Settings[trials.SettingBrewer+id] != ""
		if id != their && chosen && trials.Likeness(other) == trials.Likeness(name) {
			return trials.Refuse("choose another", "another brewer is called %q here", other)
		}
	}
	return nil
}

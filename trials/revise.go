package trials

import "time"

// Revise works out what a taster's answers about one glass write when they stand in
// the place of all that the taster said of it before, as on a page that is sent anew:
// scores are replaced, one that is now without an answer goes, and the note takes the
// place of the taster's last one on that glass. What is in the notebook already, word
// for word, writes nothing, so the same page sent twice is kept once.
func (n *Notebook) Revise(t Tasting, m Marks, now time.Time) (Entry, error) {
	note := m.Note
	m.Note = ""
	var entry Entry
	// a note may be put right without a word on the scores
	if len(m.Answers) > 0 {
		var err error
		if entry, err = n.Enter(t, []Marks{m}, true, now); err != nil {
			return Entry{}, err
		}
	}
	d := n.desk(t, true, now.UTC())
	serving, err := d.serving(m.Serving)
	if err != nil {
		return Entry{}, err
	}
	taster, err := d.tasters.named(m.Taster)
	if err != nil {
		return Entry{}, err
	}
	if len(m.Answers) == 0 {
		entry.NewTasters = d.tasters.fresh
	}
	for _, a := range m.Answers {
		old, kept := d.kept[scoreKey{serving.ID, taster.ID, a.Attribute}]
		if kept && a.Intensity == nil && a.Vote == nil && a.Liking == nil {
			entry.Withdrawn = append(entry.Withdrawn, old)
		}
	}
	entry.dropSame(d.kept)
	entry.reviseNote(n, TasterNote{TastingID: t.ID, ServingID: serving.ID, TasterID: taster.ID, At: now.UTC(), Text: note})
	return entry, nil
}

// dropSame leaves out the scores that are in the notebook as they are.
func (e *Entry) dropSame(kept map[scoreKey]Score) {
	var changed []Score
	for _, s := range e.Scores {
		old, known := kept[s.key()]
		if known && same(s.Intensity, old.Intensity) && same(s.Vote, old.Vote) && same(s.Liking, old.Liking) {
			e.Replaced--
			continue
		}
		changed = append(changed, s)
	}
	e.Scores = changed
}

// same reports whether two answers are one, or both missing.
func same[T comparable](a, b *T) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}

// reviseNote puts a note in the place of the taster's last one on the same glass.
func (e *Entry) reviseNote(n *Notebook, note TasterNote) {
	var last TasterNote
	for _, x := range n.TasterNotes {
		if x.ServingID == note.ServingID && x.TasterID == note.TasterID {
			last = x // they are in the order of time
		}
	}
	switch {
	case note.Text == last.Text:
	case note.Text == "":
		e.WithdrawnNotes = append(e.WithdrawnNotes, last)
	default:
		note.ID = last.ID
		e.Notes = append(e.Notes, note)
	}
}

// Empty reports whether an entry writes nothing.
func (e Entry) Empty() bool {
	return len(e.NewTasters)+len(e.Scores)+len(e.Notes)+len(e.Withdrawn)+len(e.WithdrawnNotes) == 0
}

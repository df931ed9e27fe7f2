package trials

import "testing"

// revised enters answers of Taster A on glass 417 and puts them into the notebook.
func revised(t *testing.T, n *Notebook, g Tasting, note string, answers ...string) Entry {
	t.Helper()
	m := Marks{Taster: "Taster A", Serving: "417", Note: note}
	for _, text := range answers {
		a, err := ParseAnswer(text)
		if err != nil {
			t.Fatal(err)
		}
		m.Answers = append(m.Answers, a)
	}
	entry, err := n.Revise(g, m, day(40))
	if err != nil {
		t.Fatal(err)
	}
	for i := range entry.Scores {
		if entry.Scores[i].ID == "" {
			entry.Scores[i].ID = NewID()
		}
	}
	for i := range entry.Notes {
		if entry.Notes[i].ID == "" {
			entry.Notes[i].ID = NewID()
		}
	}
	n.Took(entry)
	return entry
}

// A page that is sent anew stands in the place of the one before: counted by hand.
func TestReviseStandsInThePlaceOfWhatWasSaid(t *testing.T) {
	n, g := evening()
	if e := revised(t, n, g, "hay", "floral=6/right", "Dry finish=2/right", "liking=7"); len(e.Scores) != 3 ||
		len(e.Notes) != 1 {
		t.Fatalf("first: %+v", e)
	}
	if e := revised(t, n, g, "hay", "floral=6/right", "Dry finish=2/right", "liking=7"); !e.Empty() {
		t.Errorf("the same page again writes %+v", e)
	}
	e := revised(t, n, g, "wet hay", "floral=?", "Dry finish=3/much", "liking=7")
	if len(e.Scores) != 1 || e.Replaced != 1 || *e.Scores[0].Intensity != 3 || e.Scores[0].ID == "" {
		t.Errorf("changed: %+v", e.Scores)
	}
	if len(e.Withdrawn) != 1 || e.Withdrawn[0].Attribute != "floral" {
		t.Errorf("an answer that is none any more: %+v", e.Withdrawn)
	}
	if len(e.Notes) != 1 || e.Notes[0].ID != n.TasterNotes[0].ID || len(n.TasterNotes) != 1 {
		t.Errorf("the note is not in the place of the old one: %+v, kept %+v", e.Notes, n.TasterNotes)
	}
	if e := revised(t, n, g, "", "floral=?", "Dry finish=3/much", "liking=7"); len(e.WithdrawnNotes) != 1 {
		t.Errorf("an emptied note stays: %+v", e)
	}
}

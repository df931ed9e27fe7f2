package exchange

import (
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
)

// notebookOf returns an invented notebook with an id and batches, each with its brewer.
func notebookOf(id string, brewers ...string) *trials.Notebook {
	n := &trials.Notebook{Settings: map[string]string{trials.SettingNotebookID: id}}
	for i, brewer := range brewers {
		r := trials.Record{ID: id + string(rune('a'+i)), Name: "beer-" + id + string(rune('a'+i))}
		r.CreatedAt = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
		r.ChangedAt = r.CreatedAt
		n.Batches = append(n.Batches, trials.Batch{Record: r, Kind: trials.KindBatch, StartedAt: r.CreatedAt, VolumeL: 5,
			Brewer: brewer})
	}
	return n
}

// joined merges and returns ours as it is then.
func joined(t *testing.T, ours, theirs *trials.Notebook, told Told) (*trials.Notebook, Merged) {
	t.Helper()
	out, err := Merge(ours, theirs, told)
	if err != nil {
		t.Fatal(err)
	}
	whole := *out.Whole
	whole.Settings = map[string]string{}
	for _, from := range []map[string]string{ours.Settings, out.Add.Settings} {
		for key, value := range from {
			whole.Settings[key] = value
		}
	}
	return &whole, out
}

// A brewer keeps the name that the first merge gave, whoever joins later; a second merge
// brings nothing, and a name that is said takes the place of one that nobody chose.
func TestBrewersKeepTheirNames(t *testing.T) {
	mine := notebookOf("m", "")
	mine, _ = joined(t, mine, notebookOf("z", ""), Told{})
	mine, out := joined(t, mine, notebookOf("f", "", "other"), Told{})
	want := map[string]string{"z": "Brewer B", "f": "Brewer C", "other": "Brewer D"}
	for id, name := range want {
		if got := mine.BrewerNames()[id]; got != name {
			t.Errorf("%s is %q, want %q", id, got, name)
		}
	}
	if len(out.Remarks) != 1 || !strings.Contains(out.Remarks[0].Text, "Brewer C") {
		t.Errorf("remarks %v", out.Remarks)
	}
	if _, out := joined(t, mine, notebookOf("f", "", "other"), Told{}); len(out.Add.Settings) > 0 {
		t.Errorf("a second merge sets %v", out.Add.Settings)
	}
	mine, _ = joined(t, mine, notebookOf("f", "", "other"), Told{Brewer: "Brewer Q"})
	if got := mine.BrewerNames(); got["f"] != "Brewer Q" || got["z"] != "Brewer B" || got["other"] != "Brewer D" {
		t.Errorf("renamed: %v", got)
	}
}

func TestBrewerNamesThatCannotBe(t *testing.T) {
	mine, _ := joined(t, notebookOf("m", ""), notebookOf("z", ""), Told{})
	for name, say := range map[string]string{"brewer b": "is called", "ME": "your own", "a\u202eb": "cannot be used"} {
		if _, err := Merge(mine, notebookOf("f", ""), Told{Brewer: name}); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: %v", name, err)
		}
	}
	// theirs are one's own, or none: there is nobody to name
	if _, err := Merge(mine, notebookOf("f", ""), Told{Brewer: "Brewer F", Mine: true}); err == nil {
		t.Error("a name for one's own brews is taken")
	}
}

// A name that came in with an export and cannot be used is passed over, not shown.
func TestHostileNameOfABrewer(t *testing.T) {
	n := notebookOf("m", "", "x", "y")
	n.Settings[trials.SettingBrewer+"x"] = "\x1b[2Jgone"
	n.Settings[trials.SettingBrewer+"y"] = "Brewer B"
	if got := n.BrewerNames(); got["x"] != "Brewer C" || got["y"] != "Brewer B" {
		t.Errorf("%q", got)
	}
}

// One's own brews that come back from a friend are one's own, also where they are gone
// here, and the friend's own are not.
func TestOwnBrewsComeBackAsOwn(t *testing.T) {
	mine := notebookOf("m", "", "")
	theirs, _ := joined(t, notebookOf("f", ""), mine, Told{})
	mine.Batches = mine.Batches[:1]
	mine, _ = joined(t, mine, theirs, Told{})
	for _, b := range mine.Batches {
		if want := map[bool]string{true: "f"}[strings.HasPrefix(b.ID, "f")]; b.Brewer != want {
			t.Errorf("%s is of %q, want %q", b.Name, b.Brewer, want)
		}
	}
	if len(mine.Batches) != 3 {
		t.Errorf("%d batches, want 3", len(mine.Batches))
	}
}

// What was last suggested moves with one's own notebook, the later of two for a material;
// what a friend was told stays there.
func TestSuggestionsMoveWithTheNotebook(t *testing.T) {
	at := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	given := func(id, material string, days int) trials.Suggestion {
		return trials.Suggestion{ID: id, MaterialKey: material, At: at.AddDate(0, 0, days), Text: "try it", Verdict: "try"}
	}
	theirs := notebookOf("f", "")
	theirs.Suggestions = []trials.Suggestion{given("a", "heather", 3), given("b", "hibiscus", 1), given("c", "yarrow", 0)}
	ours := notebookOf("m", "")
	ours.Suggestions = []trials.Suggestion{given("d", "heather", 2), given("e", "hibiscus", 2)}
	ids := func(out Merged) string {
		var list []string
		for _, s := range out.Add.Suggestions {
			list = append(list, s.ID)
		}
		return strings.Join(list, " ")
	}
	for _, c := range []struct {
		told Told
		want string
	}{{Told{}, ""}, {Told{Mine: true}, "a c"}} {
		if _, out := joined(t, ours, theirs, c.told); ids(out) != c.want {
			t.Errorf("%+v: %q, want %q", c.told, ids(out), c.want)
		}
	}
	theirs.Suggestions[0].Text = "try\x1b[2J it"
	if _, err := Merge(ours, theirs, Told{}); err == nil {
		t.Error("a text with an escape sign is taken")
	}
}

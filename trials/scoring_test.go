package trials

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// evening is a blind tasting of two beers with a repeat, and nothing scored.
func evening() (*Notebook, Tasting) {
	g := Tasting{Record: Record{ID: "g", Name: "evening"}, At: day(40), Attributes: []string{"floral", "Dry finish"},
		Blind: true}
	n := &Notebook{
		Now:     day(60),
		Batches: []Batch{{Record: Record{ID: "b1", Name: "heather-1"}}, {Record: Record{ID: "b2", Name: "heather-2"}}},
		Tasters: []Taster{{Record: Record{ID: "ta", Name: "Taster A"}}}, Tastings: []Tasting{g},
		Servings: []Serving{{ID: "s1", TastingID: "g", BatchID: "b1", Code: "417"},
			{ID: "s2", TastingID: "g", BatchID: "b2", Code: "286"},
			{ID: "s3", TastingID: "g", BatchID: "b1", Code: "953", Repeat: true}},
	}
	return n, g
}

// table reads a pasted table.
func table(text string) ([]Marks, error) {
	_, g := evening()
	return ParseScoreTable(strings.NewReader(text), g)
}

// The same two lines as people would paste them: from a plain file, from
// spreadsheets that use semicolons or tabs with decimal commas, and with the
// apostrophe that a spreadsheet's own export puts before a minus sign.
func TestScoreTablesAsPeoplePasteThem(t *testing.T) {
	cases := map[string]string{
		"commas": "serving,taster,floral,floral vote,liking,note\n417,Taster A,6.5,-1,7,\"soft, " +
			"dry\"\n286,B,4,right,-,\n",
		"semicolons": "serving;taster;floral;floral_vote;liking;note\n417;Taster A;6,5;too little;7;soft, " +
			"dry\n286;B;4;ok;;\n",
		"tabs": "code\twho\tFLORAL\tfloral-vote\toverall\tnotes\n417\tTaster A\t6,5\tlow\t7\tsoft, " +
			"dry\n286\tB\t4\t0\t-\t\n",
		"carriage returns": "serving,taster,floral,floral vote,liking,note\r\n417,Taster A,6.5,little,7,\"soft, " +
			"dry\"\r\n286,B,4,just right,,\r\n",
		"mark of byte order": "\ufeffserving,taster,floral,floral vote,liking,note\n417,Taster A,6.5,-1,7,\"soft, " +
			"dry\"\n286,B,4,right,,\n",
		"comment line": "# evening of the club\nserving,taster,floral,floral vote,liking,note\n417,Taster " +
			"A,6.5,-1,7,\"soft, dry\"\n286,B,4,right,,\n",
		"apostrophe of sheet": "serving,taster,floral,floral vote,liking,note\n417,Taster A,6.5,'-1,7,\"soft, " +
			"dry\"\n286,B,4,right,,\n",
		"skipped columns": "date,serving,taster,floral,floral vote,liking,note\n2026-03-01,417,Taster " +
			"A,6.5,-1,7,\"soft, dry\"\n2026-03-01,286,B,4,right,,\n",
	}
	for name, text := range cases {
		marks, err := table(text)
		if err != nil || len(marks) != 2 {
			t.Errorf("%s: %d lines, %v", name, len(marks), err)
			continue
		}
		a, b := marks[0], marks[1]
		if a.Serving != "417" || a.Taster != "Taster A" || a.Note != "soft, dry" || len(a.Answers) != 2 {
			t.Errorf("%s: first line %+v", name, a)
			continue
		}
		floral, liking := a.Answers[0], a.Answers[1]
		if floral.Attribute != "floral" || *floral.Intensity != 6.5 || *floral.Vote != -1 ||
			liking.Attribute != Overall || *liking.Liking != 7 {
			t.Errorf("%s: first line scored %+v", name, a.Answers)
		}
		if b.Serving != "286" || b.Taster != "B" || len(b.Answers) != 1 || *b.Answers[0].Intensity != 4 ||
			*b.Answers[0].Vote != 0 {
			t.Errorf("%s: second line %+v", name, b)
		}
	}
}

func TestScoreTablesThatCannotBeRead(t *testing.T) {
	cases := []struct{ text, want string }{
		{"", "empty"},
		{"serving,taster,floral\n", "no scores"},
		{"serving,floral\n417,6\n", `no column "taster"`},
		{"taster,floral\nA,6\n", `no column "serving"`},
		{"serving,taster,floran\n417,A,6\n", `"floran"`},
		{"serving,taster,floral\n417,A\n", "line 2 has 2 columns"},
		{"serving,taster,floral\n417,A,6\n286,A,six\n", `line 3: floral "six"`},
		{"serving,taster,floral vote\n417,A,meh\n", `line 2: vote "meh"`},
		{"serving,taster,liking\n417,A,\"7\n", "cannot be read"},
	}
	for _, c := range cases {
		_, err := table(c.text)
		if CodeOf(err) != Invalid || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}

// Numbers that are no ordinary numbers must not get in: the scales refuse them.
func TestScoresThatAreNoNumbers(t *testing.T) {
	for _, cell := range []string{"NaN", "Inf", "-Inf", "1e400", "11", "-1"} {
		n, g := evening()
		marks, err := table("serving,taster,floral\n417,A," + cell + "\n")
		if err == nil {
			_, err = n.Enter(g, marks, false, day(41))
		}
		if CodeOf(err) != Invalid || err == nil {
			t.Errorf("%s was taken: %v", cell, err)
		}
	}
}

func TestParseAnswer(t *testing.T) {
	cases := []struct {
		text string
		want Answer
	}{
		{"floral=6", Answer{Attribute: "floral", Intensity: ptr(6.0)}},
		{"floral=6,5", Answer{Attribute: "floral", Intensity: ptr(6.5)}},
		{"floral=6/right", Answer{Attribute: "floral", Intensity: ptr(6.0), Vote: ptr(0)}},
		{"floral=/much", Answer{Attribute: "floral", Vote: ptr(1)}},
		{" floral = 6 / too little", Answer{Attribute: "floral", Intensity: ptr(6.0), Vote: ptr(-1)}},
		{"liking=7", Answer{Attribute: Overall, Liking: ptr(7.0)}},
		{"overall=7", Answer{Attribute: Overall, Liking: ptr(7.0)}},
	}
	same := func(a, b *float64) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }
	for _, c := range cases {
		got, err := ParseAnswer(c.text)
		voted := (got.Vote == nil) == (c.want.Vote == nil) && (got.Vote == nil || *got.Vote == *c.want.Vote)
		if err != nil || got.Attribute != c.want.Attribute || !same(got.Intensity, c.want.Intensity) ||
			!same(got.Liking, c.want.Liking) || !voted {
			t.Errorf("%q is %+v, %v", c.text, got, err)
		}
	}
	for _, bad := range []string{"", "floral", "floral=", "=6", "floral=six", "floral=6/meh", "liking=seven", "floral=/"} {
		if a, err := ParseAnswer(bad); CodeOf(err) != Invalid || err == nil {
			t.Errorf("%q was read as %+v", bad, a)
		}
	}
}

// A sealed tasting goes by codes alone; an open one by the names of its beers
// too, the hidden repeat by its code only.
func TestServingsGoByCodesWhileSealed(t *testing.T) {
	mark := func(serving string) []Marks {
		return []Marks{{Taster: "A", Serving: serving, Answers: []Answer{{Attribute: "floral", Intensity: ptr(5.0)}}}}
	}
	n, g := evening()
	if _, err := n.Enter(g, mark("heather-1"), false, day(41)); CodeOf(err) != Invalid ||
		!strings.Contains(err.Error(), "blind") {
		t.Errorf("sealed, by name: %v", err)
	}
	if _, err := n.Enter(g, mark("500"), false, day(41)); CodeOf(err) != NotFound {
		t.Errorf("unknown code: %v", err)
	}
	if e, err := n.Enter(g, mark("953"), false, day(41)); err != nil || e.Scores[0].ServingID != "s3" {
		t.Errorf("sealed, by code: %+v, %v", e, err)
	}
	g.ClosedAt = ptr(day(42))
	if e, err := n.Enter(g, mark("heather-1"), false, day(43)); err != nil || e.Scores[0].ServingID != "s1" {
		t.Errorf("closed, by name: %+v, %v", e, err)
	}
	n.Servings[2].Code = "101" // the repeat comes first in the order of codes
	if e, err := n.Enter(g, mark("heather-1"), false, day(43)); err != nil || e.Scores[0].ServingID != "s1" {
		t.Errorf("closed, by name, repeat first: %+v, %v", e, err)
	}
	// A refusal while sealed must not tell what is in a glass.
	g.ClosedAt = nil
	_, err := n.Enter(g, mark("500"), false, day(41))
	if p, ok := err.(*Problem); !ok || strings.Contains(p.Message+p.Hint, "heather") {
		t.Errorf("a sealed tasting tells its beers: %+v", err)
	}
}

// All or nothing: one bad line among good ones writes nothing, and says which.
func TestEnterIsAllOrNothing(t *testing.T) {
	n, g := evening()
	marks, err := table("serving,taster,floral,liking\n417,A,5,6\n286,B,4,12\n")
	if err != nil {
		t.Fatal(err)
	}
	e, err := n.Enter(g, marks, false, day(41))
	if err == nil || !strings.HasPrefix(err.Error(), "line 3: ") || len(e.Scores)+len(e.NewTasters) != 0 {
		t.Errorf("%+v, %v", e, err)
	}
}

func TestEnterTwice(t *testing.T) {
	n, g := evening()
	once := []Marks{{Taster: "taster a", Serving: "417", Answers: []Answer{{Attribute: "floral", Intensity: ptr(5.0)}},
		Note: "soft"}}
	e, err := n.Enter(g, once, false, day(41))
	if err != nil {
		t.Fatal(err)
	}
	if len(e.NewTasters) != 0 || e.Scores[0].TasterID != "ta" || len(e.Notes) != 1 {
		t.Errorf("Taster A by another case: %+v", e)
	}
	e.Scores[0].ID = "k"
	n.Scores = e.Scores
	if _, err := n.Enter(g, once, false, day(41)); err == nil ||
		!strings.Contains(err.Error(), "already scored floral of 417") {
		t.Errorf("scored again: %v", err)
	}
	again, err := n.Enter(g, once, true, day(41))
	if err != nil || again.Replaced != 1 || again.Scores[0].ID != "k" {
		t.Errorf("replaced: %+v, %v", again, err)
	}
	if _, err := n.Enter(g, append(once, once...), true, day(41)); err == nil || !strings.Contains(err.Error(), "twice") {
		t.Errorf("the same glass twice in one table: %v", err)
	}
	if _, err := n.Enter(g, []Marks{{Taster: "A", Serving: "417"}}, false, day(41)); err == nil {
		t.Error("a line without a score was taken")
	}
}

// A new taster is added once, however often the name stands in the table.
func TestNewTastersAreAddedOnce(t *testing.T) {
	n, g := evening()
	marks, err := table("serving,taster,floral\n417,B ,5\n286, b,4\n953,C,3\n")
	if err != nil {
		t.Fatal(err)
	}
	e, err := n.Enter(g, marks, false, day(41))
	if err != nil || len(e.NewTasters) != 2 || e.NewTasters[0].Name != "B" || e.NewTasters[1].Name != "C" {
		t.Fatalf("%+v, %v", e.NewTasters, err)
	}
	if e.Scores[0].TasterID != e.Scores[1].TasterID || e.Scores[0].TasterID == e.Scores[2].TasterID {
		t.Errorf("scores of %v", e.Scores)
	}
}

func TestClosing(t *testing.T) {
	n, g := evening()
	if err := n.CheckClose(g); CodeOf(err) != Invalid || !strings.Contains(err.Error(), "nobody has scored") {
		t.Errorf("unscored: %v", err)
	}
	n.Scores = []Score{{TastingID: "g", ServingID: "s1", TasterID: "ta", Attribute: "floral", Intensity: ptr(5.0)}}
	if err := n.CheckClose(g); err != nil {
		t.Errorf("scored: %v", err)
	}
	open, closed := g, g
	open.Blind, closed.ClosedAt = false, ptr(day(42))
	for what, g := range map[string]Tasting{"not blind": open, "already closed": closed} {
		if err := n.CheckClose(g); CodeOf(err) != Invalid || !strings.Contains(err.Error(), what) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// Whatever is pasted: an answer or a Problem, never a panic.
func TestAnyTableIsReadOrRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cells := rapid.SliceOfN(rapid.SampledFrom([]string{"serving", "taster", "floral", "floral vote", "liking",
			"note", "417", "A", "6", "right", "", "-", "'", "\"", "\x00", "é"}), 0, 20).Draw(t, "cells")
		separators := rapid.SliceOfN(rapid.SampledFrom([]string{",", ";", "\t", "\n", "\r\n", " "}), len(cells),
			len(cells)).Draw(t, "separators")
		var text strings.Builder
		for i, c := range cells {
			text.WriteString(c + separators[i])
		}
		marks, err := table(text.String())
		if err != nil && CodeOf(err) != Invalid {
			t.Fatalf("%q: %v", text.String(), err)
		}
		if err != nil {
			return
		}
		n, g := evening()
		if _, err := n.Enter(g, marks, false, day(41)); err != nil && CodeOf(err) == Failed {
			t.Fatalf("%q: %v", text.String(), err)
		}
	})
}

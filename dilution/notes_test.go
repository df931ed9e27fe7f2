package dilution

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// TestNoteTexts: every remark has a code and a text, each code once, and none has
// neither.
func TestNoteTexts(t *testing.T) {
	if n := Notes(0); n.Each() != nil || n.Code() != "" || n.Text() != "" {
		t.Errorf("no remarks give %v", n.Each())
	}
	all := Notes(1<<len(noteTexts) - 1).Each()
	if len(all) != len(noteTexts) {
		t.Fatalf("%d remarks, want %d", len(all), len(noteTexts))
	}
	seen := map[string]bool{}
	for _, n := range all {
		code, text := n.Code(), n.Text()
		if code == "" || text == "" || seen[code] || strings.HasSuffix(text, ".") {
			t.Errorf("code %q, text %q", code, text)
		}
		seen[code] = true
	}
	if NoteStrong != 1<<(len(noteTexts)-1) || NoteStrong.Code() != "strong" {
		t.Error("remarks and texts have not the same number")
	}
}

// TestValidityNotes: SG above 1.15, and strong with sweet (limits of the model,
// doc.go), are remarked on; an ordinary beer is not.
func TestValidityNotes(t *testing.T) {
	ordinary := must(FromGravities(Gravities{OG: 1.050, FG: 1.012}, 10))(t)
	if n := ordinary.notes(); n != 0 {
		t.Errorf("an ordinary beer has the remark %q", n.Text())
	}
	if n := must(Wort(1.16, 10))(t).notes(); !n.has(NoteDense) {
		t.Error("a wort of 1.16 has no remark")
	}
	strong := must(FromGravities(Gravities{OG: 1.110, FG: 1.030}, 5))(t).
		Plus(must(Spirit{VolumeL: 1.2, TempC: 20, ABVPct: 96}.Portion())(t))
	if n := strong.notes(); !n.has(NoteStrongSweet) {
		t.Errorf("%g %% mass with %g %% extract has no remark", strong.ABWPct(), strong.realExtractPct())
	}
}

// TestStepNotes: an addition brings its remark to its own snapshot.
func TestStepNotes(t *testing.T) {
	og, fg, low, solids := Exactly(1.048), Exactly(1.012), Exactly(0.98), Exactly(8)
	start := Start{VolumeL: Exactly(10), OG: &og, NowSG: &fg, Finished: true}
	cases := []struct {
		name string
		step Step
		want Notes
	}{
		{"water", Add{AddTea{VolumeL: Exactly(1)}}, 0},
		{"tea", Add{AddTea{VolumeL: Exactly(1), SolidsGPerL: &solids}}, NoteColour},
		{"sugar", Add{AddSugar(Sugars()[0], Exactly(0.1))}, NoteFermenting},
		{"juice", Add{AddJuice{VolumeL: Exactly(1), Plato: Exactly(12)}}, NoteFermenting | NoteColour},
		{"spirit", Add{AddSpirit{VolumeL: Exactly(0.1), ABVPct: Exactly(60)}}, NoteSpirit | NoteColour},
		{"beer", Add{AddBeer{start}}, 0},
		{"pulp", LosePulp{FruitKg: Exactly(6), RetainKgPerKg: Exactly(1)}, notePulp},
		{"too low", ReadGravity{SG: low}, noteNoExtract | NoteFurther},
	}
	for _, c := range cases {
		snaps := must(Account{Start: start, Steps: []Step{c.step}}.Run())(t)
		if got := snaps[1].Notes; got != c.want {
			t.Errorf("%s: remarks %b, want %b", c.name, got, c.want)
		}
	}
	expected := Exactly(1.015)
	further := Account{Start: Start{VolumeL: Exactly(10), OG: &og, NowSG: &fg, FinalSG: &expected}}
	if !must(further.Run())(t)[0].Notes.has(NoteFurther) {
		t.Error("a start below its expected final gravity has no remark")
	}
}

// TestInputError: the sentence names the value, what is allowed and what to do;
// Problem leaves the last part out.
func TestInputError(t *testing.T) {
	err := checkSG("final gravity", 10)
	var in *inputError
	if !errors.As(err, &in) {
		t.Fatalf("error %v is no InputError", err)
	}
	if got, want := in.problem(), "final gravity 10 is outside 0.97 to 1.2"; got != want {
		t.Errorf("problem %q, want %q", got, want)
	}
	if got := in.Error(); got != in.problem()+"; "+in.Hint {
		t.Errorf("error %q", got)
	}
	if got := (&inputError{What: "mass", Value: math.Inf(-1),
		Allowed: "is no mass"}).Error(); got != "mass (infinite) is no mass" {
		t.Errorf("error %q", got)
	}
}

// has reports whether all remarks of m are in n. Every set has none at all.
func (n Notes) has(m Notes) bool { return n&m == m }

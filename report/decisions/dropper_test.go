package decisions

import (
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/trials"
)

// An extract can be dosed to taste wherever one goes in, or could be made.
func TestDropperOf(t *testing.T) {
	plant := trials.Material{TypicalForms: []string{"dried", "juice"}, DominantSolute: "volatile-aroma"}
	for _, tt := range []struct {
		method string
		m      trials.Material
		want   evidence.Extract
	}{
		{"tea", plant, evidence.Used}, {"cold-tea", plant, evidence.Used}, {"tincture", plant, evidence.Used},
		{"contact", plant, evidence.Other}, {"boil", plant, evidence.Other}, {"", plant, evidence.Other},
		{"juice", plant, ""}, {"puree", plant, ""},
		{"", trials.Material{DominantSolute: "sugar"}, ""},
		{"contact", trials.Material{TypicalForms: []string{"juice", "puree"}}, ""},
		{"contact", trials.Material{}, evidence.Other},
	} {
		if got := dropperOf(tt.method, tt.m); got != tt.want {
			t.Errorf("%q of %+v: %q, want %q", tt.method, tt.m, got, tt.want)
		}
	}
}

// It is offered first only where nothing else without a brew teaches as much.
func TestDropperFirst(t *testing.T) {
	jars, glasses, dropper := lessonView{Brews: 1}, lessonView{}, lessonView{Extract: "used"}
	for _, tt := range []struct {
		list []lessonView
		want bool
	}{{[]lessonView{jars, dropper, glasses}, true}, {[]lessonView{jars, glasses, dropper}, false},
		{[]lessonView{jars}, false}, {nil, false}} {
		if got := dropperFirst(tt.list); got != tt.want {
			t.Errorf("%+v: %v", tt.list, got)
		}
	}
}

// A glass that was dosed to taste says something by itself, one without a note does not.
func TestDosedToTasteSaysSomething(t *testing.T) {
	right := 2.0
	s := evidence.Study{DosedToTaste: []evidence.ToTaste{{Taster: "A"}}}
	if saysAnything(s) {
		t.Error("a glass without a note says something")
	}
	s.DosedToTaste[0].RightGPerL = &right
	if !saysAnything(s) {
		t.Error("a glass that was right says nothing")
	}
}

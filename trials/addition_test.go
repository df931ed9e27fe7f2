package trials

import (
	"strings"
	"testing"
)

// What each shape of an addition must have, and what it may not be. The limits
// are those that addition.go states; none is a figure of the trade.
func TestAdditionsRefuseWhatCannotBe(t *testing.T) {
	direct := Addition{Stage: StageSecondary, MaterialKey: "heather", Method: MethodContact, Form: "cut", MassG: ptr(40.0)}
	liquid := Addition{Stage: StageSecondary, LiquidKind: "water", VolumeL: ptr(0.6)}
	poured := Addition{Stage: StageSecondary, ExtractID: ptr("x")}
	edit := func(a Addition, f func(*Addition)) error { f(&a); return a.Validate() }
	none := func(*Addition) {}
	cases := []struct {
		what string
		err  error
		want string // empty when good
	}{
		{"a material", edit(direct, none), ""},
		{"a liquid", edit(liquid, none), ""},
		{"an extract", edit(poured, none), ""},
		{"no stage", edit(direct, func(a *Addition) { a.Stage = "" }), `stage ""`},
		{"no mass", edit(direct, func(a *Addition) { a.MassG = nil }), "no mass"},
		{"zero mass", edit(direct, func(a *Addition) { a.MassG = ptr(0.0) }), "mass 0 g"},
		{"a method of extracts", edit(direct, func(a *Addition) { a.Method = MethodTea }), `method "tea"`},
		{"zero time", edit(direct, func(a *Addition) { a.Minutes = ptr(0.0) }), "time 0 min"},
		{"hotter than steam", edit(direct, func(a *Addition) { a.EndC = ptr(140.0) }), "140"},
		{"an unknown agitation", edit(direct, func(a *Addition) { a.Agitation = "shaken" }), "shaken"},
		{"more kept back than can be", edit(direct, func(a *Addition) { a.RetainKgKg = ptr(31.0) }), "31 kg/kg"},
		{"stronger than a still gives", edit(liquid, func(a *Addition) { a.StrengthPct = ptr(97.0) }), "97 % vol"},
		{"nothing poured", edit(poured, func(a *Addition) { a.PouredL = ptr(0.0) }), "poured volume 0 L"},
		{"no amount", edit(liquid, func(a *Addition) { a.VolumeL = nil }), "no amount"},
		{"negative volume", edit(liquid, func(a *Addition) { a.VolumeL = ptr(-0.6) }), "volume -0.6 L"},
		{"negative mass", edit(liquid, func(a *Addition) { a.LiquidMassG = ptr(-5.0) }), "mass -5 g"},
		{"a liquid hotter than steam", edit(liquid, func(a *Addition) { a.VolumeTempC = ptr(111.0) }), "111"},
		{"gravities of another beer swapped", edit(liquid,
			func(a *Addition) { a.LiquidOG, a.LiquidSG = ptr(1.010), ptr(1.050) }), "above the original"},
	}
	for _, c := range cases {
		if c.want == "" && c.err != nil || c.want != "" &&
			(CodeOf(c.err) != Invalid || !strings.Contains(c.err.Error(), c.want)) {
			t.Errorf("%s: %v", c.what, c.err)
		}
	}
}

// The stages before the original gravity is read.
func TestHotWortStages(t *testing.T) {
	for stage, hot := range map[string]bool{StageBoil: true, StageFlameOut: true, StagePrimary: false,
		StageSecondary: false, StagePackaging: false, StageGlass: false} {
		if got := (Addition{Stage: stage}).InWort(); got != hot {
			t.Errorf("%s is in hot wort: %v", stage, got)
		}
	}
}

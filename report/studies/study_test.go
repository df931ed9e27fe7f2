package studies

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
)

// The attribute with the most votes is taken, one asked for must have been
// scored.
func TestAttributeOfASuggestion(t *testing.T) {
	n := invented.Series()
	n.Tastings[0].Attributes = []string{"dry", "tartness"}
	s := invented.SetOf(t, n)
	if got, err := AttributeFor(s, ""); err != nil || got != "tartness" {
		t.Errorf("%q, %v", got, err)
	}
	if got, err := AttributeFor(s, "dry"); err != nil || got != "dry" {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := AttributeFor(s, "smoke"); trials.CodeOf(err) != trials.Invalid ||
		!strings.Contains(err.Error(), "smoke") {
		t.Errorf("%v", err)
	}
}

// The study handed to the inference: votes, intensity and liking of one taster on
// one glass are one score, a control has dose 0, a beer nobody scored stays.
func TestStudyOfASet(t *testing.T) {
	n := invented.Series()
	n.Scores = slices.DeleteFunc(n.Scores, func(s trials.Score) bool {
		return s.ServingID == "club/single" && s.TasterID == "t1"
	})
	study := Of(invented.SetOf(t, n), "tartness")
	if len(study.Trials) != 3 || study.Material != "hibiscus" || study.Attribute != "tartness" {
		t.Fatalf("%+v", study)
	}
	plain, single := study.Trials[0], study.Trials[1]
	if plain.DoseGPerL != 0 || len(plain.Scores) != 3 || len(single.Scores) != 2 {
		t.Errorf("plain %+v, single %+v", plain, single)
	}
	invented.Near(t, "dose", single.DoseGPerL, 30.0895/12.981614, 2e-3)
	a := single.Scores[0]
	if a.Taster != "Taster A" || *a.Intensity != 4 || *a.Vote != -1 || *a.Liking != 6 {
		text, _ := json.Marshal(a)
		t.Errorf("%s", text)
	}
	// Spread of a method: 0.25 of the water class (page on extraction, section 4)
	// and that of the dose itself, in squares.
	if sd := study.MethodPrior[trials.MethodTea].SD; sd < 0.25 || sd > 0.25+invented.SetOf(t, n).SpreadLn(2) {
		t.Errorf("sd of the method %g", sd)
	}
}

// Two teas whose predicted doses are open by 95 % factors of e^0.196 and e^0.392,
// and so by SDs of 0.1 and 0.2: with 0.25 of the class the SD of the method is
// sqrt(0.0625 + (0.01 + 0.04)/2) = 0.2958 (hand calculation), whichever was logged
// last.
func TestMethodPriorTakesAllTrials(t *testing.T) {
	tea := func(sd float64) ledger.Trial {
		return ledger.Trial{Method: "tea", Effective: figure.Estimate{Value: 2, HasBounds: true,
			Low: 2 * math.Exp(-1.96*sd), High: 2 * math.Exp(1.96*sd)}}
	}
	for _, list := range [][]ledger.Trial{{tea(0.1), tea(0.2)}, {tea(0.2), tea(0.1)}} {
		got := methodPriors(ledger.TrialSet{Trials: list})
		invented.Near(t, "sd of the method", got["tea"].SD, 0.2958, 1e-4)
	}
}

// Attributes with as many answers: the sheets decide, not the evening that was
// logged first. One vote is worth more than any number of intensities.
func TestAttributeOfEquals(t *testing.T) {
	sheet := func(attributes ...string) trials.Tasting { return trials.Tasting{Attributes: attributes} }
	a, b := sheet("dry", "tartness"), sheet("tartness", "body", "dry")
	for _, list := range [][]trials.Tasting{{a, b}, {b, a}} {
		s := ledger.TrialSet{Tastings: list}
		if got, err := AttributeFor(s, ""); got != "dry" || err != nil {
			t.Errorf("%q, %v: want dry, the first by name of those that head a sheet", got, err)
		}
		voted := ledger.Scored{Score: trials.Score{Attribute: "body", Vote: invented.Ptr(0)}}
		s.Scores = append(s.Scores, voted)
		for range 1200 {
			s.Scores = append(s.Scores, ledger.Scored{Score: trials.Score{Attribute: "dry", Intensity: invented.Ptr(4.0)}})
		}
		if got, _ := AttributeFor(s, ""); got != "body" {
			t.Errorf("%q, want body, the one voted on", got)
		}
	}
}

// A claim per litre of tea, or one that cannot be converted, is no dose in beer.
func TestClaimsThatAreNoDose(t *testing.T) {
	s := invented.SetOf(t, invented.Series())
	s.Claims = append(s.Claims, trials.Claim{PerTea: true, LowGPerL: invented.Ptr(20.0), HighGPerL: invented.Ptr(30.0)},
		trials.Claim{AsWritten: "a handful"})
	if got := ClaimDoses(s); len(got) != 1 {
		t.Errorf("%v", got)
	}
	s.Claims = nil
	if got := ClaimDoses(s); got == nil || len(got) != 0 {
		t.Errorf("%v", got)
	}
}

// The dose of a plant at its end already counts how long it was in. Two beers that were
// in for different times and each tasted after it therefore differ by their doses
// alone; the contact term is for a beer that was tasted on the way.
func TestTimeInTheBeerCountsOnce(t *testing.T) {
	list := []evidence.Trial{
		{ID: "short", DoseGPerL: 1.2, ContactDays: new(3.0)}, {ID: "long", DoseGPerL: 1.9, ContactDays: new(14.0)},
		{ID: "way", DoseGPerL: 2, ContactDays: new(3.0)}, {ID: "way@17d", DoseGPerL: 2, ContactDays: new(7.0)},
		{ID: "way@60d", DoseGPerL: 2, ContactDays: new(7.0)}, {ID: "tea", DoseGPerL: 1},
	}
	timesOnTheWay(list, []string{"a", "b", "c", "c", "c", "d"})
	for i, want := range []float64{0, 0, 3, 7, 7, 0} {
		if got := list[i].ContactDays; (got == nil) != (want == 0) || got != nil && *got != want {
			t.Errorf("%s: %v days in the study, want %v", list[i].ID, got, want)
		}
	}
}

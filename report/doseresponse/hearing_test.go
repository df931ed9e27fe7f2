package doseresponse

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hedgerow/report/evidence"
)

// byOther makes trials those of another brewer and of tasters P, Q, R ...
func byOther(brewer string, list ...evidence.Trial) []evidence.Trial {
	for i := range list {
		list[i].ID, list[i].Brewer = brewer+" "+list[i].ID, brewer
		for j := range list[i].Scores {
			list[i].Scores[j].Taster = brewer + string(rune('P'+j))
		}
	}
	return list
}

// jarsAbout are trials of four tasters that put the right dose near d.
func jarsAbout(d float64) []evidence.Trial {
	return []evidence.Trial{trial("1", d/2.2, -1, -1, -1, -1), trial("2", d/1.3, -1, 0, 0, 0),
		trial("3", d*1.3, 0, 0, 1, 0), trial("4", d*2.2, 1, 1, 1, 1)}
}

// answered returns the answer as JSON.
func answered(t *testing.T, s evidence.Study) string {
	t.Helper()
	text, err := json.Marshal(mustFit(t, s, Options{}).Answer())
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Own trials may say that they are one's own, and naming the panel alone says nothing:
// the answer is the same to the last digit.
func TestOwnTrialsByNameChangeNothing(t *testing.T) {
	s := eightfold(trial("a", 2, -1, 0, -1), trial("b", 4, 0, 1, 0))
	want := answered(t, s)
	if strings.Contains(want, `"others"`) {
		t.Error("others are in an answer without any")
	}
	for i := range s.Trials {
		s.Trials[i].Brewer = evidence.Me
	}
	s.Panel, s.Others = []string{"A", "B", "C", "D"}, []evidence.OtherDose{}
	if got := answered(t, s); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// Others who like it stronger pull the dose up, with more weight when nobody of one's
// own has scored; own votes that contradict them keep it near where they put it.
func TestOthersPullTheDose(t *testing.T) {
	others := byOther("Brewer B", jarsAbout(7)...)
	for name, own := range map[string][]evidence.Trial{
		"none": nil, "one brew": {trial("a", 2.5, 0, 0, -1, 0)},
		"against them": {trial("a", 2, 0, 0, 0, 0), trial("b", 4, 1, 1, 1, 1)},
	} {
		p := mustFit(t, eightfold(slices.Concat(own, others)...), Options{})
		with, a := p.RightDose(), p.Answer().Others
		without := mustFit(t, eightfold(own...), Options{}).RightDose()
		if !(with.Value > without.Value) || with.Value > 5 {
			t.Errorf("%s: %.2f g/L, without them %.2f", name, with.Value, without.Value)
		}
		if !reflect.DeepEqual(*a.Without, without) {
			t.Errorf("%s: without %v, want %v", name, *a.Without, without)
		}
		if name == "against them" && with.Value > without.Value*1.25 {
			t.Errorf("own votes gave way: %.2f g/L, without them %.2f", with.Value, without.Value)
		}
	}
}

// What others vote refuses no dose, is no liking, no vote of the panel and no beer to
// brew again: everything but the right dose is as if they had not scored.
func TestOthersVotesAreNotOfThePanel(t *testing.T) {
	own := []evidence.Trial{liked(trial("a", 2, 0, -1, 0), 7, 6, 7)}
	disliked := jarsAbout(3)
	for i := range disliked {
		disliked[i] = liked(disliked[i], 1, 1, 1, 1)
	}
	p := mustFit(t, eightfold(slices.Concat(own, byOther("Brewer B", disliked...))...), Options{})
	alone := mustFit(t, eightfold(own...), Options{})
	if got, want := p.refused(), alone.refused(); got != want {
		t.Errorf("refused %v, want %v", got, want)
	}
	if got, want := p.prob.Tasters, alone.prob.Tasters; !slices.Equal(got, want) {
		t.Errorf("tasters %v, want %v", got, want)
	}
	a, b := p.Answer(), alone.Answer()
	if math.Abs(*a.PAnyDoseLiked-*b.PAnyDoseLiked) > 0.1 || a.Facts.Again[1] != b.Facts.Again[1] {
		t.Errorf("liked %.2f and %.2f, again %v and %v", *a.PAnyDoseLiked, *b.PAnyDoseLiked, a.Facts.Again, b.Facts.Again)
	}
}

// Votes that go nowhere, and beers that nobody scored, are left out and named; the
// answer is that of the own trials to the last digit but for what is said of them.
func TestOthersLeftOut(t *testing.T) {
	own := []evidence.Trial{trial("a", 2, 0, -1, 0)}
	random := byOther("Brewer B", trial("1", 1, 1, 1, 0, 1), trial("2", 2, -1, -1, 1, -1), trial("3", 4, 1, 1, 1, 0),
		trial("4", 8, -1, -1, -1, 1), trial("5", 16, -1, 0, -1, -1))
	for i := range random {
		for j := range random[i].Scores {
			random[i].Scores[j].Intensity = nil
		}
	}
	silent := byOther("Brewer C", trial("1", 3))
	p := mustFit(t, eightfold(slices.Concat(own, random, silent)...), Options{})
	a := p.Answer()
	if a.Others.Brewers != 0 || a.Others.Trials != 0 || a.Others.Worth != 0 || a.Others.Right != nil || a.Others.Z != nil {
		t.Errorf("others count: %+v", a.Others)
	}
	if !slices.Contains(a.WarningCodes, otherLeftOutCode) || slices.Contains(a.WarningCodes, fromOthersCode) {
		t.Errorf("codes %v", a.WarningCodes)
	}
	want := "left out: Brewer B's 5 trials (the votes do not follow the dose), Brewer C's trials (nobody has scored " +
		"a dose)"
	if got := texts(a.Warnings); !slices.Contains(got, want) {
		t.Errorf("warnings %q", got)
	}
	alone := mustFit(t, eightfold(own...), Options{}).Answer()
	if !reflect.DeepEqual(a.RightDose, alone.RightDose) || a.Next != alone.Next || a.Verdict != alone.Verdict {
		t.Errorf("%v %v, want %v %v", a.RightDose, a.Next, alone.RightDose, alone.Next)
	}
}

// Without claims and own scores what others brewed is all there is; when that tells
// nothing either there is no answer.
func TestOthersAlone(t *testing.T) {
	s := evidence.Study{ID: "s", Trials: byOther("Brewer B", jarsAbout(5)...)}
	a := mustFit(t, s, Options{}).Answer()
	if a.RightDose.Value < 3.5 || a.RightDose.Value > 7 || a.Others.Without != nil || a.Others.Z != nil {
		t.Errorf("%v, others %+v", a.RightDose, a.Others)
	}
	if a.Verdict != Try || !slices.Contains(a.WarningCodes, noOwnScoresCode) ||
		slices.Contains(a.WarningCodes, noScoresCode) {
		t.Errorf("%s, codes %v", a.Verdict, a.WarningCodes)
	}
	s.Trials = byOther("Brewer B", trial("1", 3))
	if _, err := Fit(s, Options{}); !errors.Is(err, evidence.ErrNotEnough) {
		t.Errorf("err = %v, want ErrNotEnough", err)
	}
}

// By hand: a printed 4 g/L, 2 to 8, of four tasters has the variance
// 0.42137^2 + 0.35^2/4 = 0.2081747, with 2 x 0.6^2 for one brewer 0.9281747: the interval
// about 4 reaches x/÷ exp(1.645 x 0.9634182) = 4.8783, and is worth 0.17/0.9281747 =
// 0.18316. By another method than one's own 0.25 more: 0.17/1.1781747 = 0.14429.
func TestPrintedDoseOfAnother(t *testing.T) {
	s := eightfold(trial("a", 2, 0, -1, 0, -1))
	s.Others = []evidence.OtherDose{{Brewer: "Brewer B", RightGPerL: 4, LowGPerL: 2, HighGPerL: 8, Trials: 6, Tasters: 4,
		Method: "tea"}}
	a := mustFit(t, s, Options{}).Answer().Others
	if math.Abs(a.Right.Value-4) > 1e-9 || math.Abs(*a.Right.High/4-4.8783) > 1e-3 || math.Abs(a.Worth-0.18316) > 1e-4 {
		t.Errorf("%v worth %g", *a.Right, a.Worth)
	}
	s.Others[0].Method = "tincture"
	if a := mustFit(t, s, Options{}).Answer().Others; math.Abs(a.Worth-0.14429) > 1e-4 {
		t.Errorf("by another method worth %g", a.Worth)
	}
	// who shows the trials is not counted twice
	s.Trials = append(s.Trials, byOther("Brewer B", jarsAbout(3)...)...)
	if a := mustFit(t, s, Options{}).Answer().Others; a.Trials != 4 || a.Brewers != 1 {
		t.Errorf("%d trials of %d brewers", a.Trials, a.Brewers)
	}
}

// Trials by another method alone tell less: their word has 0.5^2 more variance.
func TestAnotherMethodTellsLess(t *testing.T) {
	worth := func(method string) float64 {
		list := byOther("Brewer B", jarsAbout(4)...)
		for i := range list {
			list[i].Method = method
		}
		return mustFit(t, eightfold(append(list, trial("a", 2, 0, -1, 0, -1))...), Options{}).Answer().Others.Worth
	}
	same, other := worth("tea"), worth("tincture")
	if got := 0.17/other - 0.17/same; math.Abs(got-0.25) > 1e-9 {
		t.Errorf("variance %.4f more by another method, want 0.25", got)
	}
}

// The dose without own trials is for the method of the others, so it is compared with
// theirs at no loss.
func TestMethodOfOthersIsAskedForWithoutOwnTrials(t *testing.T) {
	p := mustFit(t, eightfold(byOther("Brewer B", jarsAbout(4)...)...), Options{})
	if p.Reference() != "tea" || p.heard.by[0].word != p.heard.by[0].right {
		t.Errorf("reference %q, words %v", p.Reference(), p.heard.by[0])
	}
}

// The order in which trials and brewers are listed changes nothing.
func TestOrderOfOthersChangesNothing(t *testing.T) {
	s := eightfold(slices.Concat(byOther("Brewer C", jarsAbout(3)...), []evidence.Trial{trial("a", 2, 0, -1, 0)},
		byOther("Brewer B", jarsAbout(6)...))...)
	s.Others = []evidence.OtherDose{{Brewer: "Brewer E", RightGPerL: 4, LowGPerL: 2, HighGPerL: 8, Tasters: 4},
		{Brewer: "Brewer D", RightGPerL: 5, LowGPerL: 2, HighGPerL: 8, Tasters: 4}}
	want := answered(t, s)
	slices.Reverse(s.Trials)
	slices.Reverse(s.Others)
	if got := answered(t, s); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// A taste to avoid that was scored in another brewer's beer limits nothing here.
func TestOthersDoNotLimit(t *testing.T) {
	s := eightfold(append(byOther("Brewer B", jarsAbout(3)...), trial("a", 2, 0, -1, 0))...)
	s.Avoid = []evidence.Avoid{{Attribute: "bitter", AtMost: 3, Scores: []evidence.AvoidScore{
		{Trial: "Brewer B 1", Taster: "P", Intensity: 9}, {Trial: "a", Taster: "A", Intensity: 1}}}}
	if a := mustFit(t, s, Options{}).Answer(); slices.Contains(a.WarningCodes, limitedCode) {
		t.Errorf("codes %v", a.WarningCodes)
	}
}

// What the own panel found against what others say: one in ten by chance is not said.
func TestOthersDiffer(t *testing.T) {
	own := []evidence.Trial{trial("a", 4, 1, 1, 1, 1), trial("b", 2, 0, 0, 0, 0)}
	for dose, want := range map[float64]bool{3: false, 14: true} {
		a := mustFit(t, eightfold(slices.Concat(own, byOther("Brewer B", jarsAbout(dose)...))...), Options{}).Answer()
		if got := slices.Contains(a.WarningCodes, othersDifferCode); got != want || want != (*a.Others.Z > 1.645) {
			t.Errorf("others at %g g/L: differ %v, z %.2f", dose, got, *a.Others.Z)
		}
	}
}

// atOthers makes trials those of another brewer at which the tasters A, B, C ... scored.
func atOthers(brewer string, list ...evidence.Trial) []evidence.Trial {
	for i := range list {
		list[i].ID, list[i].Brewer = brewer+" "+list[i].ID, brewer
	}
	return list
}

// Half of the own panel or more at another brewer's table: their votes count, those of
// strangers there do not, and less than half is as strangers are.
func TestOwnPeopleAtOthers(t *testing.T) {
	s := eightfold(atOthers("Brewer B", jarsAbout(4)...)...)
	s.Panel = []string{"A", "B", "C", "D", "E", "F", "G", "H"}
	shared := mustFit(t, s, Options{})
	a := shared.Answer()
	if got := a.Others.By[0].Shared; !slices.Equal(got, []string{"A", "B", "C", "D"}) ||
		!slices.Contains(a.WarningCodes, sharedCode) || slices.Contains(a.WarningCodes, noOwnScoresCode) {
		t.Errorf("shared by %v, codes %v", got, a.WarningCodes)
	}
	for i := range s.Trials {
		s.Trials[i].Scores = append(s.Trials[i].Scores, score("Z", 1, 9))
	}
	if got := mustFit(t, s, Options{}).RightDose(); !reflect.DeepEqual(got, a.RightDose) {
		t.Errorf("with a stranger at the table %v, want %v", got, a.RightDose)
	}
	s.Panel = append(s.Panel, "I")
	a = mustFit(t, s, Options{}).Answer()
	if len(a.Others.By[0].Shared) > 0 || slices.Contains(a.WarningCodes, sharedCode) || a.Others.By[0].Tasters != 5 {
		t.Errorf("four of nine: %+v", a.Others.By[0])
	}
}

// Own people's votes at others' narrow the answer more than strangers' do, and yet are no
// verdict: no dose is refused, none is to be brewed again, nothing is settled by them.
func TestVotesAtOthersAreNoVerdict(t *testing.T) {
	jars := append(jarsAbout(4), trial("5", 4, 0, 0, 0, 0), trial("6", 4.1, 0, 0, 0, 0), trial("7", 3.9, 0, 0, 0, 0))
	strangers := mustFit(t, eightfold(byOther("Brewer B", slices.Clone(jars)...)...), Options{})
	s := eightfold(atOthers("Brewer B", jarsAbout(4)...)...)
	s.Panel = []string{"A", "B", "C", "D"}
	p := mustFit(t, s, Options{})
	a := p.Answer()
	width := func(p *Posterior) float64 { return *p.RightDose().High / *p.RightDose().Low }
	if width(p) >= width(strangers) {
		t.Errorf("own people x%.1f, strangers x%.1f", width(p), width(strangers))
	}
	if a.Verdict != Try || p.side() != 0 || p.refused() != (refusedDoses{0, math.Inf(1)}) || len(a.Camps) > 0 ||
		a.PAnyDoseLiked != nil || len(p.brewedDoses()) > 0 || a.Facts.Scored {
		t.Errorf("%s, side %d, refused %v, camps %v, liked %v, again %v, scored %v", a.Verdict, p.side(), p.refused(),
			a.Camps, a.PAnyDoseLiked, p.brewedDoses(), a.Facts.Scored)
	}
	if p.Memory() == nil || len(p.Memory()) > 0 {
		t.Errorf("remembered %v", p.Memory())
	}
}

// With own brews beside them the votes at others' count less than the same votes at
// home, and all figures of the own beers are those of the own beers alone.
func TestOwnBrewsBesideGuests(t *testing.T) {
	own := []evidence.Trial{trial("a", 2, 0, -1, 0, 0), trial("b", 3, 0, 0, 1, 0)}
	s := eightfold(slices.Concat(own, atOthers("Brewer B", jarsAbout(6)...))...)
	p := mustFit(t, s, Options{})
	alone := mustFit(t, eightfold(own...), Options{}).RightDose()
	home := jarsAbout(6)
	atHome := mustFit(t, eightfold(slices.Concat(own, home)...), Options{}).RightDose()
	if v := p.RightDose().Value; !(alone.Value < v && v < atHome.Value) {
		t.Errorf("%.2f g/L, alone %.2f, as votes at home %.2f", v, alone.Value, atHome.Value)
	}
	if lo, hi := p.triedRange(); lo != 2 || hi != 3 || len(p.brewedDoses()) != 2 {
		t.Errorf("tried %g to %g, brewed %v", lo, hi, p.brewedDoses())
	}
	if votes, beers := p.study.VotesCast(); votes != 8 || beers != 2 {
		t.Errorf("%d votes on %d beers", votes, beers)
	}
	s = eightfold(append(atOthers("Brewer B", jarsAbout(6)...), trial("a", 2, -1, -1, -1, -1))...)
	if p := mustFit(t, s, Options{}); p.side() != -1 || p.refused().tooLittle != 2 {
		t.Errorf("side %d, refused %v", p.side(), p.refused())
	}
}

// By hand: a shared brewer whose word has the variance v is worth 0.17/(v + 2 x 0.45^2)
// with four tasters, beside a stranger of v' the two precisions add.
func TestWorthOfSharedAndStrangers(t *testing.T) {
	s := eightfold(slices.Concat(atOthers("Brewer B", jarsAbout(4)...), byOther("Brewer C", jarsAbout(5)...))...)
	s.Panel = []string{"A", "B", "C", "D"}
	p := mustFit(t, s, Options{})
	v := []float64{p.heard.by[0].word.Var, p.heard.by[1].word.Var}
	want := 0.17/(v[0]+0.405) + 0.17/(v[1]+0.72)
	if a := p.Answer().Others; math.Abs(a.Worth-want) > 1e-9 || *a.SD != 0.6 || a.Brewers != 2 || a.Trials != 8 {
		t.Errorf("worth %g, want %g; %+v", a.Worth, want, a)
	}
}

// Whatever own people and others scored where, by which method and of what age, there is an
// answer of numbers that hold together, or a refusal.
func TestAnyStudyWithOthersIsAnswered(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	pick := func(list ...string) string { return list[rng.IntN(len(list))] }
	for n := range 40 {
		s := evidence.Study{ID: fmt.Sprint(n), ClaimsGPerL: [][2]float64{{1, 8}}, Attribute: "aroma"}
		for i := range 2 + rng.IntN(6) {
			var votes []int
			for range rng.IntN(5) {
				votes = append(votes, rng.IntN(3)-1)
			}
			tr := trial(fmt.Sprint(i), math.Exp(3*rng.Float64()-1), votes...)
			tr.Brewer, tr.Method, tr.Group = pick("", "", "Brewer B", "Brewer C"), pick("tea", "contact"), pick("", "g", "h")
			tr.Kind = evidence.Kind(pick("batch", "jar", "glass"))
			days := float64(20 + 40*rng.IntN(3))
			tr.DaysOld, tr.ContactDays, tr.Lot = &days, &days, pick("", "x", "y")
			if rng.IntN(2) == 0 {
				tr = liked(tr, []float64{3, 7, 8, 2}[:len(votes)]...)
			}
			s.Trials = append(s.Trials, tr)
		}
		if n%3 == 0 {
			s.Panel, s.ClaimsGPerL = []string{"A", "B", "E"}, nil
		}
		p, err := Fit(s, Options{Approximate: true})
		if errors.Is(err, evidence.ErrNotEnough) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		p.Teach(evidence.Other)
		a := p.Answer()
		if _, err := json.Marshal(a); err != nil {
			t.Errorf("study %d: %v", n, err)
		}
		if sum := a.Next.PTooLittle + a.Next.PRight + a.Next.PTooMuch; math.Abs(sum-1) > 1e-9 ||
			*a.RightDose.Low > a.RightDose.Value || a.RightDose.Value > *a.RightDose.High {
			t.Errorf("study %d: shares sum to %g, %v", n, sum, a.RightDose)
		}
	}
}

package ledger

import (
	"slices"
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
)

// brew is one batch of an invented series: 12 L at 1.048, fermented to 1.010 on
// day 10; on day 11 it gets its liquid. All ids are the names.
func brew(n *trials.Notebook, name string) {
	n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: name, Name: name, CreatedAt: day(0)},
		Kind: trials.KindBatch, StartedAt: day(0), VolumeL: 12, OG: ptr(1.048)})
	n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{ID: name + ".r1", Name: name + ".r1"},
		BatchID: name, At: day(10), SG: ptr(1.010), VolumeL: ptr(12.0)})
}

// pour puts the tea of case A, k times as much of everything, into a batch.
func pour(n *trials.Notebook, batch string, k float64, material string) {
	x := jugTea()
	x.ID, x.Name, x.MassG, x.MaterialKey = "tea of "+batch, "tea-"+batch, 36*k, material
	for i := range x.Passes {
		x.Passes[i].VolumeL *= k
	}
	n.Extracts = append(n.Extracts, x)
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: batch + ".a1", Name: batch + ".a1"},
		BatchID: batch, At: day(11), Stage: trials.StageSecondary, ExtractID: ptr(x.ID)})
}

// serve puts batches on the table at a tasting, with one score for each.
func serve(n *trials.Notebook, g trials.Tasting, batches ...string) {
	g.ID = g.Name
	g.Attributes = []string{"tartness"}
	n.Tastings = append(n.Tastings, g)
	for i, b := range batches {
		id := g.Name + "/" + b
		n.Servings = append(n.Servings, trials.Serving{ID: id, TastingID: g.ID, BatchID: b, Code: string(rune('1'+i)) + "00"})
		n.Scores = append(n.Scores, trials.Score{ID: id, TastingID: g.ID, ServingID: id, TasterID: "ta",
			Attribute: "tartness", Intensity: ptr(float64(i)), At: g.At})
	}
}

// series is an invented series: none, once and twice the tea of case A in three
// batches, tasted in a closed tasting.
func series() *trials.Notebook {
	n := &trials.Notebook{Now: day(60), Tasters: []trials.Taster{{Record: trials.Record{ID: "ta", Name: "Taster A"}}}}
	brew(n, "plain")
	brew(n, "double")
	brew(n, "single")
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "plain.a1", Name: "plain.a1"},
		BatchID: "plain", At: day(11), Stage: trials.StageSecondary, LiquidKind: "water", VolumeL: ptr(0.75)})
	pour(n, "double", 2, "hibiscus")
	pour(n, "single", 1, "hibiscus")
	serve(n, trials.Tasting{Record: trials.Record{Name: "club"}, At: day(30), Blind: true, ClosedAt: ptr(day(31))},
		"double", "plain", "single")
	return n
}

// setOf gathers the trials of hibiscus, which must work.
func setOf(t testing.TB, n *trials.Notebook) TrialSet {
	t.Helper()
	m, ok := shipped(t).Get("hibiscus")
	if !ok {
		t.Fatal("hibiscus is not in the catalogue")
	}
	s, err := Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// trialNames lists the trials in their order.
func trialNames(s TrialSet) string {
	var list []string
	for _, t := range s.Trials {
		list = append(list, t.Batch.Name)
	}
	return strings.Join(list, " ")
}

// By dose, the control first. Case A: 30.090 g in 12.981614 L; twice as much of
// everything in 12 + 1.963228 L.
func TestTrialsInOrderOfDose(t *testing.T) {
	s := setOf(t, series())
	if got := trialNames(s); got != "plain single double" {
		t.Fatalf("trials %s", got)
	}
	near(t, "single", s.Trials[1].Effective.Value, 30.0895/12.981614, 1e-3)
	near(t, "double", s.Trials[2].Effective.Value, 2*30.0895/13.963228, 1e-3)
	near(t, "single as weighed", s.Trials[1].AsWeighed, 36/12.981614, 1e-3)
	if !s.Trials[0].Control || s.Trials[1].Control || s.Trials[1].Method != trials.MethodTea {
		t.Errorf("control %v %v, method %q", s.Trials[0].Control, s.Trials[1].Control, s.Trials[1].Method)
	}
	near(t, "liquid of the control", s.Trials[0].AddedL, 0.75, 0)
	near(t, "liquid of the single", s.Trials[1].AddedL, 0.981614, 1e-6)
	// Example 1 of the page on dilution: 4.959 % vol before anything went in.
	for _, trial := range s.Trials {
		near(t, trial.Batch.Name+": strength before", trial.ABVBefore, 4.959, 0.006)
	}
	if s.Trials[1].TastedAt == nil || !s.Trials[1].TastedAt[0].Equal(day(30)) || !s.Trials[1].BrewedAt.Equal(day(0)) ||
		!s.Trials[1].AddedAt.Equal(day(11)) {
		t.Errorf("tasted %v, brewed %v, added %v", s.Trials[1].TastedAt, s.Trials[1].BrewedAt, s.Trials[1].AddedAt)
	}
}

// Scores of a sealed tasting are not looked at; peeked and open ones count, and
// are named.
func TestSealedPeekedAndOpenTastings(t *testing.T) {
	n := series()
	serve(n, trials.Tasting{Record: trials.Record{Name: "waiting"}, At: day(32), Blind: true}, "single", "double")
	serve(n, trials.Tasting{Record: trials.Record{Name: "looked"}, At: day(33), Blind: true, PeekedAt: ptr(day(33)),
		ClosedAt: ptr(day(34))}, "single", "double")
	serve(n, trials.Tasting{Record: trials.Record{Name: "seen"}, At: day(35)}, "single", "double")
	serve(n, trials.Tasting{Record: trials.Record{Name: "looked-and-waiting"}, At: day(36), Blind: true,
		PeekedAt: ptr(day(36))}, "single")
	s := setOf(t, n)
	for what, got := range map[string][2][]string{
		"sealed": {s.Sealed, {"waiting", "looked-and-waiting"}}, "peeked": {s.Peeked, {"looked"}}, "open": {s.Open, {"seen"}},
	} {
		if !slices.Equal(got[0], got[1]) {
			t.Errorf("%s: %v, want %v", what, got[0], got[1])
		}
	}
	var from []string
	for _, sc := range s.Scores {
		from = append(from, sc.TastingID)
	}
	if got := strings.Join(from, " "); got != "club club club looked looked seen seen" {
		t.Errorf("scores from %s", got)
	}
	for _, trial := range s.Trials {
		for _, at := range trial.TastedAt {
			if at.Equal(day(32)) || at.Equal(day(36)) {
				t.Errorf("%s is said to be tasted at the sealed tasting", trial.Batch.Name)
			}
		}
	}
}

// A beer served only in a sealed tasting is a trial without a score, and its
// companions do not become controls.
func TestOnlyServedSealed(t *testing.T) {
	n := series()
	brew(n, "other")
	n.Tastings[0].ClosedAt = nil
	serve(n, trials.Tasting{Record: trials.Record{Name: "late"}, At: day(40), Blind: true}, "single", "other")
	s := setOf(t, n)
	if got := trialNames(s); got != "single double" || len(s.Scores) != 0 || len(s.Tastings) != 0 {
		t.Errorf("trials %s, %d scores", got, len(s.Scores))
	}
}

// A beer with another botanical is no control of this one, and its scores are
// none of this study; a spice that all of them have is not in the way.
func TestWhatIsAControl(t *testing.T) {
	n := series()
	brew(n, "elder")
	pour(n, "elder", 1, "elderflower")
	serve(n, trials.Tasting{Record: trials.Record{Name: "mixed"}, At: day(35), Blind: true, ClosedAt: ptr(day(36))},
		"single", "elder")
	if got := trialNames(setOf(t, n)); got != "plain single double" {
		t.Errorf("trials %s", got)
	}
	if s := setOf(t, n); len(s.Scores) != 4 || len(s.Servings) != 4 {
		t.Errorf("%d scores of %d servings, want those of the 4 glasses of this study", len(s.Scores), len(s.Servings))
	}
	n = series()
	for _, b := range []string{"plain", "single", "double"} {
		n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: b + ".a2", Name: b + ".a2"},
			BatchID: b, At: day(0), Stage: trials.StageBoil, MaterialKey: "coriander-seed", Method: trials.MethodBoil,
			Form: "crushed", MassG: ptr(10.0), Minutes: ptr(10.0)})
	}
	if got := trialNames(setOf(t, n)); got != "plain single double" {
		t.Errorf("with a common spice: trials %s", got)
	}
}

// A batch that has nothing to do with the material cannot stop the comparison,
// however broken its records are.
func TestOtherBatchesDoNotMatter(t *testing.T) {
	n := series()
	brew(n, "broken")
	n.Losses = append(n.Losses, trials.Loss{Record: trials.Record{ID: "l", Name: "broken.l1"}, BatchID: "broken",
		At: day(5), Kind: trials.LossTrub, VolumeL: 50})
	if got := trialNames(setOf(t, n)); got != "plain single double" {
		t.Errorf("trials %s", got)
	}
}

// Without an original gravity there is no ledger and no dose: such a beer is
// neither a trial nor a control.
func TestUnknownDoseIsNotZero(t *testing.T) {
	n := series()
	brew(n, "unread")
	n.Batches[len(n.Batches)-1].OG = nil
	pour(n, "unread", 1, "hibiscus")
	serve(n, trials.Tasting{Record: trials.Record{Name: "late"}, At: day(40), Blind: true, ClosedAt: ptr(day(41))},
		"single", "unread")
	s := setOf(t, n)
	if got := trialNames(s); got != "plain single double" {
		t.Errorf("trials %s", got)
	}
	if !slices.Equal(s.NoLedger, []string{"unread"}) {
		t.Errorf("left out: %v", s.NoLedger)
	}
}

// Jars of one brew: the brew itself was never tasted, so the jars are the
// trials. 12 L with 981.6 mL of tea, then 2 L and 3 L taken off: each jar holds
// its share of the tea, 2/12.981614 and 3/12.981614 of it.
func TestJarsAreTheTrials(t *testing.T) {
	n := series()
	for name, volume := range map[string]float64{"jar-1": 2, "jar-2": 3} {
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: name, Name: name, CreatedAt: day(12)},
			ParentID: ptr("single"), Kind: trials.KindJar, StartedAt: day(12), VolumeL: volume})
	}
	n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{ID: "jar-2.r1", Name: "jar-2.r1"},
		BatchID: "jar-2", At: day(13), PH: ptr(3.6)})
	n.Tastings, n.Servings, n.Scores = nil, nil, nil
	serve(n, trials.Tasting{Record: trials.Record{Name: "jars"}, At: day(30), Blind: true, ClosedAt: ptr(day(31))},
		"jar-1", "jar-2", "double")
	s := setOf(t, n)
	if got := trialNames(s); got != "jar-1 jar-2 double" {
		t.Fatalf("trials %s", got)
	}
	for i, share := range []float64{2 / 12.981614, 3 / 12.981614} {
		jar := s.Trials[i]
		near(t, jar.Batch.Name+": dose", jar.Effective.Value, 30.0895/12.981614, 1e-3)
		near(t, jar.Batch.Name+": liquid", jar.AddedL, 0.981614*share, 1e-4)
		near(t, jar.Batch.Name+": share of it", jar.AddedShare, 0.981614/12.981614, 1e-4)
		near(t, jar.Batch.Name+": strength before", jar.ABVBefore, 4.959, 0.006)
		if jar.Group != "single" || !jar.BrewedAt.Equal(day(0)) {
			t.Errorf("%s is of %s, brewed %v", jar.Batch.Name, jar.Group, jar.BrewedAt)
		}
	}
	if s.Trials[0].PH != nil || s.Trials[1].PH == nil || *s.Trials[1].PH != 3.6 {
		t.Errorf("pH %v and %v", s.Trials[0].PH, s.Trials[1].PH)
	}
}

// Half of the brew lost before the tea: the jar still gets its share of all the
// tea, 2/6.981614 of 981.6 mL.
func TestJarOfABrewThatLostBeerBefore(t *testing.T) {
	n := series()
	n.Losses = append(n.Losses, trials.Loss{Record: trials.Record{ID: "l", Name: "single.l1"}, BatchID: "single",
		At: day(10).Add(time.Hour), Kind: trials.LossTrub, VolumeL: 6})
	n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: "jar", Name: "jar", CreatedAt: day(12)},
		ParentID: ptr("single"), Kind: trials.KindJar, StartedAt: day(12), VolumeL: 2})
	serve(n, trials.Tasting{Record: trials.Record{Name: "jars"}, At: day(30), Blind: true, ClosedAt: ptr(day(31))}, "jar")
	for _, trial := range setOf(t, n).Trials {
		if trial.Batch.Name == "jar" {
			near(t, "liquid", trial.AddedL, 0.981614*2/6.981614, 2e-4)
			near(t, "dose", trial.Effective.Value, 30.0895/6.981614, 3e-3)
			return
		}
	}
	t.Error("the jar is no trial")
}

// A loss takes tea and beer alike: what went in is still what went in.
func TestLiquidAddedBeforeALoss(t *testing.T) {
	n := series()
	n.Losses = append(n.Losses, trials.Loss{Record: trials.Record{ID: "l", Name: "single.l1"}, BatchID: "single",
		At: day(15), Kind: trials.LossTransfer, VolumeL: 3})
	trial := setOf(t, n).Trials[1]
	near(t, "liquid", trial.AddedL, 0.981614, 1e-6)
	near(t, "share of it", trial.AddedShare, 0.981614/12.981614, 1e-4)
	near(t, "strength before", trial.ABVBefore, 4.959, 0.006)
}

// Readings count from the last addition on, and as corrected: the float showed
// 1.001 in water, so its 1.0105 is 1.0095.
func TestReadingsOfATrial(t *testing.T) {
	n := series()
	n.Meters = []trials.Meter{{Record: trials.Record{ID: "m", Name: "float"}, Kind: trials.MeterHydrometer,
		ZeroError: ptr(0.001)}}
	early := setOf(t, n).Trials[1]
	if early.FGRead != nil {
		t.Errorf("the gravity before the tea, %g, is shown as that of the trial", *early.FGRead)
	}
	n.Readings = append(n.Readings, trials.Reading{Record: trials.Record{ID: "r2", Name: "single.r2"},
		BatchID: "single", At: day(20), SG: ptr(1.0105), MeterID: ptr("m")})
	if got := setOf(t, n).Trials[1].FGRead; got == nil {
		t.Error("the gravity after the tea is not shown")
	} else {
		near(t, "final gravity", *got, 1.0095, 1e-6)
	}
}

// Two uses of one material add up, limits too; the larger names the method.
func TestTwoUsesOfOneMaterial(t *testing.T) {
	n := series()
	n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "single.a2", Name: "single.a2"},
		BatchID: "single", At: day(12), Stage: trials.StageSecondary, MaterialKey: "hibiscus",
		Method: trials.MethodContact, Form: "cut", MassG: ptr(40.0), MoisturePct: ptr(10.0),
		Minutes: ptr(5 * 24 * 60.0)})
	trial := setOf(t, n).Trials[2]
	if trial.Batch.Name != "single" || trial.Method != trials.MethodContact || len(trial.Uses) != 2 {
		t.Fatalf("%s, %s, %v", trial.Batch.Name, trial.Method, trial.Uses)
	}
	// By hand: the 40 g put straight in bring 4 g of water and 0.63 of 36 g as
	// solids, at 0.6 mL/g; what they keep when they come out changes no dose.
	litres := 12.981614 + (4/0.99820123+0.6*0.63*36)/1000
	near(t, "as weighed", trial.AsWeighed, 76/litres, 1e-3)
	near(t, "effective", trial.Effective.Value, (30.0895+34)/litres, 2e-3)
	if trial.Effective.Low >= trial.Effective.Value || trial.Effective.High <= trial.Effective.Value {
		t.Errorf("%g to %g", trial.Effective.Low, trial.Effective.High)
	}
}

// A claim is brought to the effective scale by what the trials came to: 0.8358
// of a gram; for a material never tried by what beer can carry (0.85 of the
// water class), fresh material at a fifth (from memory).
func TestClaimsOnTheEffectiveScale(t *testing.T) {
	near(t, "tried", setOf(t, series()).EffectivePerGram(trials.BasisDry), 0.835819, 1e-4)
	near(t, "never tried, dry", TrialSet{}.EffectivePerGram(trials.BasisDry), 0.85, 0)
	near(t, "never tried, fresh", TrialSet{}.EffectivePerGram(trials.BasisFresh), 0.17, 1e-12)
	spokenOfFresh := TrialSet{Material: trials.Material{DefaultBasis: trials.BasisFresh}}
	near(t, "never tried, no basis", spokenOfFresh.EffectivePerGram(""), 0.17, 1e-12)
	near(t, "never tried, said dry", spokenOfFresh.EffectivePerGram(trials.BasisDry), 0.85, 0)
	// 90 % of water: 0.10 of dry matter beside the 0.90 of a dried plant, of which 0.85 get into beer
	watery := TrialSet{Material: trials.Material{MoistureFresh: ptr(0.90)}}
	near(t, "never tried, fresh and watery", watery.EffectivePerGram(trials.BasisFresh), 0.85*0.10/0.90, 1e-12)
	near(t, "never tried, nothing known", TrialSet{}.EffectivePerGram(""), 0.85, 0)
	near(t, "never tried, resin", TrialSet{Class: 2}.EffectivePerGram(trials.BasisAsIs), 0.05, 0)
}

func TestAttributesInOrderSeen(t *testing.T) {
	s := TrialSet{Tastings: []trials.Tasting{{Attributes: []string{"tart", "floral"}},
		{Attributes: []string{"floral", "dry"}}}}
	if got := strings.Join(s.Attributes(), " "); got != "tart floral dry" {
		t.Error(got)
	}
}

// Two trials of one dose go by name, whatever order the notebook has.
func TestOrderOfEqualDoses(t *testing.T) {
	a := Trial{Batch: trials.Batch{Record: trials.Record{Name: "a"}}}
	b := Trial{Batch: trials.Batch{Record: trials.Record{Name: "b"}}}
	if compareDose(a, b) >= 0 || compareDose(b, a) <= 0 || compareDose(a, a) != 0 {
		t.Error("equal doses are not ordered by name")
	}
}

// A tasting at which a beer was served twice (a hidden repeat) stamps it once.
func TestRepeatIsStampedOnce(t *testing.T) {
	n := series()
	n.Servings = append(n.Servings, trials.Serving{ID: "again", TastingID: "club", BatchID: "single", Code: "999",
		Repeat: true})
	if got := setOf(t, n).Trials[1].TastedAt; !slices.Equal(got, []time.Time{day(30)}) {
		t.Errorf("tasted at %v", got)
	}
}

// A set gathered at its best values has the same trials and doses as one with
// intervals, and works out the same spread when asked.
func TestBestValuesAreThoseWithIntervals(t *testing.T) {
	n := series()
	m, err := shipped(t).Find("hibiscus")
	if err != nil {
		t.Fatal(err)
	}
	full, err := Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	best, err := GatherBest(n, m)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range full.Trials {
		b := best.Trials[i]
		if b.Batch.Name != f.Batch.Name || b.Effective.HasBounds || len(b.Uses) != len(f.Uses) {
			t.Errorf("trial %s: %+v, with intervals %+v", f.Batch.Name, b.Effective, f.Effective)
		}
		near(t, f.Batch.Name, b.Effective.Value, f.Effective.Value, 1e-12*f.Effective.Value)
		near(t, "strength of "+f.Batch.Name, b.ABVBefore, f.ABVBefore, 1e-12)
		near(t, "spread of "+f.Batch.Name, best.SpreadLn(i), full.SpreadLn(i), 1e-12)
	}
}

// What another brewer made with a material is no trial of one's own panel: votes of
// strangers that are taken for one's own covered the right dose in 55 to 71 cases of
// 100 where 90 were promised (simulated, one friend whose taste is one's own).
func TestOtherBrewersAreNoTrials(t *testing.T) {
	og := 1.046
	mass := 30.0
	start := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	n := &trials.Notebook{Now: start.AddDate(0, 2, 0)}
	for i, brewer := range []string{"", "notebook-of-a-friend"} {
		id := []string{"b1", "b2"}[i]
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: id, Name: id}, Kind: trials.KindBatch,
			StartedAt: start, VolumeL: 12, OG: &og, Brewer: brewer})
		n.Additions = append(n.Additions, trials.Addition{Record: trials.Record{ID: "a" + id, Name: id + ".a1"}, BatchID: id,
			At: start.AddDate(0, 0, 7), Stage: trials.StageSecondary, MaterialKey: "heather", Method: trials.MethodContact,
			Form: "cut", MassG: &mass})
	}
	materials, err := n.Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	m, err := materials.Find("heather")
	if err != nil {
		t.Fatal(err)
	}
	s, err := Gather(n, m)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Trials) != 1 || s.Trials[0].Batch.ID != "b1" || len(s.Others) != 1 || s.Others[0] != "b2" {
		t.Errorf("%d trials, others %v", len(s.Trials), s.Others)
	}
	others, err := s.OfOthers()
	if err != nil || len(others) != 1 || others[0].Brewer != "Brewer B" || len(others[0].Trials) != 1 ||
		others[0].Trials[0].Batch.ID != "b2" {
		t.Errorf("of others %+v, %v", others, err)
	}
	s.OwnOnly = true
	if others, err := s.OfOthers(); err != nil || len(others) > 0 {
		t.Errorf("own only: %+v, %v", others, err)
	}
}

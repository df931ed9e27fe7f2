package steeps

import (
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
)

// jugML is what is in the pot of jugOf at equilibrium: 450 mL poured on, 3.6 g of own
// water and the volume of 0.63 of 32.4 g of dry matter.
const jugML = 450 + 3.6/0.99820123 + 0.60*0.63*32.4

// jugOf is a notebook with a tea of 300 mL, the rest of jugML measured as held, and some
// pours of it: litres, 0 for all that is left, one an hour.
func jugOf(topUps []trials.TopUp, pours ...float64) (*trials.Notebook, trials.Extract) {
	x := jugTea()
	x.Passes = x.Passes[:1]
	x.Passes[0].HeldL = ptr((jugML - 300) / 1000)
	x.TopUps = topUps
	n := &trials.Notebook{Extracts: []trials.Extract{x}, Now: day(60)}
	for i, litres := range pours {
		id := string(rune('a' + i))
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: id, Name: "beer-" + id}, VolumeL: 10})
		a := trials.Addition{Record: trials.Record{ID: id, Name: "beer-" + id + ".a1"}, BatchID: id, At: hour(i),
			ExtractID: &x.ID}
		if litres > 0 {
			a.PouredL = ptr(litres)
		}
		n.Additions = append(n.Additions, a)
	}
	return n, x
}

// hour is a moment on day 10.
func hour(i int) time.Time { return day(10).Add(time.Duration(i) * time.Hour) }

// followed works a jug out.
func followed(t testing.TB, topUps []trials.TopUp, pours ...float64) Jug {
	t.Helper()
	n, x := jugOf(topUps, pours...)
	j, err := JugOf(n, shipped(t), x)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// By hand: 100 of 300 mL is a third; with 200 mL of water on the rest, 400 mL of
// half the strength, 100 mL are a quarter of two thirds; the rest is a half.
func TestPoursAndTopUps(t *testing.T) {
	j := followed(t, []trials.TopUp{{At: hour(0).Add(30 * time.Minute), VolumeL: 0.2}}, 0.1, 0.1, 0)
	if err := j.Check(); err != nil {
		t.Fatal(err)
	}
	for i, w := range []struct{ volume, share, strength float64 }{{0.1, 1.0 / 3, 1}, {0.1, 1.0 / 6, 0.5},
		{0.3, 0.5, 0.5}} {
		near(t, "volume", j.Pours[i].VolumeL, w.volume, 1e-9)
		near(t, "share", j.Pours[i].Share, w.share, 1e-9)
		near(t, "strength", j.Pours[i].Strength, w.strength, 1e-9)
	}
	near(t, "left", j.LeftL, 0, 1e-12)
}

// What was measured as it was poured may exceed what the steep was reckoned to
// give by its doubt, 2 % of the 450 mL poured on, and takes all of it.
func TestAPourWithinTheDoubtTakesAll(t *testing.T) {
	j := followed(t, nil, 0.308)
	p := j.Pours[0]
	if err := j.Check(); err != nil || p.Share != 1 || j.LeftL != 0 || j.LeftG != 0 || len(p.Yield.Warnings) == 0 {
		t.Errorf("%+v (%v)", p, err)
	}
}

func TestPouringMoreThanThereIs(t *testing.T) {
	for _, c := range []struct {
		pours []float64
		want  string
	}{
		{[]float64{0.4}, "0.4 L were poured, but the extract gave only 0.3 L"},
		{[]float64{0.1, 0.3}, "0.3 L were poured, but of tea-1 only 0.2 L are left: 0.1 L of 0.3 L were poured before"},
		{[]float64{0, 0.01}, "nothing is left of tea-1: 0.3 L of 0.3 L were poured before"},
		{[]float64{0, 0}, "nothing is left of tea-1"},
	} {
		if err := followed(t, nil, c.pours...).Check(); err == nil || trials.CodeOf(err) != trials.Invalid ||
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.pours, err, c.want)
		}
	}
}

// Measured held liquid, which leaves 300 mL, against the default 129.6 mL: yields
// 300/465.85 and 336.25/465.85.
func TestStoryComparesWithTheDefault(t *testing.T) {
	n, x := jugOf(nil)
	x.Passes[0].StartC, x.Passes[0].EndC, x.Passes[0].Minutes, x.Passes[0].Agitation = 96, nil, 300, "stirred"
	n.Extracts[0] = x
	story, err := StoryOf(n, shipped(t), x)
	if err != nil || story.Plain == nil {
		t.Fatalf("%+v (%v)", story.Plain, err)
	}
	near(t, "measured", story.Yield.Result.Yield[0], 300/jugML, 1e-6)
	near(t, "by default", story.Plain.Result.Yield[0], (jugML-129.6)/jugML, 1e-6)
	x.Passes[0].HeldL = nil
	if story, err = StoryOf(n, shipped(t), x); err != nil || story.Plain != nil {
		t.Errorf("a default beside a default: %+v (%v)", story.Plain, err)
	}
}

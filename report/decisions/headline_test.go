package decisions

import (
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"hedgerow/report/doseresponse"
	"hedgerow/report/evidence"
	"hedgerow/trials/figure"
)

// spoken is an answer in words, altered from one that goes on trying: 11 g/L of 4.6
// to 36, expected to be just right for 38 and too little for 32 of 100 votes.
func spoken(change func(*headline)) []string {
	h := headline{Answer: doseresponse.Answer{
		Verdict: doseresponse.Try, RightDose: figure.StatedBetween(11, 4.6, 36, 0.9), PNearBest: 0.31,
		SpreadGPerL: []float64{6.4, 9.4, 14, 20}, GlassesGPerL: []float64{5.1, 8, 11, 15, 24},
	}}
	h.Next.DoseGPerL, h.Next.PTooLittle, h.Next.PRight, h.Next.PTooMuch = 11, 0.32, 0.38, 0.30
	h.Facts.Scored, h.Facts.Tasters, h.Facts.LowTried, h.Facts.HighTried = true, 4, 1.4, 4
	change(&h)
	return h.lines()
}

// Every kind of headline begins with the decision, in plain words. The words are the
// expectation: what a brewer has to do, and why.
func TestHeadlines(t *testing.T) {
	p := func(v float64) *float64 { return &v }
	fading := func(h *headline) {
		h.Answer.Fade = new(doseresponse.Answer).Fade
		if err := json.Unmarshal([]byte(`{"ln_per_week":{"value":0.117,"low":0.05,"high":0.18,"level":0.9},
			"half_life_weeks":5.9,"drink_at_days":31,"dose_g_per_l_at_30_days":2.8,"dose_g_per_l_at_90_days":7.5}`),
			&h.Answer.Fade); err != nil {
			t.Fatal(err)
		}
		h.Facts.AgeMatters, h.Fade.OldestDays = true, 122
	}
	two := func(h *headline) {
		h.Camps = []doseresponse.AnswerCamp{{Tasters: []string{"A", "B", "C"}, Dose: figure.StatedExactly(1)},
			{Tasters: []string{"D"}, Dose: figure.StatedExactly(4)}}
		h.Facts.OneDose, h.Facts.TwoDoses = 0.34, 0.63
	}
	for _, c := range []struct {
		name   string
		change func(*headline)
		want   string
	}{
		{"try, all too little", func(h *headline) { h.Facts.Side = -1 },
			"Try 11 g/L effective (4.6 to 36): expect 38 % just right, 32 % too little.|" +
				"Every vote so far said too little, up to 4.0 g/L: the upper end is a guess.|" +
				"Cheapest next: four jars at 6.4, 9.4, 14 and 20 g/L, or five glasses."},
		{"all too much", func(h *headline) { h.Facts.Side = 1 },
			"Try|Every vote so far said too much, down to 1.4 g/L: the lower end is a guess.|Cheapest"},
		{"grams", func(h *headline) { h.weigh = "60 g in 10 L" },
			"Try 60 g in 10 L, 11 g/L effective: expect 38 % just right, 32 % too little.|31 % sure that it gets|Cheapest"},
		{"just below one", func(h *headline) { h.SpreadGPerL[0] = 0.996 },
			"Try||Cheapest next: four jars at 1.0, 9.4, 14 and 20 g/L"},
		{"more too much", func(h *headline) { h.Next.PTooLittle, h.Next.PTooMuch = 0.2, 0.42 },
			"Try 11 g/L effective (4.6 to 36): expect 38 % just right, 42 % too much.||"},
		{"confounded", func(h *headline) {
			h.Facts.Side, h.Facts.Differs = -1, []doseresponse.Differing{{Name: "lot", Values: []string{"garden", "wild"}}}
		}, "Try|Not only the dose differs: also lot (garden, wild).|"},
		{"confounded, at length", func(h *headline) {
			h.Facts.Differs = []doseresponse.Differing{{Name: "lot", Values: []string{"from the garden", "from the wild"}},
				{Name: "sugar", Values: []string{"10 g/L", "none"}}, {Name: "raspberry", Values: []string{"4.2 g/L", "none"}}}
		}, "Try|Not only the dose differs: also lot, sugar and raspberry.|"},
		{"not near", func(h *headline) {
			near := false
			h.NearRight, h.PLikedThis, h.PAnyDoseLiked = &near, p(0.05), p(0.3)
		}, "Try|What was not liked was far from the right dose: it tells little of the plant.|"},
		{"hardly liked", func(h *headline) { h.PAnyDoseLiked = p(0.2) },
			"Try|The chance that it is liked as wished at its right dose is 20 %.|"},
		{"no scores", func(h *headline) { h.Facts.Scored = false },
			"Try|No beer has been scored yet: this rests on advice alone.|" +
				"Cheapest next: five glasses at 5.1, 8.0, 11, 15 and 24 g/L, or four jars."},
		{"no scores, a dropper", func(h *headline) { h.Facts.Scored, h.dropper = false, true },
			"Try||Cheapest next: dose to taste, or five glasses at 5.1, 8.0, 11, 15 and 24 g/L."},
		{"a dropper", func(h *headline) { h.dropper = true },
			"Try||Cheapest next: dose to taste, or four jars at 6.4, 9.4, 14 and 20 g/L."},
		{"repeat", func(h *headline) { h.Verdict, h.Facts.Again = doseresponse.Repeat, [2]int{9, 10} },
			"Brew 11 g/L effective again: it was right for 9 of 10.||"},
		{"repeat at an age", func(h *headline) { fading(h); h.Verdict, h.Next.DoseGPerL = doseresponse.Repeat, 2.8 },
			"Brew 2.8 g/L effective again if it is drunk at about 31 days.|" +
				"It fades by about 11 % a week (5 to 16): 2.8 g/L at 30 days are 7.5 at 90.|"},
		{"try at an age", func(h *headline) { fading(h); h.Fade.DrinkAtDays = 100 },
			"Try 11 g/L effective for a beer drunk at about 100 days: expect 38 % just right.|It fades|"},
		{"far beyond", func(h *headline) { fading(h); h.Fade.DrinkAtDays = 179 },
			"4.6 to 36 g/L for a beer drunk at 179 days: none was tasted past 122.|It fades|"},
		{"settled", func(h *headline) { h.Verdict, h.PNearBest, h.settled = doseresponse.Settled, 0.998, true },
			"Settled: 11 g/L effective. No further trial is worth its batch.|More than 99 % sure that it gets|" +
				"Little is left to learn: no trial would narrow the dose by much."},
		{"retaste", func(h *headline) { h.Verdict, h.PIgnoreDose = doseresponse.Retaste, p(0.96) },
			"The votes do not follow the dose (more than 95 % sure).|Taste again, blind, each beer twice, with one undosed|" +
				"Until then little is known"},
		{"retaste without votes", func(h *headline) { h.Verdict = doseresponse.Retaste },
			"The scores hardly follow the dose.|Taste again, blind, each beer twice, with one undosed glass among them.|Until"},
		{"perhaps retaste", func(h *headline) { h.Verdict, h.PIgnoreDose = doseresponse.Retaste, p(0.6) },
			"The votes do not follow the dose (60 % sure).||"},
		{"hardly", func(h *headline) { h.Verdict, h.PIgnoreDose = doseresponse.Retaste, p(0.2) },
			"The votes hardly follow the dose.||"},
		{"camps", func(h *headline) { two(h); h.Verdict, h.Facts.CampsFound = doseresponse.TwoOf, true },
			"Two camps: A, B, C like 1.0 g/L, D likes 4.0 g/L. Brew both.|" +
				"One dose for all would be just right for 34 % of the votes, two for 63 %.|Next: two jars at each dose."},
		{"perhaps camps", two, "Perhaps two camps: A, B, C like 1.0 g/L, D likes 4.0 g/L. Jars would tell.||" +
			"Next: four jars at 6.4, 9.4, 14 and 20 g/L."},
		{"drop", func(h *headline) { h.Verdict, h.Facts.Liked, h.PLikedOther = doseresponse.Drop, 2.4, p(0.004) },
			"Drop it: near the right dose it was liked 2.4 of 9.|" +
				"The chance that another method is liked as wished is less than 1 %."},
		{"change", func(h *headline) {
			h.Verdict, h.Facts.Disliked, h.Facts.Liked, h.Facts.LikedRight = doseresponse.Change, true, 3.5, [2]int{4, 4}
		}, "The dose is right (4 of 4 votes), the liking is not (3.5 of 9).|Change the method or the beer, not the dose: " +
			"another dose will not mend it.|Drop it only after another method was disliked at its right dose too."},
		{"pull", func(h *headline) {
			days := figure.StatedBetween(7.2, 5.1, 9.8, 0.9)
			h.PullAtDays, h.Facts.PullDose = &days, 4
		}, "At 4.0 g/L pull it at about day 7 (day 5 to 10).||"},
		{"pull, not known", func(h *headline) {
			days := figure.StatedExactly(7)
			h.PullAtDays, h.Facts.PullDose = &days, 4
		}, "At 4.0 g/L no day of those tasted was right: when to pull it is not known.||"},
		{"bench", func(h *headline) { h.Verdict, h.Facts.Claims, h.Facts.ClaimFold = doseresponse.Bench, 2, 50 },
			"Bench first: the advice is 50-fold apart, no dose is worth a batch yet.|Five glasses at 5.1,|"},
		{"conflict", func(h *headline) {
			h.Facts.Attribute = "floral"
			w := doseresponse.Window{DoseGPerL: 6, LowGPerL: 5, HighGPerL: 7, PBoth: 0.4, PRight: 0.5}
			h.beside = &otherTaste{"astringency", w}
		}, "Floral is right near 11 g/L, but astringency is too strong there.|" +
			"Both go best at 6.0 g/L (5.0 to 7.0): right and within for 40 %.|Cheapest"},
		{"conflict, no dose", func(h *headline) {
			h.Verdict, h.Facts.AvoidNames = doseresponse.Change, []string{"astringency"}
			h.Window = &doseresponse.Window{PBoth: 0.14, PRight: 0.2}
		}, "It is right near 11 g/L, but astringency is too strong there.|" +
			"No dose is both for more than 14 %: change the method, the form or the beer.|"},
		{"falls", func(h *headline) {
			h.Verdict, h.Facts.Attribute = doseresponse.Change, "body"
			h.Facts.Falling = &evidence.Falling{HighGPerL: 3.7, LowVotes: 5, HighLittle: 5, HighVotes: 5}
		}, "Body falls with the dose: no dose is right for it.|Too little for 0 of 5 without any, for 5 of 5 at 3.7 g/L.|"},
		{"an intensity", func(h *headline) { h.target = p(6) }, "Try 11 g/L effective (4.6 to 36) for an intensity of 6.0.|" +
			"31 % sure that the panel scores it within a point of 6.0.|"},
	} {
		got := spoken(c.change)
		for i, want := range strings.Split(c.want, "|") {
			if i >= len(got) || !strings.HasPrefix(got[i], want) {
				t.Errorf("%s, line %d: %q, want %q", c.name, i+1, strings.Join(got, " | "), want)
			}
		}
	}
}

// Whatever the numbers and names, no line is wider than a terminal and none holds
// what is no number.
func TestHeadlinesAreNarrow(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	verdicts := []doseresponse.Verdict{doseresponse.Try, doseresponse.Repeat, doseresponse.Settled, doseresponse.Bench}
	for range 2000 {
		d := 1e-3 * float64(rng.IntN(900_000)+1)
		lines := spoken(func(h *headline) {
			h.Verdict = verdicts[rng.IntN(len(verdicts))]
			h.Next.DoseGPerL, h.RightDose = d, figure.StatedBetween(d, d/3, d*3, 0.9)
			for i := range h.SpreadGPerL {
				h.SpreadGPerL[i] *= d
			}
			for i := range h.GlassesGPerL {
				h.GlassesGPerL[i] *= d
			}
			h.Facts.Scored, h.Facts.Again = rng.IntN(2) == 0, [2]int{rng.IntN(100), 100}
			h.Facts.Claims, h.Facts.ClaimFold = 1, 1000*rng.Float64()
			if rng.IntN(2) == 0 {
				h.weigh = "1 lb 12.3 oz in 5.02 US gal"
			}
			if rng.IntN(3) == 0 {
				h.Camps = []doseresponse.AnswerCamp{
					{Tasters: strings.Fields("Anastasia Bartholomew Christopher"), Dose: h.RightDose},
					{Tasters: strings.Fields("Desdemona Evangeline Ferdinand"), Dose: h.RightDose}}
			}
			if rng.IntN(3) == 0 {
				h.Facts.Differs = []doseresponse.Differing{{Name: "orange-peel-sweet-dried", Values: []string{"a", "b"}},
					{Name: "elderflower-cordial", Values: []string{"a", "b"}}, {Name: "time of contact", Values: []string{"a", "b"}}}
			}
		})
		for _, l := range lines {
			if utf8.RuneCountInString(l) > headlineWidth || strings.Contains(l, "NaN") {
				t.Fatalf("%d wide: %q", utf8.RuneCountInString(l), l)
			}
		}
	}
}

package invented

import (
	"fmt"
	"math"
	"math/rand/v2"

	"hedgerow/trials"
)

// clubMaterials are the eight plants of the club, dried, and the effective dose
// in g/L that its tasters would on average call just right. All invented.
var clubMaterials = []struct {
	key   string
	right float64
}{
	{"hibiscus", 3}, {"heather", 2.5}, {"chamomile", 1.5}, {"elderflower", 2},
	{"coriander-seed", 0.8}, {"lavender", 0.5}, {"yarrow", 1.2}, {"meadowsweet", 1.8},
}

// The size of a brew of the club.
const jarsABrew, clubTasters = 4, 5

// Club is the notebook of an invented club that goes on for years: so many
// brews of 12 L, each parted into four jars with one tea a jar of four doses,
// tasted blind by five tasters, who score three attributes and liking; eight
// materials in turn. 80 scores a brew, the same numbers each time.
func Club(brews int) *trials.Notebook {
	n := &trials.Notebook{Now: Day(40 + 7*brews), Settings: map[string]string{}}
	rng := rand.New(rand.NewPCG(12, 34))
	for k := range clubTasters {
		n.Tasters = append(n.Tasters, trials.Taster{Record: clubRecord(fmt.Sprint("t", k),
			fmt.Sprintf("Taster %c", 'A'+k), 0)})
	}
	for i := range brews {
		clubBrew(n, i, rng)
	}
	return n
}

// clubRecord is a record made on a day.
func clubRecord(id, name string, day int) trials.Record {
	return trials.Record{ID: id, Name: name, CreatedAt: Day(day), ChangedAt: Day(day)}
}

// clubBrew adds a brew with its jars and its evening.
func clubBrew(n *trials.Notebook, i int, rng *rand.Rand) {
	m, from := clubMaterials[i%len(clubMaterials)], 7*i
	name := fmt.Sprintf("brew-%d", i+1)
	n.Batches = append(n.Batches, trials.Batch{Record: clubRecord(name, name, from), Kind: trials.KindBatch,
		StartedAt: Day(from),
		VolumeL:   12, OG: Ptr(1.048), FG: Ptr(1.010), IBU: Ptr(20.0), Style: "pale ale"})
	n.Readings = append(n.Readings, trials.Reading{Record: clubRecord(name+".r1", name+".r1", from+10), BatchID: name,
		At: Day(from + 10), SG: Ptr(1.010)})
	evening := trials.Tasting{Record: clubRecord("evening-"+name, "evening-"+name, from+30), At: Day(from + 30),
		Blind: true, ClosedAt: Ptr(Day(from + 31)),
		Attributes: []string{"floral", "tartness", "astringency"}, Seed: int64(i), FlightSize: 6}
	n.Tastings = append(n.Tastings, evening)
	potency := 0.15 * rng.NormFloat64()
	for j := range jarsABrew {
		jar := fmt.Sprintf("%s-jar-%d", name, j+1)
		dose := m.right * math.Pow(1.6, float64(j)-1.5)
		clubJar(n, m.key, name, jar, dose, from)
		code := fmt.Sprint(123 + 217*j)
		serving := trials.Serving{ID: evening.ID + "/" + jar, TastingID: evening.ID, BatchID: jar, Code: code}
		n.Servings = append(n.Servings, serving)
		clubScores(n, evening, serving, math.Log(dose/m.right)+potency, j, rng)
	}
}

// clubJar splits a jar off and pours one tea into it.
func clubJar(n *trials.Notebook, material, parent, jar string, dose float64, from int) {
	const jarL = 2.8
	n.Batches = append(n.Batches, trials.Batch{Record: clubRecord(jar, jar, from+11), ParentID: Ptr(parent),
		Kind: trials.KindJar, StartedAt: Day(from + 11), VolumeL: jarL})
	tea := trials.Extract{Record: clubRecord("tea-"+jar, "tea-"+jar, from+12), MadeAt: Day(from + 12),
		MaterialKey: material, Method: trials.MethodTea,
		Form: "cut", MassG: dose * jarL, MoisturePct: Ptr(10.0),
		Passes: []trials.Pass{{ID: "p-" + jar, VolumeL: 0.2, StartC: 94, EndC: Ptr(60.0), Minutes: 30,
			Agitation: "now-and-then", Separation: trials.SeparationSqueezed}}}
	n.Extracts = append(n.Extracts, tea)
	n.Additions = append(n.Additions, trials.Addition{Record: clubRecord(jar+".a1", jar+".a1", from+12), BatchID: jar,
		At: Day(from + 12), Stage: trials.StageSecondary, ExtractID: &tea.ID})
}

// clubScores are what the five tasters said of a serving whose dose lies x, a
// logarithm, from the right one.
func clubScores(n *trials.Notebook, t trials.Tasting, v trials.Serving, x float64, place int, rng *rand.Rand) {
	for k := range clubTasters {
		own := 0.25 * (float64(k) - 2) // each taster's own right dose
		felt := x - own + 0.2*rng.NormFloat64()
		vote := 0
		if math.Abs(felt) > 0.35 {
			vote = int(math.Copysign(1, felt))
		}
		base := trials.Score{TastingID: t.ID, ServingID: v.ID, TasterID: fmt.Sprint("t", k),
			Position: Ptr((place+k)%jarsABrew + 1), At: t.At}
		for a, attribute := range t.Attributes {
			s := base
			s.ID, s.Attribute = fmt.Sprint(v.ID, "/", k, "/", a), attribute
			s.Intensity = Ptr(min(max(math.Round(5+1.5*float64(1-a)*felt+0.6*rng.NormFloat64()), 0), 10))
			if a == 0 {
				s.Vote = &vote
			}
			n.Scores = append(n.Scores, s)
		}
		overall := base
		overall.ID, overall.Attribute = fmt.Sprint(v.ID, "/", k, "/o"), trials.Overall
		overall.Liking = Ptr(min(max(math.Round(7-2*felt*felt+0.5*rng.NormFloat64()), 1), 9))
		n.Scores = append(n.Scores, overall)
	}
}

package doseresponse

import (
	"math"
	"slices"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"
)

// sdsOf returns the prior SDs of the numbers that shift trial k, in ascending
// order.
func sdsOf(p *field.Problem, k int) []float64 {
	var sds []float64
	t := p.Beers[k]
	for _, l := range t.Lat[:t.Count] {
		sds = append(sds, p.Sd[2*len(p.Tasters)+l])
	}
	slices.Sort(sds)
	return sds
}

func TestLayout(t *testing.T) {
	with := func(id, group, method string, kind evidence.Kind, sd float64) evidence.Trial {
		tr := trial(id, 2, 0)
		tr.Group, tr.Method, tr.Kind, tr.DoseSDLn = group, method, kind, sd
		return tr
	}
	tests := []struct {
		name   string
		trials []evidence.Trial
		want   [][]float64 // SDs of each trial
		shared int
	}{
		{"brews of their own", []evidence.Trial{with("a", "", "tea", evidence.Batch, 0),
			with("b", "", "tea", evidence.Batch, 0)},
			[][]float64{{0.18}, {0.18}}, 4},
		{"jars of one brew", []evidence.Trial{with("a", "B", "tea", evidence.Jar, 0), with("b", "B", "tea", evidence.Jar, 0)},
			[][]float64{{0.18}, {0.18}}, 3},
		{"one error for the brew", []evidence.Trial{with("a", "B", "tea", evidence.Jar, 0.24),
			with("b", "B", "tea", evidence.Jar, 0.24)},
			[][]float64{{0.30}, {0.30}}, 3},
		{"one error is larger", []evidence.Trial{with("a", "B", "tea", evidence.Jar, 0.24),
			with("b", "B", "tea", evidence.Jar, 0.26)},
			[][]float64{{0.30}, {0.10, 0.30}}, 4},
		{"two methods in a brew", []evidence.Trial{with("a", "B", "tea", evidence.Jar, 0.24),
			with("b", "B", "contact", evidence.Jar, 0)},
			[][]float64{{0.18, 0.24}, {0.18, 0.5}}, 5},
		// what the beers of all other brewers share, and those of one: 0.45 each
		{"other brewers", []evidence.Trial{with("a", "B", "tea", evidence.Jar, 0), byOther("Brewer B",
			with("b", "", "tea", evidence.Jar, 0))[0], byOther("Brewer C", with("c", "", "tea", evidence.Jar, 0))[0]},
			[][]float64{{0.18}, {0.18, 0.45, 0.45}, {0.18, 0.45, 0.45}}, 8},
		{"glasses", []evidence.Trial{with("a", "", "tea", evidence.Glass, 0), with("b", "", "tea", evidence.Glass, 0.2)},
			[][]float64{{0.40}, {0.20, 0.40}}, 4},
	}
	tea := "tea"
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, err := problemOf(eightfold(tt.trials...), &tea)
			if err != nil {
				t.Fatal(err)
			}
			if p.Shared != tt.shared {
				t.Errorf("%d shared numbers, want %d", p.Shared, tt.shared)
			}
			for k, want := range tt.want {
				got := sdsOf(p, k)
				if len(got) != len(want) {
					t.Fatalf("trial %d: SDs %v, want %v", k, got, want)
				}
				for i := range got {
					if math.Abs(got[i]-want[i]) > 1e-9 {
						t.Errorf("trial %d: SDs %v, want %v", k, got, want)
					}
				}
			}
		})
	}
}

func TestReferenceMethod(t *testing.T) {
	by := func(id, method string, kind evidence.Kind) evidence.Trial {
		tr := trial(id, 2, 0)
		tr.Method, tr.Kind = method, kind
		return tr
	}
	tests := []struct {
		name   string
		trials []evidence.Trial
		want   []string
	}{
		{"the first of equals by name", []evidence.Trial{by("1", "tea", evidence.Batch), by("2", "contact", evidence.Batch)},
			[]string{"contact", "tea"}},
		{"the one brewed most", []evidence.Trial{by("1", "tea", evidence.Batch), by("2", "contact", evidence.Batch),
			by("3", "contact", evidence.Batch)},
			[]string{"contact", "tea"}},
		{"a brew before glasses", []evidence.Trial{by("1", "tea", evidence.Glass), by("2", "tea", evidence.Glass),
			by("3", "contact", evidence.Batch)},
			[]string{"contact", "tea"}},
	}
	for _, tt := range tests {
		p := mustFit(t, eightfold(tt.trials...), Options{Approximate: true})
		if !slices.Equal(p.prob.Methods, tt.want) || p.Reference() != tt.want[0] {
			t.Errorf("%s: methods %q, want %q", tt.name, p.prob.Methods, tt.want)
		}
	}
	asked := "tea"
	p := mustFit(t, eightfold(tests[1].trials...), Options{Approximate: true, Method: &asked})
	if p.Reference() != "tea" {
		t.Errorf("reference %q, asked for tea", p.Reference())
	}
}

// The prior of a ratio is the difference of the published ln, with the SD of
// the method's own.
func TestRatioPrior(t *testing.T) {
	a, b := trial("1", 2, 0), trial("2", 2, 0)
	b.Method = "contact"
	s := eightfold(a, a, b)
	s.Trials[1].ID = "1b"
	s.MethodPrior = map[string]evidence.MethodPrior{"tea": {Ln: 0.2, SD: 0.1}, "contact": {Ln: -0.3, SD: 0.25}}
	p, err := problemOf(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	k := 2*len(p.Tasters) + p.Potency[1]
	if math.Abs(p.Mean[k]+0.5) > 1e-12 || p.Sd[k] != 0.25 {
		t.Errorf("ratio N(%g, %g), want N(-0.5, 0.25)", p.Mean[k], p.Sd[k])
	}
}

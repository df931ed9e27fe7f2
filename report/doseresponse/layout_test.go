package doseresponse

import (
	"math"
	"slices"
	"testing"
)

// sdsOf returns the prior SDs of the numbers that shift trial k, in ascending
// order.
func sdsOf(p *problem, k int) []float64 {
	var sds []float64
	t := p.trials[k]
	for _, l := range t.lat[:t.n] {
		sds = append(sds, p.sd[2*len(p.tasters)+l])
	}
	slices.Sort(sds)
	return sds
}

func TestLayout(t *testing.T) {
	with := func(id, group, method string, kind Kind, sd float64) Trial {
		tr := trial(id, 2, 0)
		tr.Group, tr.Method, tr.Kind, tr.DoseSDLn = group, method, kind, sd
		return tr
	}
	tests := []struct {
		name   string
		trials []Trial
		want   [][]float64 // SDs of each trial
		shared int
	}{
		{"brews of their own", []Trial{with("a", "", "tea", Batch, 0), with("b", "", "tea", Batch, 0)},
			[][]float64{{0.18}, {0.18}}, 4},
		{"jars of one brew", []Trial{with("a", "B", "tea", jar, 0), with("b", "B", "tea", jar, 0)},
			[][]float64{{0.18}, {0.18}}, 3},
		{"one error for the brew", []Trial{with("a", "B", "tea", jar, 0.24), with("b", "B", "tea", jar, 0.24)},
			[][]float64{{0.30}, {0.30}}, 3},
		{"one error is larger", []Trial{with("a", "B", "tea", jar, 0.24), with("b", "B", "tea", jar, 0.26)},
			[][]float64{{0.30}, {0.10, 0.30}}, 4},
		{"two methods in a brew", []Trial{with("a", "B", "tea", jar, 0.24), with("b", "B", "contact", jar, 0)},
			[][]float64{{0.18, 0.24}, {0.18, 0.5}}, 5},
		{"glasses", []Trial{with("a", "", "tea", glass, 0), with("b", "", "tea", glass, 0.2)},
			[][]float64{{0.40}, {0.20, 0.40}}, 4},
	}
	tea := "tea"
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, err := newProblem(eightfold(tt.trials...), &tea)
			if err != nil {
				t.Fatal(err)
			}
			if p.shared != tt.shared {
				t.Errorf("%d shared numbers, want %d", p.shared, tt.shared)
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
	by := func(id, method string, kind Kind) Trial {
		tr := trial(id, 2, 0)
		tr.Method, tr.Kind = method, kind
		return tr
	}
	tests := []struct {
		name   string
		trials []Trial
		want   []string
	}{
		{"the first of equals by name", []Trial{by("1", "tea", Batch), by("2", "contact", Batch)},
			[]string{"contact", "tea"}},
		{"the one brewed most", []Trial{by("1", "tea", Batch), by("2", "contact", Batch), by("3", "contact", Batch)},
			[]string{"contact", "tea"}},
		{"a brew before glasses", []Trial{by("1", "tea", glass), by("2", "tea", glass), by("3", "contact", Batch)},
			[]string{"contact", "tea"}},
	}
	for _, tt := range tests {
		p := mustFit(t, eightfold(tt.trials...), Options{Approximate: true})
		if !slices.Equal(p.prob.methods, tt.want) || p.Reference() != tt.want[0] {
			t.Errorf("%s: methods %q, want %q", tt.name, p.prob.methods, tt.want)
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
	s.MethodPrior = map[string]MethodPrior{"tea": {0.2, 0.1}, "contact": {-0.3, 0.25}}
	p, err := newProblem(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	k := 2*len(p.tasters) + p.potency[1]
	if math.Abs(p.mean[k]+0.5) > 1e-12 || p.sd[k] != 0.25 {
		t.Errorf("ratio N(%g, %g), want N(-0.5, 0.25)", p.mean[k], p.sd[k])
	}
}

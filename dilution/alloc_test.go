package dilution

import "testing"

// TestNoAllocations: one mix and (OG, FG) to masses allocate nothing, and a
// simulation allocates the same number of times for few and for many draws, so
// its inner loop allocates nothing.
func TestNoAllocations(t *testing.T) {
	beer := must(FromGravities(Gravities{OG: 1.048, FG: 1.010}, 12))(t)
	mix := testing.AllocsPerRun(100, func() {
		s, err := FromGravities(Gravities{OG: 1.050, FG: 1.012}, 5)
		water, err2 := Tea{VolumeL: 0.6, TempC: 60, SolidsGPerL: 5}.Portion()
		if err != nil || err2 != nil || beer.Plus(s).Plus(water).SG() == 0 {
			t.Error("nothing mixed")
		}
	})
	if mix != 0 {
		t.Errorf("a mix allocates %g times", mix)
	}
	a := twentyEvents()
	allocs := func(n int) float64 {
		return testing.AllocsPerRun(3, func() {
			if _, err := a.MonteCarlo(Draws{N: n, Seed: 1}); err != nil {
				t.Error(err)
			}
		})
	}
	if few, many := allocs(100), allocs(2000); few != many {
		t.Errorf("100 draws allocate %g times, 2000 draws %g times", few, many)
	}
}

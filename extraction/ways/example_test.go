package ways_test

import (
	"fmt"

	"hedgerow/extraction"
	"hedgerow/extraction/ways"
)

// Methods that a separate program compared by draws: a second pass
// is clearly worth it, a flame-out stand against two passes cannot be told.
func ExampleCompare() {
	jug := extraction.Pass{VolumeML: 450, StartC: new(94.0), EndC: new(52.0), Minutes: 45, Agitation: extraction.Still}
	again := extraction.Pass{VolumeML: 350, Efficiency: new(1.0), Separation: extraction.Squeezed}
	stand := extraction.Pass{StartC: new(98.0), EndC: new(92.0), Minutes: 10, Agitation: extraction.NowAndThen}
	entry := func(name string, m extraction.Method, passes ...extraction.Pass) ways.Entry {
		steep := extraction.Steep{Method: m, Form: extraction.Cut, Kind: extraction.LeafFlower, MassG: 36, Passes: passes}
		return ways.Entry{Name: name, Steep: steep, Mix: extraction.Mix{IntoL: 17}}
	}
	c, err := ways.Compare(extraction.Water, []ways.Entry{
		entry("two passes", extraction.Tea, jug, again), entry("one pass", extraction.Tea, jug),
		entry("flame-out", extraction.FlameOut, stand),
	}, extraction.Draws{Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range c.Pairs {
		fmt.Printf("%s against %s: %s\n", c.Rows[p.First].Name, c.Rows[p.Second].Name, p.Call)
	}
	// Output:
	// two passes against one pass: clear: first is stronger
	// two passes against flame-out: cannot tell
	// one pass against flame-out: clear: second is stronger
}

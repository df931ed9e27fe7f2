package extraction_test

import (
	"fmt"

	"hedgerow/extraction"
)

// Two stirred passes on 28 g of crushed, dried material, the second squeezed:
// worked example A of the science page, 0.972 and 1.31 g/L.
func ExampleSteep_Run() {
	pass := extraction.Pass{VolumeML: 400, StartC: new(96.0), EndC: new(80.0), Minutes: 30, Agitation: extraction.Stirred}
	second := pass
	second.Separation = extraction.Squeezed
	steep := extraction.Steep{Method: extraction.Tea, Form: extraction.Crushed, MassG: 28, Moisture: new(0.10),
		Passes: []extraction.Pass{pass, second}}
	result, err := steep.Run()
	if err != nil {
		fmt.Println(err)
		return
	}
	dose, err := result.Dose(extraction.Mix{IntoL: 19})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("yield %.3f in %.1f mL, %.2f g/L\n", result.Yield[extraction.Water], result.ExtractML, dose.EffectiveGPerL[extraction.Water])
	// Output: yield 0.972 in 749.6 mL, 1.31 g/L
}

// An unknown word is answered with the one that was probably meant.
func ExampleFormFor() {
	_, err := extraction.FormFor(extraction.FormWords{Word: "crusht"})
	fmt.Println(err)
	// Output: unknown form "crusht"
}

// Methods of the table that closes section 6 of the science page: a second pass
// is clearly worth it, a flame-out stand against two passes cannot be told.
func ExampleCompare() {
	jug := extraction.Pass{VolumeML: 400, StartC: new(96.0), EndC: new(45.0), Minutes: 60, Agitation: extraction.Still}
	again := extraction.Pass{VolumeML: 400, Efficiency: new(1.0), Separation: extraction.Squeezed}
	stand := extraction.Pass{StartC: new(98.0), EndC: new(92.0), Minutes: 10, Agitation: extraction.NowAndThen}
	entry := func(name string, m extraction.Method, passes ...extraction.Pass) extraction.Entry {
		steep := extraction.Steep{Method: m, Form: extraction.Cut, MassG: 28, Moisture: new(0.10), Passes: passes}
		return extraction.Entry{Name: name, Steep: steep, Mix: extraction.Mix{IntoL: 20}}
	}
	c, err := extraction.Compare(extraction.Water, []extraction.Entry{
		entry("two passes", extraction.Tea, jug, again), entry("one pass", extraction.Tea, jug), entry("flame-out", extraction.FlameOut, stand),
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

package extraction_test

import (
	"fmt"

	"hedgerow/extraction"
)

// Three stirred passes on 32.4 g of bone-dry crushed leaf, 36 g as dried, the last
// squeezed: computed independently by a program that leaves out the volume of
// what dissolves: 0.983 and 1.67 g/L.
func ExampleSteep_Run() {
	pass := func(ml float64, by extraction.Separation) extraction.Pass {
		return extraction.Pass{VolumeML: ml, StartC: new(94.0), EndC: new(80.0), Minutes: 30,
			Agitation: extraction.Stirred, Separation: by}
	}
	steep := extraction.Steep{Method: extraction.Tea, Form: extraction.Crushed, Kind: extraction.LeafFlower,
		MassG: 32.4, Moisture: new(0.0), Soluble: &extraction.SolubleFigure{}, Passes: []extraction.Pass{
			pass(450, extraction.Drained), pass(350, extraction.Drained), pass(250, extraction.Squeezed)}}
	result, err := steep.Run()
	if err != nil {
		fmt.Println(err)
		return
	}
	dose, err := result.Dose(extraction.Mix{IntoL: 17})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("yield %.3f in %.1f mL, %.2f g/L\n", result.Yield[extraction.Water], result.ExtractML,
		dose.EffectiveGPerL[extraction.Water])
	// Output: yield 0.983 in 965.8 mL, 1.67 g/L
}

// An unknown word is answered with the one that was probably meant.
func ExampleFormFor() {
	_, err := extraction.FormFor(extraction.FormWords{Word: "crusht"})
	fmt.Println(err)
	// Output: unknown form "crusht"
}

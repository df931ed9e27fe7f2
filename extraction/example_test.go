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

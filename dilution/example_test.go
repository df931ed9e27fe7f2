package dilution_test

import (
	"fmt"

	"hedgerow/dilution"
)

// Computed independently by a separate program: 12 L of 1.048/1.010 with 0.6 L of
// water. Its interval is 4.527 to 4.919.
func ExampleAccount_MonteCarlo() {
	og := dilution.Within("original gravity", 1.048, 0.001)
	fg := dilution.Within("final gravity", 1.010, 0.001)
	a := dilution.Account{
		Start: dilution.Start{
			VolumeL:  dilution.Within("batch volume", 12, 0.24),
			OG:       &og,
			NowSG:    &fg,
			Finished: true,
		},
		Steps: []dilution.Step{
			dilution.Add{Liquid: dilution.AddTea{VolumeL: dilution.Within("water", 0.6, 0.006)}},
		},
	}
	results, err := a.MonteCarlo(dilution.Draws{N: 200_000, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	e := results[1].Estimates[dilution.QABVInputs]
	fmt.Printf("%.2f %% vol (%.2f to %.2f)\n", e.Value, e.Low, e.High)
	// Output: 4.72 % vol (4.53 to 4.92)
}

// A volume measured hot is less when cold: 0.6 L at 80 C are 0.5841 L (by
// hand from the density of water, Kell [2]).
func ExampleTea_Portion() {
	water, err := dilution.Tea{VolumeL: 0.6, TempC: 80}.Portion()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4f kg, %.4f L at 20 C\n", water.MassKg(), water.VolumeL())
	// Output: 0.5831 kg, 0.5841 L at 20 C
}

// Swapped readings are caught with a hint.
func ExampleFromGravities() {
	_, err := dilution.FromGravities(dilution.Gravities{OG: 1.010, FG: 1.048}, 12)
	fmt.Println(err)
	// Output: final gravity 1.048 is above the original gravity 1.01; usually the two were swapped, or one was read from a warm or unmixed sample
}

// Every jar of a split gets the same liquid, the control too.
func ExampleEqualLiquid() {
	water, err := dilution.EqualLiquid([]dilution.Jar{
		{BeerL: 4},
		{BeerL: 4, AddedL: 0.1},
		{BeerL: 4, AddedL: 0.2},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(water)
	// Output: [0.2 0.1 0]
}

// The first calibration row of the check values: 4.35 on a meter that showed
// 4.08 and 7.10 in buffers of 4.00 and 7.00.
func ExamplePHCalibration_Correct() {
	c := dilution.PHCalibration{Buffer1: 4.00, Read1: 4.08, Buffer2: 7.00, Read2: 7.10}
	pH, err := c.Correct(4.35)
	if err != nil {
		fmt.Println(err)
		return
	}
	slope, flagged, err := c.SlopePct()
	fmt.Printf("pH %.2f, slope %.1f %%, flagged %v, %v\n", pH, slope, flagged, err)
	// Output: pH 4.27, slope 100.7 %, flagged false, <nil>
}

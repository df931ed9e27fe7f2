package panel_test

import (
	"fmt"

	"hedgerow/report/panel"
)

// Taster B scores two points lower than A and missed the first trial. The raw
// means say 6 and 6; with B's level allowed for the second trial is a point up:
// by hand, A alone saw 6 and 7.
func ExampleAdjusted() {
	a, err := panel.Adjusted([]panel.Score{
		{Taster: "A", Trial: "cut", Value: 6},
		{Taster: "A", Trial: "whole", Value: 7},
		{Taster: "B", Trial: "whole", Value: 5},
	}, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range a.Trials {
		fmt.Printf("%s: raw %.1f, adjusted %.1f, %d tasters\n", t.Trial, t.Raw, t.Mean, t.Tasters)
	}
	fmt.Println(a.Warnings[0])
	// Output:
	// cut: raw 6.0, adjusted 5.0, 1 tasters
	// whole: raw 6.0, adjusted 6.0, 2 tasters
	// no interval: 3 scores by 2 tasters leave no scores over to measure the noise; taste again, or have more people taste
}

// Six of eight right in a triangle test: the printed tables need 6 for 5 %.
func ExampleDifferenceTest_Result() {
	r, err := panel.Triangle.Result(6, 8, 0.05)
	if err != nil {
		fmt.Println(err)
		return
	}
	needed, _, err := panel.Triangle.MinCorrect(8, 0.05)
	fmt.Printf("p %.3f, needed %d %v\n", r.P, needed, err)
	// Output: p 0.020, needed 6 <nil>
}

// Four servings fill one whole square with four tasters.
func ExampleServingOrders() {
	p, err := panel.ServingOrders(4, 4, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Balance.PositionEven, p.Balance.NeighbourEven, len(p.Warnings))
	// Output: true true 0
}

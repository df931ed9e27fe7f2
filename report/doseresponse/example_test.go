package doseresponse_test

import (
	"fmt"

	"hedgerow/report/doseresponse"
)

// Two friends found one brew with 2 g/L of meadowsweet too weak; they had
// read of 1 to 8 g/L.
func Example() {
	tooLittle, right := -1, 0
	study := doseresponse.Study{
		ID:          "meadowsweet",
		ClaimsGPerL: [][2]float64{{1, 8}},
		Trials: []doseresponse.Trial{{
			ID: "T1", DoseGPerL: 2, Kind: doseresponse.Batch, Method: "tea",
			Scores: []doseresponse.Score{
				{Taster: "A", Vote: &tooLittle},
				{Taster: "B", Vote: &right},
			},
		}},
	}
	post, err := doseresponse.Fit(study, doseresponse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	next := post.NextDose()
	fmt.Println("more than 2 g/L:", next.DoseGPerL > 2)
	fmt.Println(len(post.Spread(4)), "jars or", len(post.Glasses()), "glasses;", post.Verdict())
	// Output:
	// more than 2 g/L: true
	// 4 jars or 6 glasses; try
}

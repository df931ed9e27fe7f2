package doseresponse_test

import (
	"fmt"

	"hedgerow/report/doseresponse"
	"hedgerow/report/evidence"
)

// Two friends found one brew with 2 g/L of meadowsweet too weak; they had
// read of 1 to 8 g/L.
func Example() {
	tooLittle, right := -1, 0
	study := evidence.Study{
		ID:          "meadowsweet",
		ClaimsGPerL: [][2]float64{{1, 8}},
		Trials: []evidence.Trial{{
			ID: "T1", DoseGPerL: 2, Kind: evidence.Batch, Method: "tea",
			Scores: []evidence.Score{
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
	fmt.Println(len(post.Spread(4)), "jars or", len(post.Glasses()), "glasses;", post.Answer().Verdict)
	// Output:
	// more than 2 g/L: true
	// 4 jars or 6 glasses; try
}

// One line of JSON in, one line out; a line that cannot be answered says why.
func ExampleAnswerLine() {
	line := []byte(`{"id":"a","claims_g_per_l":[[8,1]],"trials":[]}`)
	answer, err := doseresponse.AnswerLine(line, func(a doseresponse.Answer) []string {
		return []string{fmt.Sprintf("Brew %.1f g/L.", a.Next.DoseGPerL)}
	})
	fmt.Println(string(answer))
	fmt.Println("failed:", err != nil)
	// Output:
	// {"id":"a","error":{"code":"bad_study","message":"claim [8, 1] g/L has its low above its high","hint":"write [1, 8]"}}
	// failed: true
}

// What would narrow the answer most, a brew split into four jars or a single
// batch?
func ExamplePosterior_Teach() {
	study := evidence.Study{ID: "meadowsweet", ClaimsGPerL: [][2]float64{{1, 8}}}
	post, err := doseresponse.Fit(study, doseresponse.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("most is learned from", post.Teach("")[0].Action)
	// Output:
	// most is learned from four jars
}

// A friend who wanted more than the panel in an earlier study is expected to
// want more again, by half as much.
func ExampleRemember() {
	earlier := evidence.TasterPrior{OffsetLn: 0.4, OffsetSDLn: 0.1, Scale: 0, ScaleSD: 1, Sharpness: 1}
	next, _ := doseresponse.Remember([]evidence.TasterPrior{earlier})
	fmt.Println("wants more:", next.OffsetLn > 0, "but less sure:", next.OffsetSDLn > earlier.OffsetSDLn)
	// Output:
	// wants more: true but less sure: true
}

package evenings

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hedgerow/report/document"
	"hedgerow/report/panel"
	"hedgerow/trials"
	"hedgerow/trials/figure"
)

// DifferenceRequest asks about a difference test of two beers.
type DifferenceRequest struct {
	Test       string   // triangle, paired, duo-trio, 3-afc or tetrad
	TwoSided   bool     // of the paired test: which beer is the stronger was not known beforehand
	Answers    int      // answers in all; 0 while it is only planned
	Correct    *int     // answers that were right
	Alpha      float64  // chance accepted of taking guesses for a difference
	Difference float64  // size that should be found, in units of the scatter of one glass
	Power      float64  // wished chance of finding it
	Orders     int      // serving orders for so many tasters; 0 for none
	Seed       uint64   // of the orders and their codes
	About      []string // what beer A and beer B are, for the pour sheet
}

// differencePayload is what --json prints.
type differencePayload struct {
	Test       string         `json:"test"`
	Answers    int            `json:"answers"`
	Correct    *int           `json:"correct"`
	Chance     float64        `json:"chance"`
	Alpha      float64        `json:"alpha"`
	P          *float64       `json:"p"`
	Needed     *int           `json:"correct_needed"` // null where so few answers cannot tell
	Share      *figure.Stated `json:"share_correct"`
	Size       *figure.Stated `json:"difference"`
	Asked      float64        `json:"difference_asked"`
	Power      *float64       `json:"power"`
	Need       *int           `json:"answers_needed"`
	More       *int           `json:"more_answers_needed"`
	Wish       float64        `json:"power_wished"`
	Orders     []forcedOrder  `json:"orders"`
	Warnings   []string       `json:"warnings"` // remarks, one sentence each
	conclusion string
}

// forcedOrder is the order of one taster with the codes of the glasses.
type forcedOrder struct {
	Taster    string   `json:"taster"`    // name of the taster
	Reference string   `json:"reference"` // of a duo-trio: the beer of the named glass
	Codes     []string `json:"codes"`
	Beers     []string `json:"beers"`
}

// testWords says what a taster does in each test. The names are those of the
// trade.
var testWords = map[panel.DifferenceTest]string{
	panel.Triangle:       "three glasses, two of them alike: pick the odd one",
	panel.DuoTrio:        "a named glass and two others: pick the one that is like it",
	panel.Paired:         "two glasses: pick the one with more of a taste that was named beforehand",
	panel.PairedTwoSided: "two glasses: pick the one with more of a taste, without knowing which beer should have it",
	panel.ThreeAFC:       "three glasses, two of them plain: pick the one with more of a taste that was named",
	panel.Tetrad:         "four glasses, two of each beer: sort them into two pairs",
}

// DifferenceTestWords says what is done in a test; empty for none of that name.
func DifferenceTestWords(test string) string { return testWords[panel.DifferenceTest(test)] }

// Difference works out a difference test: how many right answers are needed, what
// the answers say, and how many more would do.
func Difference(r DifferenceRequest) (document.View, string, error) {
	test := panel.DifferenceTest(r.Test)
	if r.TwoSided {
		test = panel.PairedTwoSided
	}
	chance, err := test.Chance()
	if err != nil {
		return document.View{}, "", trials.Refuse("choose one of triangle, paired, duo-trio, 3-afc, tetrad",
			"%q is no difference test", r.Test)
	}
	if r.Difference < 0 {
		return document.View{}, "", trials.Refuse("write --difference 1.5", "difference %s is below zero",
			document.Significant(r.Difference, 2))
	}
	v := differencePayload{Test: string(test), Answers: r.Answers, Correct: r.Correct, Chance: chance, Alpha: r.Alpha,
		Asked: r.Difference, Wish: r.Power, Orders: []forcedOrder{}, Warnings: []string{}}
	if err := v.tested(test, r); err != nil {
		return document.View{}, "", err
	}
	if err := v.sized(test, r); err != nil {
		return document.View{}, "", err
	}
	if err := v.ordered(test, r); err != nil {
		return document.View{}, "", err
	}
	return document.View{Document: v.document(test, r), Payload: v}, v.conclusion, nil
}

// tested fills in what the answers say.
func (v *differencePayload) tested(test panel.DifferenceTest, r DifferenceRequest) error {
	if r.Answers == 0 {
		return nil
	}
	needed, ok, err := test.MinCorrect(r.Answers, r.Alpha)
	if err != nil {
		return trials.Refuse("write --answers 12 --alpha 0.05", "%v", err)
	}
	if ok {
		v.Needed = &needed
	} else {
		v.Warnings = append(v.Warnings, fmt.Sprintf("%s cannot tell at p %s, even if all are right",
			document.Count(r.Answers, "answer"), document.Significant(r.Alpha, 1)))
	}
	if r.Correct == nil {
		return nil
	}
	res, err := test.Result(*r.Correct, r.Answers, r.Alpha)
	if err != nil {
		return trials.Refuse("write --correct 7 --answers 12", "%v", err)
	}
	v.P = &res.P
	share := figure.StatedBetween(res.Value, res.Low, res.High, res.Level)
	v.Share = &share
	if res.DPrimeOK {
		// all right has no upper end: the size stands without an interval rather than with an open one
		size := figure.StatedExactly(res.DPrime)
		if res.HighOK {
			size = figure.StatedBetween(res.DPrime, res.DPrimeLow, res.DPrimeHigh, 1-r.Alpha)
		}
		v.Size = &size
	}
	return nil
}

// sized fills in the power and how many answers are needed.
func (v *differencePayload) sized(test panel.DifferenceTest, r DifferenceRequest) error {
	if r.Answers > 0 {
		power, err := test.Power(r.Answers, r.Alpha, r.Difference)
		if err != nil {
			return trials.Refuse("write --difference 1.5", "%v", err)
		}
		v.Power = &power
	}
	need, err := test.NeedMore(r.Answers, r.Alpha, r.Difference, r.Power)
	switch {
	case err == nil:
		v.Need, v.More = &need.N, &need.More
	// a remark and no refusal: what the answers at hand say is still worth printing
	case strings.Contains(err.Error(), "needs more than"):
		v.Warnings = append(v.Warnings, "a difference that small takes more than 3000 answers to find")
	default:
		return trials.Refuse("write --difference 1.5 --power 80%", "%v", err)
	}
	return nil
}

// ordered fills in serving orders with codes.
func (v *differencePayload) ordered(test panel.DifferenceTest, r DifferenceRequest) error {
	if r.Orders == 0 {
		return nil
	}
	names, err := TasterNames(r.Orders)
	if err != nil {
		return err
	}
	orders, err := panel.ForcedChoiceOrders(test, r.Orders, r.Seed)
	if err != nil {
		return trials.Refuse("write --orders 6", "%v", err)
	}
	// a code for every glass, not for every beer: one code twice would tell which glasses are alike
	codes, err := panel.Codes(len(orders)*len(orders[0].Glasses), r.Seed, nil)
	if err != nil {
		return trials.Refuse("write --orders 6", "%v", err)
	}
	for i, o := range orders {
		row := forcedOrder{Taster: names[i], Reference: r.beer(o.Reference)}
		for _, glass := range o.Glasses {
			row.Codes = append(row.Codes, strconv.Itoa(codes[0]))
			row.Beers = append(row.Beers, r.beer(glass))
			codes = codes[1:]
		}
		v.Orders = append(v.Orders, row)
	}
	return nil
}

// beer names A or B as the request does.
func (r DifferenceRequest) beer(letter string) string {
	i := slices.Index([]string{"A", "B"}, letter)
	// without a name for the beer the letter is what the pourer has marked
	if i < 0 || i >= len(r.About) {
		return letter
	}
	return r.About[i]
}

// document draws the answer.
func (v *differencePayload) document(test panel.DifferenceTest, r DifferenceRequest) document.Document {
	d := document.Document{Title: testTitle(test)}
	first := document.Section{Paragraphs: []string{document.Capital(testWords[test]) +
		fmt.Sprintf(". Guessing is right %s of the time.", oneIn(v.Chance))}}
	if r.Answers > 0 {
		v.conclusion = v.conclude(test)
		first.Paragraphs = append(first.Paragraphs, document.Capital(v.conclusion)+".")
	}
	first.Paragraphs = append(first.Paragraphs, v.outlook()...)
	first.Notes = append([]string{"a difference of 1 is as large as the scatter of one glass from the next in a " +
		"taster's mouth; 0.5 is slight, 2 is plain",
		"answers are taken as independent: several by one friend tell whether that friend can taste it, not what " +
			"people can"}, v.Warnings...)
	d.Sections = append(d.Sections, first)
	if len(v.Orders) > 0 {
		d.Sections = append(d.Sections, v.orderSection(test))
	}
	return d
}

// testTitle names a test.
func testTitle(test panel.DifferenceTest) string {
	return map[panel.DifferenceTest]string{panel.Triangle: "Triangle test", panel.DuoTrio: "Duo-trio test",
		panel.Paired: "Paired test", panel.PairedTwoSided: "Paired test, two-sided", panel.ThreeAFC: "3-AFC test",
		panel.Tetrad: "Tetrad test"}[test]
}

// oneIn prints a chance as people say it.
func oneIn(chance float64) string {
	if chance == 0.5 {
		return "half"
	}
	return "a third"
}

// conclude says in one sentence what the answers tell.
func (v *differencePayload) conclude(test panel.DifferenceTest) string {
	if v.Correct == nil {
		if v.Needed == nil {
			return fmt.Sprintf("%s cannot tell a difference at p %s", document.Count(v.Answers, "answer"),
				document.Significant(v.Alpha, 1))
		}
		return fmt.Sprintf("of %s at least %d must be right for p %s", document.Count(v.Answers, "answer"), *v.Needed,
			document.Significant(v.Alpha, 1))
	}
	text := fmt.Sprintf("%d of %d right, exact p %s", *v.Correct, v.Answers, exactP(*v.P))
	if v.Needed != nil && *v.P <= v.Alpha {
		return text + ": a difference was tasted (" + strconv.Itoa(*v.Needed) + " were needed)"
	}
	text += ": no difference shown, which is not the same as none"
	if v.Needed != nil {
		text += fmt.Sprintf(" (%d were needed)", *v.Needed)
	}
	return text
}

// exactP prints an exact p with two digits.
func exactP(p float64) string {
	if p < 0.001 {
		return document.PText(p)
	}
	return document.Significant(p, 2)
}

// outlook says how large the difference is and how many answers would do.
func (v *differencePayload) outlook() []string {
	var list []string
	if v.Size != nil {
		list = append(list, "Size of the difference: "+document.Spread(*v.Size, 1, 1)+".")
	}
	if v.Power != nil {
		list = append(list, fmt.Sprintf("With %s the chance of finding a difference of %s is %s.",
			document.Count(v.Answers, "answer"), document.Significant(v.Asked, 2), document.Chance(*v.Power)))
	}
	switch {
	case v.Need == nil:
	case v.Power == nil:
		list = append(list, fmt.Sprintf("To find a difference of %s with a chance of %s, %s are needed.",
			document.Significant(v.Asked, 2), document.Whole(v.Wish), document.Count(*v.Need, "answer")))
	case *v.More > 0:
		list = append(list, fmt.Sprintf("For a chance of %s, %s are needed: %d more.", document.Whole(v.Wish),
			document.Count(*v.Need, "answer"), *v.More))
	default:
		list = append(list, fmt.Sprintf("%s would do for a chance of %s.",
			document.Capital(document.Count(*v.Need, "answer")), document.Whole(v.Wish)))
	}
	return list
}

// orderSection is the table of orders for whoever pours.
func (v *differencePayload) orderSection(test panel.DifferenceTest) document.Section {
	t := document.Table{Columns: []document.Column{{Title: "taster", Wrap: true}, {Title: "codes, first on the left"},
		{Title: "beers", Wrap: true}}}
	for _, o := range v.Orders {
		beers := strings.Join(o.Beers, ", ")
		if o.Reference != "" {
			beers = "named glass " + o.Reference + "; " + beers
		}
		t.Rows = append(t.Rows, []string{o.Taster, strings.Join(o.Codes, "  "), beers})
	}
	return document.Section{Heading: "Serving orders: for whoever pours", NewPage: true, Table: &t}
}

// ThresholdRequest is one ascending 3-AFC series.
type ThresholdRequest struct {
	Doses   []float64 // from weak to strong, g/L
	Tasters []string  // how many took part
	Correct [][]bool  // by taster and dose
}

// ThresholdView works out where a taste starts to show.
func ThresholdView(r ThresholdRequest) (document.View, string, error) {
	res, err := panel.AscendingThreshold(r.Doses, r.Correct)
	if err != nil {
		return document.View{}, "", trials.Refuse(`write --doses 0.5,1,2,4 --answers "A=-+++"`, "%v", err)
	}
	type row struct {
		Taster    string  `json:"taster"`
		Threshold float64 `json:"threshold_g_per_l"`
		AllRight  bool    `json:"all_right"`
		LastMiss  bool    `json:"last_missed"`
	}
	t := document.Table{Columns: []document.Column{{Title: "taster", Wrap: true}, {Title: "threshold g/L", Right: true},
		{Title: "note", Wrap: true}}}
	var rows []row
	for i, p := range res.Tasters {
		remark := ""
		switch {
		case p.AllRight:
			remark = "all right: it may lie lower"
		case p.LastMiss:
			remark = "the strongest was missed: it may lie higher"
		}
		rows = append(rows, row{r.Tasters[i], p.Value, p.AllRight, p.LastMiss})
		t.Rows = append(t.Rows, []string{r.Tasters[i], document.Significant(p.Value, 2), remark})
	}
	line := fmt.Sprintf("threshold of the group %s g/L (geometric mean of %s)", document.Significant(res.Group, 2),
		document.Count(len(rows), "taster"))
	payload := struct {
		Group    float64  `json:"group_threshold_g_per_l"`
		SDLog10  *float64 `json:"sd_log10"`
		Tasters  []row    `json:"tasters"`
		Warnings []string `json:"warnings"`
	}{res.Group, nil, rows, append([]string{}, res.Warnings...)}
	if len(rows) > 1 {
		payload.SDLog10 = &res.SDLog10
		line += fmt.Sprintf("; standard deviation of its log10 %s", document.Fixed(res.SDLog10, 2))
	}
	notes := append([]string{"a threshold is where a taste starts to show; the right dose lies well above it",
		"a guess is right one time in three, so thresholds of single tasters lean low"}, res.Warnings...)
	return document.View{Document: document.Document{Title: "Ascending 3-AFC series",
		Sections: []document.Section{{Paragraphs: []string{document.Capital(line) + "."}, Table: &t, Notes: notes}}},
		Payload: payload}, line, nil
}

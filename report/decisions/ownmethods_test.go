package decisions

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"hedgerow/report/panel"
	"hedgerow/testdata/invented"
	"hedgerow/trials/steeps"
)

// assayPoints reads an assay of testdata, its response put through change.
func assayPoints(t *testing.T, name string, blocks bool, change func(y float64) float64) []panel.AssayPoint {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "datasets", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatal(err, len(rows))
	}
	at := map[string]int{}
	for i, column := range rows[0] {
		at[column] = i
	}
	var points []panel.AssayPoint
	for _, r := range rows[1:] {
		dose, errDose := strconv.ParseFloat(r[at["dose"]], 64)
		y, errY := strconv.ParseFloat(r[at["y"]], 64)
		if errDose != nil || errY != nil {
			t.Fatal(r)
		}
		p := panel.AssayPoint{Sample: r[at["sample"]], Dose: dose, Y: change(y)}
		if blocks {
			p.Block = r[at["block"]]
		}
		points = append(points, p)
	}
	return points
}

// The potency that own scores give, with its limits, is that of the worked
// examples of parallel-line assays: European Pharmacopoeia 5.3, tables 5.1.1
// and 5.1.3, EDQM worked example 1, computed in R 4.2.2. Responses that fall
// with the dose are turned over, which leaves a potency as it is.
func TestPotencyOfPrintedAssays(t *testing.T) {
	over := func(y float64) float64 { return -y }
	cases := []struct {
		file             string
		blocks           bool
		change           func(float64) float64
		test             string
		value, low, high float64
	}{
		{"corticotrophin.csv", false, over, "T", 1.142045259591, 0.7836480201762, 1.686898932173},
		{"corticotrophin.csv", false, over, "U", 1.668886741641, 1.148127712909, 2.55502975014},
		{"turbidimetric.csv", true, over, "T", 1.074072496518, 1.029099493274, 1.121367953574},
		{"diphtheria.csv", false, func(y float64) float64 { return y * y }, "T",
			2.330017504472, 1.747516774841, 3.079510456272},
	}
	for _, c := range cases {
		own := ownMethod{Method: c.test, Reference: "S"}
		own.judge(assayPoints(t, c.file, c.blocks, c.change), nil, steeps.MethodEvidence{Doses: 2}, 0)
		if own.Potency == nil {
			t.Errorf("%s %s: %s", c.file, c.test, own.Refused)
			continue
		}
		got := own.Potency.Update.ByTrials
		invented.Near(t, c.file+" potency", got.Value, c.value, 1e-6*c.value)
		invented.Near(t, c.file+" low", got.Low, c.low, 1e-6*c.low)
		invented.Near(t, c.file+" high", got.High, c.high, 1e-6*c.high)
	}
}

// The corticotrophin lines are not parallel: printed F 5.37, in R p 0.0075.
func TestDoubtsOfAPotencyAreShown(t *testing.T) {
	own := ownMethod{Method: "T", Reference: "S"}
	points := assayPoints(t, "corticotrophin.csv", false, func(y float64) float64 { return -y })
	own.judge(points, nil, steeps.MethodEvidence{Doses: 2}, 0)
	section := ownMethodSection([]ownMethod{own, own})
	const doubt = "the lines are not parallel (p 0.0075): one number for the potency does not hold at all doses"
	if notes := section.Notes; len(notes) != 2 || notes[1] != doubt {
		t.Errorf("notes %q", notes)
	}
	if rows := ownMethodRows([]ownMethod{own}); len(rows[0].Warnings) != 1 {
		t.Errorf("warnings %q", rows[0].Warnings)
	}
}

// Two methods from two brews differ by what brews do by themselves, SD 0.18 in ln dose
// each: by hand the difference of the scores gets the variance 2 (0.18 b)^2 more, b points
// per ln dose; from one split brew none; and dosed glasses of one bring their step, 0.40.
func TestBrewsCountInAPotency(t *testing.T) {
	points := assayPoints(t, "turbidimetric.csv", true, func(y float64) float64 { return -y })
	diffVariance := func(beer func(p panel.AssayPoint) beerOf) (variance, slope float64) {
		var beers []beerOf
		for _, p := range points {
			if beer != nil {
				beers = append(beers, beer(p))
			}
		}
		own := ownMethod{Method: "T", Reference: "S"}
		own.judge(points, beers, steeps.MethodEvidence{Doses: 4}, 0)
		if own.Potency == nil {
			t.Fatal(own.Refused)
		}
		return own.Potency.DiffSD * own.Potency.DiffSD, own.Potency.Slope / math.Ln10
	}
	alone, b := diffVariance(nil)
	for _, tt := range []struct {
		name string
		beer func(p panel.AssayPoint) beerOf
		more float64
	}{
		{"one brew", func(panel.AssayPoint) beerOf { return beerOf{name: "1"} }, 0},
		{"two brews", func(p panel.AssayPoint) beerOf { return beerOf{name: p.Sample} }, 2 * 0.18 * 0.18},
		{"a brew and glasses", func(p panel.AssayPoint) beerOf { return beerOf{glass: p.Sample == "T"} },
			0.18*0.18 + 0.4*0.4},
	} {
		got, _ := diffVariance(tt.beer)
		invented.Near(t, tt.name, got-alone, tt.more*b*b, 1e-9*b*b)
	}
}

package decisions_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"hedgerow/report/decisions"
	"hedgerow/report/document"
	"hedgerow/testdata/drawing"
	"hedgerow/testdata/invented"
	"hedgerow/trials"
)

// bare is an invented notebook with three tasters and nothing else.
func bare() *trials.Notebook {
	n := invented.Series()
	n.Batches, n.Readings, n.Extracts, n.Additions = nil, nil, nil, nil
	n.Tastings, n.Servings, n.Scores, n.Claims = nil, nil, nil, nil
	return n
}

// poured is a notebook with a beer for each factor of the tea, all tasted on one evening
// with the votes given by vote for the beer's place and the taster.
func poured(at time.Time, factors []float64, vote func(beer, taster int) int) *trials.Notebook {
	n := bare()
	var glasses []invented.Glass
	for i, k := range factors {
		name := fmt.Sprintf("beer-%02d", i)
		invented.Brew(n, name)
		if k > 0 {
			invented.Pour(n, name, k)
		}
		g := invented.Glass{Batch: name}
		for j := range 3 {
			v := vote(i, j)
			g.Vote[j], g.Tart[j], g.Liking[j] = v, float64(5+3*v), 7-float64(2*v*v)
		}
		glasses = append(glasses, g)
	}
	closed := at.AddDate(0, 0, 1)
	invented.Serve(n, trials.Tasting{Record: trials.Record{Name: "evening"}, At: at, Blind: true, ClosedAt: &closed},
		glasses...)
	if n.Now.Before(closed) {
		n.Now = closed
	}
	return n
}

// spread returns n factors from low upwards.
func spread(n int, low float64) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = low * (1 + float64(i)*0.09)
	}
	return list
}

// edges are the notebooks at the edges of what a page must tell, each with what must
// stand in it.
func edges() map[string]struct {
	n    *trials.Notebook
	want string
} {
	rising := func(beer, _ int) int { return min(beer, 2) - 1 }
	// one likes the weakest beer, the others the strongest; they taste the same in them
	camps := poured(invented.Day(30), []float64{0.5, 0.7, 1, 1.4, 2}, func(beer, taster int) int {
		best := []int{0, 4, 4}[taster]
		return max(-1, min(1, beer-best))
	})
	for i := range camps.Scores {
		if y := camps.Scores[i].Intensity; y != nil {
			const scoresAGlass = 6
			*y = float64(3 + i/scoresAGlass)
		}
	}
	long := invented.Series()
	for i := range long.Tasters {
		long.Tasters[i].Name = fmt.Sprintf("Taster %c, who came late and stayed to the very end", 'A'+i)
	}
	for i := range long.Batches {
		long.Batches[i].Name += "-with-a-name-that-goes-on-and-on-and-on"
	}
	hostile := invented.Series()
	hostile.Batches[1].Name = `<img src=x onerror=alert(1)>`
	hostile.Tasters[0].Name = `"><script>alert(2)</script>` + invented.Hostile
	hostile.Claims[0].AsWritten, hostile.Claims[0].Source = `</text></svg><script>x</script>`, `<style>*{}</style>`
	hostile.Settings = map[string]string{trials.SettingHeading: `<h1 onclick="x">`}
	none := bare()
	heard := bare()
	heard.Claims = invented.Series().Claims
	type edge = struct {
		n    *trials.Notebook
		want string
	}
	return map[string]edge{
		"empty": {none, "nothing was heard or tasted of hibiscus yet"},
		"heard": {heard, "No beer has been scored yet"},
		"three": {invented.Series(), "2 to 4 g/L"},
		"one":   {poured(invented.Day(30), []float64{1}, func(_, _ int) int { return 0 }), "3 of 3"},
		"little": {poured(invented.Day(30), []float64{0.5, 1, 1.5}, func(_, _ int) int { return -1 }),
			"Every vote so far said too little"},
		"much": {poured(invented.Day(30), []float64{1, 2, 3}, func(_, _ int) int { return 1 }),
			"Every vote so far said too much"},
		"camps": {camps, "Two camps: Taster A likes"},
		"forty": {poured(invented.Day(30), spread(40, 0.4), func(beer, _ int) int { return beer/14 - 1 }), "beer-39"},
		"old":   {poured(invented.Day(395), []float64{0, 1, 2}, rising), "2027-03-31"},
		"long":  {long, "-with-a-name-that-goes-on"}, "hostile": {hostile, "&lt;img src=x"},
	}
}

// drawnSVG finds the pictures of a page.
var drawnSVG = regexp.MustCompile(`<div class="(?:pic|rows|panels)">(<svg .*?</svg>)</div>`)

// Every page of the edges can be written, is well formed, holds no markup of others and no
// figure that is none, and says what matters. HEDGEROW_PAGES names a folder to keep the
// pages in, to be looked at.
func TestPagesAtTheEdges(t *testing.T) {
	for name, c := range edges() {
		t.Run(name, func(t *testing.T) {
			s := invented.SetOf(t, c.n)
			v, err := decisions.Report(c.n, s, decisions.SuggestRequest{VolumeL: 10, Pictures: true})
			if err != nil {
				t.Fatal(err)
			}
			drawing.CheckView(t, name, v)
			page := drawing.Drawn(t, func(b *strings.Builder) error { return document.WriteHTML(b, v.Document) })
			if folder := os.Getenv("HEDGEROW_PAGES"); folder != "" {
				if err := os.WriteFile(filepath.Join(folder, name+".html"), []byte(page), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			if !strings.Contains(page, c.want) {
				t.Errorf("the page does not say %q", c.want)
			}
			for _, not := range []string{"<script", "<img", "onclick=\"", "<style>*", "style=", "NaN", "Inf<", "%!"} {
				if strings.Contains(page, not) {
					t.Errorf("the page holds %q", not)
				}
			}
			for _, svg := range drawnSVG.FindAllStringSubmatch(page, -1) {
				wellFormed(t, svg[1])
			}
		})
	}
}

// wellFormed fails unless a text is one XML element.
func wellFormed(t *testing.T, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatalf("%v in %.200s", err, text)
		}
	}
}

// What the page says of the next dose is what suggest says, word for figure.
func TestPageAgreesWithSuggestion(t *testing.T) {
	n := invented.Series()
	r := decisions.SuggestRequest{VolumeL: 10}
	suggested, err := decisions.Suggest(n, invented.SetOf(t, n), r)
	if err != nil {
		t.Fatal(err)
	}
	told, err := decisions.Report(n, invented.SetOf(t, n), r)
	if err != nil {
		t.Fatal(err)
	}
	var a, b struct {
		Next  map[string]float64 `json:"next"`
		Right map[string]float64 `json:"right_dose_g_per_l"`
		Votes any                `json:"votes_by_dose"`
	}
	drawing.ReadJSON(t, suggested, &a)
	drawing.ReadJSON(t, told, &b)
	if fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("suggest says %v, report %v", a, b)
	}
}

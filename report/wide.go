package report

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"hedgerow/report/wording"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
)

// WideScores lays out every score with its beer, dose, taster and vote, for a
// spreadsheet: the header first. Of a sealed tasting only the code is told.
func WideScores(n *trials.Notebook) ([][]string, error) {
	doses, err := dosesByBatch(n)
	if err != nil {
		return nil, err
	}
	x := n.Index()
	tastings, servings := map[string]trials.Tasting{}, map[string]trials.Serving{}
	for _, t := range n.Tastings {
		tastings[t.ID] = t
	}
	for _, s := range n.Servings {
		servings[s.ID] = s
	}
	rows := [][]string{{"tasting", "at", "blind", "code", "batch", "material", "dose_g_per_l", "dose_low_g_per_l",
		"dose_high_g_per_l", "method", "taster", "attribute", "intensity", "vote", "liking", "position"}}
	for _, s := range n.Scores {
		t, serving := tastings[s.TastingID], servings[s.ServingID]
		row := []string{t.Name, t.At.UTC().Format(time.RFC3339), strconv.FormatBool(t.Blind), serving.Code, "", "", "",
			"", "", ""}
		if b, known := x.BatchByID(serving.BatchID); known && !t.Sealed() {
			row[4] = b.Name
			// more than one material: the first stands here, the others are in the ledgers
			if d := doses[b.ID]; len(d) > 0 {
				row = append(row[:5], d[0]...)
			}
		}
		rows = append(rows, append(row, x.TasterName(s.TasterID), s.Attribute, plainFigure(s.Intensity), plainCount(s.Vote),
			plainFigure(s.Liking), plainCount(s.Position)))
	}
	return rows, nil
}

// dosesByBatch are the materials of each batch that was tasted: key, effective dose
// with its interval, and method.
func dosesByBatch(n *trials.Notebook) (map[string][][]string, error) {
	materials, err := n.Catalogue()
	if err != nil {
		return nil, err
	}
	doses := map[string][][]string{}
	for _, key := range ledger.MaterialsUsed(n) {
		m, ok := materials.Get(key)
		if !ok {
			continue
		}
		s, err := ledger.Gather(n, m)
		if err != nil {
			// one material whose account does not hold must not keep the scores from being written
			continue
		}
		for _, t := range s.Trials {
			if t.Control {
				continue
			}
			doses[t.Batch.ID] = append(doses[t.Batch.ID], append(append([]string{key}, estimateCells(t.Effective)...), t.Method))
		}
	}
	return doses, nil
}

// estimateCells are a figure and its interval, empty where they are not known.
func estimateCells(e figure.Estimate) []string {
	cells := []string{"", "", ""}
	if e.OK {
		cells[0] = figureCell(e.Value)
	}
	if e.OK && e.HasBounds {
		cells[1], cells[2] = figureCell(e.Low), figureCell(e.High)
	}
	return cells
}

// figureCell writes a figure that was worked out: six digits are more than it has.
func figureCell(v float64) string {
	if !figure.Finite(v) {
		return ""
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// plainFigure writes a figure as it was logged, nothing for none.
func plainFigure(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'g', -1, 64)
}

// plainCount writes a whole number, nothing for none.
func plainCount(v *int) string {
	if v == nil {
		return ""
	}
	return strconv.Itoa(*v)
}

// WideLedgers lays out the account of every batch step by step, for a spreadsheet:
// the header first. A batch that has no account yet is left out and named.
func WideLedgers(n *trials.Notebook) (rows [][]string, without []string) {
	header := []string{"batch", "step", "at", "day", "kind", "what"}
	for _, q := range []string{"volume_l", "gravity_sg", "abv_pct", "real_extract_pct", "ibu", "srm", "ph"} {
		header = append(header, q, q+"_low", q+"_high")
	}
	rows = append(rows, header)
	for _, b := range n.Batches {
		l, err := ledger.Of(n, b)
		if err != nil {
			without = append(without, fmt.Sprintf("%s: %v", b.Name, err))
			continue
		}
		for i, s := range l.Steps {
			state := s.State()
			row := []string{b.Name, strconv.Itoa(i + 1), s.At.UTC().Format(time.RFC3339),
				figureCell(s.At.Sub(l.Steps[0].At).Hours() / 24), string(s.Kind),
				wording.EventSentence(n, s.Event, quantity.Metric)}
			for _, e := range []figure.Estimate{state.VolumeL, state.GravitySG, state.ABVPct, state.RealExtractPct, state.IBU,
				state.SRM} {
				row = append(row, estimateCells(e)...)
			}
			rows = append(rows, append(row, phCells(n, s.Event)...))
		}
	}
	slices.Sort(without)
	return rows, without
}

// phCells are the pH of an event, corrected; it has no interval.
func phCells(n *trials.Notebook, e ledger.Event) []string {
	if p := phView(n, e); p != nil {
		return []string{figureCell(p.Value), "", ""}
	}
	return []string{"", "", ""}
}

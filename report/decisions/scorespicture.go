package decisions

import (
	"fmt"

	"hedgerow/report/document"
	"hedgerow/report/plot"
	"hedgerow/report/wording"
	"hedgerow/trials"
)

// scoresPicture draws the panel means of a taste, and the liking, against the dose;
// nothing where fewer than two doses were scored.
func scoresPicture(material, attribute string, list []comparedTrial) []document.Picture {
	p := plot.Plot{Title: "Scores against the effective dose of " + material, Under: "effective dose, g/L",
		Desc: "Panel means with 95 % limits; the numbers are in the table below."}
	var doses []float64
	for _, scale := range []struct {
		name, label string
		axis        plot.Axis
	}{
		{attribute, attribute + ", 0 to 10", plot.Axis{High: 10}},
		{wording.WordOf(trials.Overall), "liking, 1 to 9", plot.Axis{Low: 1, High: 9}},
	} {
		panel := plot.Panel{Label: scale.label, Y: scale.axis, Height: 110}
		for _, c := range list {
			m, scored := c.Means[scale.name]
			if !scored || c.Effective == nil {
				continue
			}
			q := plot.Point{X: c.Effective.Value, Y: m.Value, Low: m.Low, High: m.High, Shape: plot.Disc, Ink: plot.Black,
				Label: c.Trial, Title: fmt.Sprintf("%s: %s of %s", c.Trial, document.PlusMinus(m.Stated, 1, 1),
					document.Count(m.N, "score"))}
			if q.Apart = c.Control || q.X <= 0; q.Apart {
				q.Shape, p.None = plot.Square, "none"
			} else {
				doses = append(doses, q.X)
			}
			panel.Points = append(panel.Points, q)
		}
		if len(panel.Points) > 0 && scale.name != "" {
			p.Panel = append(p.Panel, panel)
		}
	}
	p.X = plot.Around(true, doses...)
	if len(doses) < 2 || len(p.Panel) == 0 {
		return nil
	}
	return []document.Picture{{Plot: p, Caption: "Panel means with 95 % limits. Equal steps across are equal " +
		"factors. A name without room is left out; all are in the table."}}
}

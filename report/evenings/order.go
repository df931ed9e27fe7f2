package evenings

import (
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials"
)

// orderRow is the serving order of a taster as --json prints it.
type orderRow struct {
	Taster string   `json:"taster"` // name of the taster
	Codes  []string `json:"codes"`
}

// orderRows lists the orders of a tasting; codes only, nothing that is sealed.
func orderRows(n *trials.Notebook, t trials.Tasting) []orderRow {
	rows := []orderRow{}
	for _, p := range n.Expected(t.ID) {
		rows = append(rows, orderRow{p.Name, codesOf(n.OrderOf(t.ID, p.ID))})
	}
	return rows
}

// codesOf lists the codes of servings.
func codesOf(servings []trials.Serving) []string {
	codes := make([]string, len(servings))
	for i, s := range servings {
		codes[i] = s.Code
	}
	return codes
}

// orderSection is the table of serving orders, with a bar where a pause is.
func orderSection(t trials.Tasting, rows []orderRow) document.Section {
	table := document.Table{Columns: []document.Column{{Title: "taster", Wrap: true},
		{Title: "pour in this order", Wrap: true}}}
	for _, r := range rows {
		table.Rows = append(table.Rows, []string{r.Taster, flightText(t, r.Codes)})
	}
	s := document.Section{Heading: "Serving orders", Table: &table}
	if len(rows) > 0 && len(t.Flights(len(rows[0].Codes))) > 1 {
		s.Notes = []string{"| is a pause of 15 minutes with water and plain bread"}
	}
	return s
}

// flightText joins codes, with a bar between flights.
func flightText(t trials.Tasting, codes []string) string {
	var parts []string
	for _, flight := range inFlights(t, codes) {
		parts = append(parts, strings.Join(flight, "  "))
	}
	return strings.Join(parts, "  |  ")
}

// inFlights parts an order into its flights.
func inFlights[T any](t trials.Tasting, order []T) [][]T {
	var flights [][]T
	for _, size := range t.Flights(len(order)) {
		flights = append(flights, order[:size])
		order = order[size:]
	}
	return flights
}

package document

// rows is what --json prints for a list.
type rows[T any] struct {
	Rows     []T      `json:"rows"`     // finished cells
	Warnings []string `json:"warnings"` // remarks, one sentence each
}

// listed makes the payload of a list; an empty list is [] and not null.
func listed[T any](list []T) rows[T] {
	if list == nil {
		list = []T{}
	}
	return rows[T]{Rows: list, Warnings: []string{}}
}

// ListView makes a view of one table, or a sentence when it is empty.
func ListView[T any](list []T, empty string, t Table) View {
	s := Section{Table: &t}
	// an empty table tells nothing; the sentence says what to type to fill it
	if len(list) == 0 {
		s = Section{Paragraphs: []string{empty}, Table: nil}
	}
	return View{Document: Document{Sections: []Section{s}}, Payload: listed(list)}
}

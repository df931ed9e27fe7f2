package phones

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hedgerow/trials"
)

// The fields of a form. Those of an attribute end in its name.
const (
	fieldIntensity = "intensity."
	fieldVote      = "vote."
	fieldLiking    = "liking"
	fieldNote      = "note"
)

// cannotTell is the answer that there is none; trials.ParseAnswer takes it for that.
const cannotTell = "?"

// mostNote is how many letters a note may have.
const mostNote = 500

// What may be chosen: intensity, vote and liking.
var (
	intensities = numbers(0, 10)
	votes       = []string{"-1", "0", "1"}
	likings     = numbers(1, 9)
)

// numbers lists whole numbers as text.
func numbers(from, to int) []string {
	var list []string
	for i := from; i <= to; i++ {
		list = append(list, strconv.Itoa(i))
	}
	return list
}

// answersIn takes the fields of a tasting out of a form, whatever else it holds.
func answersIn(form url.Values, t trials.Tasting) answers {
	a := answers{fieldLiking: form.Get(fieldLiking),
		// line ends as everywhere else in the notebook
		fieldNote: strings.TrimSpace(strings.ReplaceAll(form.Get(fieldNote), "\r\n", "\n"))}
	for _, name := range t.Attributes {
		a[fieldIntensity+name] = form.Get(fieldIntensity + name)
		a[fieldVote+name] = form.Get(fieldVote + name)
	}
	return a
}

// fault is what is wrong with one field.
type fault struct {
	Field  string // the field, empty for the form as a whole
	Anchor string // id of the element to go to
	Title  string // how the question is called
	Text   string // what to do
}

// faults lists what is missing or cannot be, in the order of the questions.
func (a answers) faults(t trials.Tasting) []fault {
	var list []fault
	wrong := func(field, anchor, title, text string) {
		list = append(list, fault{field, anchor, title, text})
	}
	for i, name := range t.Attributes {
		if field := fieldIntensity + name; !chosen(a[field], intensities) {
			wrong(field, anchorOf(i, "strength"), capital(name), "choose a number or \u201ccannot tell\u201d")
		}
		// who cannot tell how strong it is need not say so twice
		field := fieldVote + name
		if silent := a[field] == "" && a[fieldIntensity+name] == cannotTell; !silent && !chosen(a[field], votes) {
			wrong(field, anchorOf(i, "amount"), capital(name), "say whether it is the right amount, or \u201ccannot tell\u201d")
		}
	}
	if !chosen(a[fieldLiking], likings) {
		wrong(fieldLiking, fieldLiking, "Liking", "choose a number or \u201ccannot tell\u201d")
	}
	if long := utf8.RuneCountInString(a[fieldNote]); long > mostNote {
		wrong(fieldNote, fieldNote, "Note", fmt.Sprintf("shorten it: %d letters, and %d are the most", long, mostNote))
	}
	return list
}

// chosen reports whether an answer is one of those offered.
func chosen(answer string, offered []string) bool {
	return answer == cannotTell || slices.Contains(offered, answer)
}

// anchorOf is the id of a question about an attribute.
func anchorOf(attribute int, what string) string { return fmt.Sprintf("%s-%d", what, attribute+1) }

// capital is a name with a capital letter.
func capital(name string) string {
	r, size := utf8.DecodeRuneInString(name)
	return strings.ToUpper(string(r)) + name[size:]
}

// marks reads the answers as the command line reads them.
func (a answers) marks(t trials.Tasting) (trials.Marks, error) {
	m := trials.Marks{Note: a[fieldNote]}
	for _, name := range t.Attributes {
		text := name + "=" + a[fieldIntensity+name]
		if vote := a[fieldVote+name]; vote != "" {
			text += "/" + vote
		}
		answer, err := trials.ParseAnswer(text)
		if err != nil {
			return m, err
		}
		m.Answers = append(m.Answers, answer)
	}
	liking, err := trials.ParseAnswer(fieldLiking + "=" + a[fieldLiking])
	m.Answers = append(m.Answers, liking)
	return m, err
}

// before is what stands for a glass at present: what this phone sent, else what the
// notebook has.
func (v *Evening) before(x visit, glass int) answers {
	serving := x.order[glass]
	v.mu.Lock()
	sent := x.link.sent[serving.ID]
	v.mu.Unlock()
	a := answers{}
	for _, s := range x.n.Scores {
		if s.ServingID != serving.ID || s.TasterID != x.taster.ID {
			continue
		}
		if s.Intensity != nil {
			a[fieldIntensity+s.Attribute] = plain(*s.Intensity)
		}
		if s.Vote != nil {
			a[fieldVote+s.Attribute] = strconv.Itoa(*s.Vote)
		}
		if s.Liking != nil {
			a[fieldLiking] = plain(*s.Liking)
		}
	}
	for _, note := range x.n.TasterNotes {
		if note.ServingID == serving.ID && note.TasterID == x.taster.ID {
			a[fieldNote] = note.Text
		}
	}
	for field, answer := range sent {
		if _, known := a[field]; !known && answer == cannotTell {
			a[field] = answer
		}
	}
	return a
}

// plain prints a score.
func plain(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

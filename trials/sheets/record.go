package sheets

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// eventNames gives the events of batches their names: elder-1.r1, elder-1.r2 ...
type eventNames struct {
	taken map[string]int // highest number by what stands before it
}

// note keeps a name that is taken.
func (e eventNames) note(name string) {
	at := strings.LastIndexFunc(name, func(r rune) bool { return r < '0' || r > '9' })
	n, err := strconv.Atoi(name[at+1:])
	if err == nil {
		e.taken[name[:at+1]] = max(e.taken[name[:at+1]], n)
	}
}

// next returns the next name after a stem such as "elder-1.r".
func (e eventNames) next(stem string) string {
	e.taken[stem]++
	return fmt.Sprint(stem, e.taken[stem])
}

// keyOf is one text for a moment and figures, to tell records apart. Nine digits: a
// figure that went through a spreadsheet and back is the same.
func keyOf(at time.Time, figures ...*float64) string {
	var b strings.Builder
	b.WriteString(at.UTC().Format(time.RFC3339Nano))
	for _, f := range figures {
		b.WriteByte('|')
		if f != nil {
			b.WriteString(strconv.FormatFloat(*f, 'g', 9, 64))
		}
	}
	b.WriteByte('|')
	return b.String()
}

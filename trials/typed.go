package trials

import (
	"strconv"
	"strings"
)

// Typed is a name as it is typed into a command: in quotes where a shell would else take
// it for several words.
func Typed(name string) string {
	if strings.ContainsAny(name, " '") {
		return strconv.Quote(name)
	}
	return name
}

package exchange

import _ "embed"

// formatText is written by the test of its name, from the types that are written and
// what their fields are said to be.
//
//go:embed format.txt
var formatText string

// Format lists the kinds of records in a file, with every key: what it holds and what
// it means.
func Format() string { return formatText }

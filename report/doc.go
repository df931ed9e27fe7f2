// Package report turns records and calculations into views: a ledger, a
// comparison, a suggestion, a list.
//
// A View is built once as plain data. Its Document (paragraphs and tables of
// finished text) is drawn as terminal text, Markdown, CSV or HTML, and its
// Payload is written as JSON; since all come from the same view they cannot
// disagree. Numbers become text here and nowhere else, with as many digits as
// their intervals deserve.
package report

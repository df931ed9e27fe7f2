// Package document is an answer as plain data, a View, and the ways to draw it:
// text for a terminal, Markdown, CSV, JSON and a page to print. It knows how a
// number with its doubt is printed, and nothing of beer.
package document

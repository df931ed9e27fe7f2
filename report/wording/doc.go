// Package wording says records and amounts in words: an addition, a pass, a
// reading or a claim as one sentence, and the state of a batch as --json prints
// it. Every view says them alike because they come from here.
package wording

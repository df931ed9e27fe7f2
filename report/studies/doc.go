// Package studies gathers what was brewed, tasted and heard of a material into a
// study of one taste, which report/evidence describes and report/doseresponse
// answers: which taste, on which axis of doses, which scores on which day in the
// life of a beer, which claims, and what other brewers add to it.
package studies

// Package evidence holds what a study rests on: its trials with their doses, ages and
// scores, the claims, the tasters that are remembered, and what is wished for or to
// be avoided. Here are its checks, an order that does not depend on who was logged
// first, and what the records say before any inference.
//
// Doses are grams of effective material per litre, ages and contact times days,
// intensities and likings 0 to 10, votes -1 (too little), 0 (just right) and 1 (too
// much). What is not known is nil.
package evidence

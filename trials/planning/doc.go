// Package planning works out bench series, splits and batches: the amounts for
// given doses, the recipe that follows a trial, the records of a plan and what
// changes when it was done otherwise.
package planning

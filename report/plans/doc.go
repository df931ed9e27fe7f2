// Package plans makes the views of bench series, splits and batches: amounts,
// steps with times, a kit list, and what was recorded of them.
package plans

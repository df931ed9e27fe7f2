// Package checks runs check quantities, values from outside the project, through
// the functions that the commands use.
package checks

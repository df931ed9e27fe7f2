// Package evenings makes the views of tastings: who drinks what in which order,
// sheets to pour and to score by, what was scored, and tests of difference.
package evenings

// Package field is the machinery under package doseresponse: a latent Gaussian field of
// the right dose, the tasters' offsets and the potencies of brews, methods and lots,
// with a grid over the few numbers that are not Gaussian.
//
// From the bottom up: likelihood.go has the chance of each vote and mark, prior.go the
// claims, grid.go the nodes, problem.go and layout.go a study as index tables, times.go
// its ages, arrow.go the linear algebra of an arrow-shaped precision (tasters by brews,
// so that cost grows linearly in trials), field.go and laplace.go the mode at a node,
// importance.go and draws.go the weighted draws that correct the Gaussian.
//
// The model and its sources are told in the documentation of package doseresponse. The
// values are plain numbers on the natural logarithm of the dose, relative to
// [Problem.Origin].
package field

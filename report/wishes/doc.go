// Package wishes weighs what is wished for beside the right dose: whether the plant is
// liked near it, and which doses keep the tastes that are to be avoided within their
// limits. Each has a Gaussian model of its own, and neither moves the right dose.
package wishes

// Package pooling weighs what other brewers' trials of a plant say of the right dose
// for one's own panel. It takes and returns plain numbers, ln doses and variances.
//
// Each brewer gives one number, a [Word]: the mean and the variance of the right ln
// dose of those people, with what was believed beforehand taken out again. Between
// brewers it differs by the taste of a panel, by lot and habits, by the beer and by
// what people mean by "right", about 0.30 each; an SD of 0.60 in all keeps intervals
// honest where tastes lie far apart ([Pool]). Where people of the own panel tasted at
// the other brewer's, the taste is no longer in doubt ([PoolShared]).
//
// All of it is judgement tried in our own simulation of small panels, not an outside
// check; what was measured is told in DEVELOPERS.md.
package pooling

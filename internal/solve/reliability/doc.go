// Package reliability works out the probability that something made of many components fails under the heaviest loads that it meets.
//
// Problem: there are kinds of load, each an independent random multiplier X_k, the largest in a life. Each component is
// loaded in several states; a state belongs to one kind of load, and its demand is a sum of absolute values of terms that are
// piecewise linear in X_k. A component fails where the demand of any of its states exceeds its strength, a product of random
// variables; terms may also shift with the logarithms of random variables (stiffness). The whole fails with the first component.
//
// Method: strengths are drawn in a Latin hypercube. For each draw the multiplier at which the first component fails is found
// exactly, and the probability that the heaviest load goes beyond it comes from the distribution of the load, without drawing
// it (conditional Monte Carlo). Where weak parts rather than heavy loads bring failure about, draws are made around the likeliest
// ways to fail and weighed back (importance sampling). So every trial counts, however rare failure is. Confidence bounds come from
// independent batches. Crude draws the loads too and counts, for checking.
//
// Not covered: loads of several kinds at once, wear by repeated load, a component that goes on carrying after it has failed.
//
// References: conditional Monte Carlo, Hammersley and Handscomb 1964, chapter 6 (from memory); McKay, Beckman and Conover 1979,
// doi 10.1080/00401706.1979.10489755. Equations and measured figures stand in docs/methods/scatter.md.
package reliability

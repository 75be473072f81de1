// Package spaceframe solves frames of straight members in space: displacements, member forces, reactions,
// second order effects, buckling factors and natural frequencies.
//
// In goes a Model (nodes, members with sections and end springs, supports, rigid bodies) and load cases; out
// comes a Result with a status, findings in words and, per case, everything that can be read off the frame.
// All numbers are plain and in any one consistent set of units; rotations are radians and small.
//
// Members are 12-dof Timoshenko beams with St Venant torsion. Their springs are condensed exactly, and what
// happens between the nodes is exact for the linear case, so a member needs no cutting. Supports may be
// one-sided (a foot that lifts) with a friction limit (a foot that slides).
//
// Not covered: warping torsion, plasticity, large rotations, tapered members (cut them), pre-strain, impact.
// The geometric stiffness of rigid offsets is left out. Equations, sign rules and sources stand in
// docs/methods/spaceframe.md.
package spaceframe

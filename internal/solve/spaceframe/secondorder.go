package spaceframe

import "fmt"

// Limits of the second order iteration. Tensions settle to 1e-10 of the load within a handful of steps in frames
// whose load is below half their buckling load.
const (
	tensionStep = 1e-10
	tensionMax  = 100
)

// solveSecondOrder finds the tensions of the elements that agree with the solution they give.
//
// Idea: solve, take the tensions, add their geometric stiffness, solve again. Helps while displacements are small
// against the members' length; leaves out large rotations and the shortening of a bowed member. A pivot below zero
// at the end means that the load is above the buckling load.
//
// Reference: McGuire, Gallagher and Ziemian, Matrix Structural Analysis, chapter on second order analysis (from memory).
func (s *System) solveSecondOrder(l *loading, st *state) (*factored, Status, []Finding) {
	st.axial = make([]float64, len(s.elements)) // none at first: what can move freely shows then
	for range tensionMax {
		for i := range s.elements {
			s.elements[i].refresh(st.axial[i])
		}
		f := s.factor(st.floors)
		if len(f.weak) > 0 {
			return f, Solved, nil
		}
		if f.negative > 0 {
			return f, Unstable, []Finding{{Code: CodeUnstable,
				Message: fmt.Sprintf("the frame buckles under this load (%d ways to give way)", f.negative)}}
		}
		if status, findings := s.solveFloors(f, l, st); status != Solved {
			return f, status, findings
		}
		change := 0.0
		for i, t := range s.tensions(st) {
			change = max(change, abs(t-st.axial[i]))
			st.axial[i] = t
		}
		if change <= tensionStep*l.total {
			return f, Solved, nil
		}
	}
	return nil, NotConverged, []Finding{{Code: CodeIteration,
		Message: "second order analysis did not settle; the load is close to the buckling load"}}
}

// tensions returns the mean tension of each element.
func (s *System) tensions(st *state) []float64 {
	t := make([]float64, len(s.elements))
	for i := range t {
		f := &st.ends[i].force
		t[i] = (f[6] - f[0]) / 2
	}
	return t
}

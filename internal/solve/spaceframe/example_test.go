package spaceframe_test

import (
	"fmt"

	"longgrain/internal/solve/spaceframe"
)

// A shelf bracket: a bar glued into a wall with some give, loaded at its tip.
func ExampleSolve() {
	model := spaceframe.Model{
		Nodes: []spaceframe.Node{
			{Name: "wall", Support: spaceframe.Fixed()},
			{Name: "tip", At: spaceframe.Vec{300, 0, 0}},
		},
		Members: []spaceframe.Member{{
			Name: "bar", I: "wall", J: "tip",
			Section:  spaceframe.Rectangle(20, 60), // 20 wide along y, 60 deep along z
			Material: spaceframe.Material{E: 10000, G: 625},
			SpringsI: spaceframe.Springs{spaceframe.RY: 2e7},
		}},
	}
	load := spaceframe.Case{Name: "books", Nodal: []spaceframe.NodalLoad{{Node: "tip", Force: spaceframe.Vec{0, 0, -100}}}}
	result := spaceframe.Solve(model, []spaceframe.Case{load}, spaceframe.Options{})
	if result.Status != spaceframe.Solved {
		fmt.Println(result.Status, result.Findings)
		return
	}
	books := result.Case("books")
	fmt.Printf("tip sinks %.3f\n", -books.At("tip")[spaceframe.UZ])
	fmt.Printf("joint carries %.0f and gives %.4f rad\n", books.Member("bar").EndForce[0][spaceframe.RY], -books.Member("bar").Slip[0][spaceframe.RY])
	// Output:
	// tip sinks 0.748
	// joint carries -30000 and gives -0.0015 rad
}

// What if the joint scatters? The model is prepared once; each trial changes a number and solves.
func ExampleSystem_SetEndSpring() {
	model := spaceframe.Model{
		Nodes:   []spaceframe.Node{{Name: "wall", Support: spaceframe.Fixed()}, {Name: "tip", At: spaceframe.Vec{300, 0, 0}}},
		Members: []spaceframe.Member{{Name: "bar", I: "wall", J: "tip", Section: spaceframe.Rectangle(20, 60), Material: spaceframe.Material{E: 10000, G: 625}}},
	}
	cases := []spaceframe.Case{{Nodal: []spaceframe.NodalLoad{{Node: "tip", Force: spaceframe.Vec{0, 0, -100}}}}}
	system, findings := spaceframe.Prepare(model, spaceframe.Options{})
	if system == nil {
		fmt.Println(findings)
		return
	}
	bar := system.MemberIndex("bar")
	for _, k := range []float64{1e7, 2e7, 4e7} {
		system.SetEndSpring(bar, spaceframe.EndI, spaceframe.RY, k)
		fmt.Printf("%.0e: %.3f\n", k, -system.Solve(cases).Cases[0].At("tip")[spaceframe.UZ])
	}
	// Output:
	// 1e+07: 1.198
	// 2e+07: 0.748
	// 4e+07: 0.523
}

package spaceframe

import (
	"math/rand/v2"
	"sync"
	"testing"
)

// BenchmarkTable is a table of 20 members with 12 load cases, all lifting feet included.
func BenchmarkTable(b *testing.B) {
	m, cases := table(45, 2e7, true), tableCases()
	for b.Loop() {
		if r := Solve(m, cases, Options{}); r.Status != Solved {
			b.Fatal(r.Status)
		}
	}
}

// BenchmarkTablePrepared leaves out the checks and the ordering.
func BenchmarkTablePrepared(b *testing.B) {
	s, _ := Prepare(table(45, 2e7, true), Options{})
	cases := tableCases()
	for b.Loop() {
		s.initial = nil
		if r := s.Solve(cases); r.Status != Solved {
			b.Fatal(r.Status)
		}
	}
}

// BenchmarkTableCut cuts every member in four.
func BenchmarkTableCut(b *testing.B) {
	m, cases := table(45, 2e7, true), tableCases()
	for b.Loop() {
		if r := Solve(m, cases, Options{Divisions: 4}); r.Status != Solved {
			b.Fatal(r.Status)
		}
	}
}

// BenchmarkTableSecondOrder adds second order and the first buckling factor to every case.
func BenchmarkTableSecondOrder(b *testing.B) {
	m, cases := table(45, 2e7, true), tableCases()
	for b.Loop() {
		if r := Solve(m, cases, Options{SecondOrder: true, Buckling: 1, Divisions: 2}); r.Status != Solved {
			b.Fatal(r.Status)
		}
	}
}

// BenchmarkTrial is one trial of a Monte Carlo run: all end springs and all materials changed, one case solved.
func BenchmarkTrial(b *testing.B) {
	m := table(45, 2e7, true)
	s, _ := Prepare(m, Options{})
	cases := tableCases()[:1]
	r := rand.New(rand.NewPCG(1, 1))
	for b.Loop() {
		trial(s, m, r)
		if r := s.Solve(cases); r.Status != Solved {
			b.Fatal(r.Status)
		}
	}
}

func trial(s *System, m Model, r *rand.Rand) {
	for i, member := range m.Members {
		f := 0.8 + 0.4*r.Float64()
		s.SetMaterial(i, Material{E: 8500 * f, G: 531.25 * f, Density: 5e-10})
		if member.Section.Iy != member.Section.Iz { // rails, not legs
			for _, end := range []End{EndI, EndJ} {
				s.SetEndSpring(i, end, RY, 2e7*(0.8+0.4*r.Float64()))
			}
		}
	}
}

// BenchmarkLargePiece is a piece of 60 members with 12 load cases.
func BenchmarkLargePiece(b *testing.B) {
	m, cases := tower(), tableCases()
	for b.Loop() {
		if r := Solve(m, cases, Options{}); r.Status != Solved {
			b.Fatal(r.Status, r.Findings)
		}
	}
}

// tower stacks five more storeys of rails and posts on the table, 60 members in all.
func tower() Model {
	m := table(45, 2e7, true)
	names := []string{"A", "B", "C", "D"}
	last := " top"
	for _, level := range []string{" 1", " 2", " 3", " 4", " 5"} {
		for i, n := range names {
			var under Vec
			for _, node := range m.Nodes {
				if node.Name == n+last {
					under = node.At
				}
			}
			m.Nodes = append(m.Nodes, Node{Name: n + level, At: under.plus(Vec{0, 0, 300})})
			m.Members = append(m.Members,
				Member{Name: n + level + " post", I: n + last, J: n + level, Section: Rectangle(45, 45), Material: pine},
				Member{Name: n + level + " rail", I: n + level, J: names[(i+1)%4] + level, Section: Rectangle(20, 60), Material: pine,
					SpringsI: Springs{RY: 1e7}, SpringsJ: Springs{RY: 1e7}})
		}
		last = level
	}
	return m
}

// BenchmarkMonteCarlo is 1,000 trials of BenchmarkTrial on two workers.
func BenchmarkMonteCarlo(b *testing.B) {
	m := table(45, 2e7, true)
	s, _ := Prepare(m, Options{})
	cases := tableCases()[:1]
	for b.Loop() {
		var wait sync.WaitGroup
		for worker := range 2 {
			c := s.Clone()
			wait.Go(func() {
				r := rand.New(rand.NewPCG(uint64(worker), 1))
				for range 500 {
					trial(c, m, r)
					c.Solve(cases)
				}
			})
		}
		wait.Wait()
	}
}

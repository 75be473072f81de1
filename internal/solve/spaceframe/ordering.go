package spaceframe

import "slices"

// reverseCuthillMcKee numbers the nodes of a graph so that neighbours get close numbers. It returns the old index
// at each new place.
//
// Idea: breadth-first from a node at the rim, neighbours of low degree first, the whole turned round. Helps where
// the graph is long; leaves out any search for the best start beyond walking to a far node.
//
// Reference: Cuthill and McKee 1969, doi 10.1145/800195.805928; start node after George and Liu 1979,
// doi 10.1145/355841.355845.
func reverseCuthillMcKee(neighbours [][]int) []int {
	n := len(neighbours)
	order := make([]int, 0, n)
	placed := make([]bool, n)
	for len(order) < n {
		start := lowestDegree(neighbours, placed)
		start = farNode(neighbours, start)
		order = append(order, breadthFirst(neighbours, start, placed)...)
	}
	slices.Reverse(order)
	return order
}

func lowestDegree(neighbours [][]int, placed []bool) int {
	best := -1
	for i := range neighbours {
		if !placed[i] && (best < 0 || len(neighbours[i]) < len(neighbours[best])) {
			best = i
		}
	}
	return best
}

// farNode walks to the end of the graph: from start to a node of low degree in the last layer, while that makes
// the number of layers grow.
func farNode(neighbours [][]int, start int) int {
	depth, last := layers(neighbours, start)
	for {
		next := last[0]
		for _, i := range last {
			if len(neighbours[i]) < len(neighbours[next]) {
				next = i
			}
		}
		d, l := layers(neighbours, next)
		if d <= depth {
			return start
		}
		start, depth, last = next, d, l
	}
}

func layers(neighbours [][]int, start int) (depth int, last []int) {
	seen := make([]bool, len(neighbours))
	seen[start] = true
	last = []int{start}
	for {
		var next []int
		for _, i := range last {
			for _, j := range neighbours[i] {
				if !seen[j] {
					seen[j] = true
					next = append(next, j)
				}
			}
		}
		if len(next) == 0 {
			return depth, last
		}
		depth, last = depth+1, next
	}
}

func breadthFirst(neighbours [][]int, start int, placed []bool) []int {
	order := []int{start}
	placed[start] = true
	for at := 0; at < len(order); at++ {
		var next []int
		for _, j := range neighbours[order[at]] {
			if !placed[j] {
				placed[j] = true
				next = append(next, j)
			}
		}
		slices.SortStableFunc(next, func(a, b int) int { return len(neighbours[a]) - len(neighbours[b]) })
		order = append(order, next...)
	}
	return order
}

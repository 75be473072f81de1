package main

import (
	"bufio"
	"fmt"
	"io"
	"slices"

	"longgrain/internal/solve/cutstock"
)

// arcModel is an instance without leftover values as a flow from 0 along the lengths of its stock (Valério de Carvalho 1999,
// doi:10.1023/A:1018952112615): an arc over the length of an item is one such item cut there, an arc to the next place is
// waste, an arc from the capacity of a kind of stock to the end is one piece taken. It knows no patterns and shares nothing with
// the solver but the instance.
type arcModel struct {
	items []arcItem
	kinds []arcKind
	nodes []int64
}

type arcItem struct {
	length, demand int64
	from           []int64 // places that the item may begin at
}

type arcKind struct{ capacity, cost, count int64 }

// newArcModel builds the arcs: items in order of falling length, each from the places that longer ones and fewer of its own reach.
func newArcModel(in cutstock.Instance) arcModel {
	var m arcModel
	most := int64(0)
	for s, st := range in.Stock {
		if c := in.UsableLength(s) + in.Kerf; c > 0 && st.Available != 0 {
			m.kinds = append(m.kinds, arcKind{c, st.Cost, st.Available})
			most = max(most, c)
		}
	}
	for _, it := range in.Items {
		if it.Demand == 0 {
			continue
		}
		k := slices.IndexFunc(m.items, func(x arcItem) bool { return x.length == it.Length+in.Kerf })
		if k < 0 {
			m.items = append(m.items, arcItem{length: it.Length + in.Kerf})
			k = len(m.items) - 1
		}
		m.items[k].demand += it.Demand
	}
	slices.SortFunc(m.items, func(a, b arcItem) int { return int(b.length - a.length) })
	reached := map[int64]bool{0: true}
	for i := range m.items {
		it := &m.items[i]
		begin := map[int64]bool{}
		front := reached
		for n := int64(0); n < it.demand && len(front) > 0; n++ {
			next := map[int64]bool{}
			for p := range front {
				if p+it.length <= most && !begin[p] {
					begin[p] = true
					next[p+it.length] = true
				}
			}
			front = next
		}
		for p := range begin {
			it.from = append(it.from, p)
			reached[p+it.length] = true
		}
		slices.Sort(it.from)
	}
	for _, k := range m.kinds {
		reached[k.capacity] = true
	}
	for p := range reached {
		m.nodes = append(m.nodes, p)
	}
	slices.Sort(m.nodes)
	return m
}

// arcs returns how many arcs there are.
func (m arcModel) arcs() int {
	n := len(m.nodes) - 1 + len(m.kinds)
	for _, it := range m.items {
		n += len(it.from)
	}
	return n
}

// write writes the model in LP format.
func (m arcModel) write(to io.Writer) error {
	w := bufio.NewWriter(to)
	fmt.Fprint(w, "Minimize\n cost:")
	for k, kind := range m.kinds {
		fmt.Fprintf(w, " + %d z_%d", kind.cost, k)
	}
	fmt.Fprint(w, "\nSubject To\n start:")
	for k := range m.kinds {
		fmt.Fprintf(w, " + z_%d", k)
	}
	balance := map[int64][]string{}
	for i, it := range m.items {
		for _, p := range it.from {
			x := fmt.Sprintf("x_%d_%d", i, p)
			balance[p] = append(balance[p], "- "+x)
			balance[p+it.length] = append(balance[p+it.length], "+ "+x)
		}
	}
	for n := 1; n < len(m.nodes); n++ {
		loss := fmt.Sprintf("l_%d", m.nodes[n-1])
		balance[m.nodes[n-1]] = append(balance[m.nodes[n-1]], "- "+loss)
		balance[m.nodes[n]] = append(balance[m.nodes[n]], "+ "+loss)
	}
	for k, kind := range m.kinds {
		balance[kind.capacity] = append(balance[kind.capacity], fmt.Sprintf("- z_%d", k))
	}
	line := func(terms []string) {
		for i, t := range terms {
			if i%12 == 11 {
				fmt.Fprint(w, "\n ")
			}
			fmt.Fprint(w, " "+t)
		}
	}
	line(balance[0])
	fmt.Fprintln(w, " = 0")
	for _, p := range m.nodes[1:] {
		fmt.Fprintf(w, " at_%d:", p)
		line(balance[p])
		fmt.Fprintln(w, " = 0")
	}
	for i, it := range m.items {
		fmt.Fprintf(w, " item_%d:", i)
		var terms []string
		for _, p := range it.from {
			terms = append(terms, fmt.Sprintf("+ x_%d_%d", i, p))
		}
		line(terms)
		fmt.Fprintf(w, " >= %d\n", it.demand)
	}
	fmt.Fprintln(w, "Bounds")
	for k, kind := range m.kinds {
		if kind.count != cutstock.Unlimited {
			fmt.Fprintf(w, " z_%d <= %d\n", k, kind.count)
		}
	}
	fmt.Fprintln(w, "Generals")
	for i, it := range m.items {
		for _, p := range it.from {
			fmt.Fprintf(w, " x_%d_%d\n", i, p)
		}
	}
	for _, p := range m.nodes[:len(m.nodes)-1] {
		fmt.Fprintf(w, " l_%d\n", p)
	}
	for k := range m.kinds {
		fmt.Fprintf(w, " z_%d\n", k)
	}
	fmt.Fprintln(w, "End")
	return w.Flush()
}

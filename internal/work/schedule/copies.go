package schedule

import (
	"fmt"
	"strings"
)

// all returns the numbers of all copies.
func (b *builder) all() []int {
	out := make([]int, b.copies)
	for i := range out {
		out[i] = i + 1
	}
	return out
}

// mostLots is in how many lots the machine work of all copies is done at most. Judgement: each set-up serves several
// pieces, and the first pieces go on while the last ones are milled.
const mostLots = 4

// dealLots splits the copies into lots for the machines, as even as possible.
func (b *builder) dealLots() {
	lots := min(b.copies, mostLots)
	all := b.all()
	for k := range lots {
		b.lots = append(b.lots, all[k*b.copies/lots:(k+1)*b.copies/lots])
	}
}

// ofCopies names the copies that a task is of: nothing where it is of all.
func (b *builder) ofCopies(copies []int) string {
	if b.copies == 1 || len(copies) == 0 {
		return ""
	}
	if len(copies) == b.copies {
		return fmt.Sprintf(", all %d pieces", b.copies)
	}
	return ", " + pieces(copies)
}

// pieces lists copies: "piece 3", "pieces 1 to 4", "pieces 1, 3 and 4".
func pieces(copies []int) string {
	n := len(copies)
	var runs []string
	for i := 0; i < n; {
		j := i
		for j+1 < n && copies[j+1] == copies[j]+1 {
			j++
		}
		switch {
		case j == i:
			runs = append(runs, fmt.Sprint(copies[i]))
		case j == i+1:
			runs = append(runs, fmt.Sprint(copies[i]), fmt.Sprint(copies[j]))
		default:
			runs = append(runs, fmt.Sprintf("%d to %d", copies[i], copies[j]))
		}
		i = j + 1
	}
	word := "pieces "
	if n == 1 {
		word = "piece "
	}
	if len(runs) == 1 {
		return word + runs[0]
	}
	return word + strings.Join(runs[:len(runs)-1], ", ") + " and " + runs[len(runs)-1]
}

// alike lets copies that differ in nothing but their number begin every task in the order of their numbers. No end is
// lost: in any order of work the i-th start of a task over such copies may be given to the i-th copy, because lags, limits,
// holds and resources hold for sorted starts when they hold for unsorted ones (docs/methods/schedule.md). The proof
// needs it: without it the search meets every plan as often as copies can be swapped.
func (b *builder) alike() {
	if b.copies == 1 || len(b.in.Log) > 0 {
		return
	}
	class := b.classes()
	last := map[string]int{} // What, ID without copy and class -> the task of the copy before
	for i, t := range b.tasks {
		if len(t.Copies) != 1 {
			continue
		}
		id, _, _ := strings.Cut(t.ID, "/")
		key := id + "|" + class[t.Copies[0]]
		if before, ok := last[key]; ok {
			b.link(link{from: before, to: i, fromStart: true})
		}
		last[key] = i
	}
}

// classes says of each copy which tasks it shares with others and how its own are: copies of one class are alike.
func (b *builder) classes() map[int]string {
	out := map[int]string{}
	for i, t := range b.tasks {
		switch n := len(t.Copies); {
		case n > 1 && n < b.copies:
			for _, c := range t.Copies {
				out[c] += fmt.Sprintf("%d,", i)
			}
		case n == 1 && len(t.Clamps) > 0:
			out[t.Copies[0]] += fmt.Sprintf("%d:%v,", t.slots, t.Clamps)
		}
	}
	return out
}

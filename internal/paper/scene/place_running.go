package scene

import (
	"cmp"
	"slices"
)

// Sizes of running dimensions in millimetres (common practice).
const (
	datumRadius = 0.9 // small circle that marks the datum
	jogLength   = 4.0 // length over which a crowded extension line is led aside
)

// station is a Station in the axes of its side.
type station struct {
	u, v  float64
	label string
}

// runningRow draws one row of running dimensions with its line at v or further out, and returns where
// the next row may stand.
func (p *placer) runningRow(a axes, r running, v float64) float64 {
	stations := stationsOf(a, r.stations)
	lying := a.rotation() == 0 && p.roomForLying(stations)
	for ; ; v += p.height {
		texts, places, depth := p.runningTexts(a, stations, v, lying)
		if !p.allFree(texts) {
			continue
		}
		p.drawRunning(a, r, stations, places, v)
		for _, t := range texts {
			p.add(t)
		}
		return v + depth + p.height
	}
}

func stationsOf(a axes, in []Station) []station {
	out := make([]station, len(in))
	for i, s := range in {
		u, v := a.of(s.At)
		out[i] = station{u, v, s.Label}
	}
	slices.SortStableFunc(out, func(s, t station) int { return cmp.Compare(s.u, t.u) })
	return out
}

// roomForLying reports whether all labels fit side by side without being turned.
func (p *placer) roomForLying(stations []station) bool {
	for i := 1; i < len(stations); i++ {
		need := (p.words(stations[i-1].label).Width()+p.words(stations[i].label).Width())/2 + 2*labelGap
		if stations[i].u-stations[i-1].u < need {
			return false
		}
	}
	return true
}

// runningTexts returns the labels for a dimension line at v, the places along the side where they
// stand, and how far out they reach from the line.
func (p *placer) runningTexts(a axes, stations []station, v float64, lying bool) (texts []Text, places []float64, depth float64) {
	places = make([]float64, len(stations))
	for i, s := range stations {
		places[i] = s.u
	}
	out := extensionOver + labelGap
	if !lying {
		places = spread(places, ascent(p.height)+Descent(p.height)+2*textMargin)
		if ledAside(stations, places) {
			out += jogLength
		}
	}
	widest := p.height
	for i, s := range stations {
		t := p.words(s.label)
		t.At = a.at(places[i], v+out)
		switch {
		case lying && a.side == Above:
			t.Align, t.Rise = Middle, Baseline
		case lying:
			t.Align, t.Rise = Middle, CapTop
		default:
			t.Rise = MidHeight
			if a.side == Above || a.side == Below {
				t.Rotation = 90
			}
			if a.side == Below || a.side == LeftOf {
				t.Align = Right
			}
			widest = max(widest, t.Width())
		}
		texts = append(texts, t)
	}
	return texts, places, out + widest
}

// ledAside reports whether any label stands beside its station instead of in line with it.
func ledAside(stations []station, places []float64) bool {
	for i, s := range stations {
		if places[i] != s.u {
			return true
		}
	}
	return false
}

func (p *placer) allFree(texts []Text) bool {
	for _, t := range texts {
		if !p.free(t) {
			return false
		}
	}
	return true
}

// drawRunning draws the line, the datum, an arrowhead at each station and the extension lines, led
// aside where labels are crowded.
func (p *placer) drawRunning(a axes, r running, stations []station, places []float64, v float64) {
	u0, v0 := a.of(r.datum)
	p.add(Circle{Style: Dimension, Centre: a.at(u0, v), Radius: datumRadius})
	p.add(Line{Dimension, a.at(u0, v0+extensionGap), a.at(u0, v+extensionOver)})
	low, high := min(u0, stations[0].u), max(u0, stations[len(stations)-1].u)
	p.add(Line{Dimension, a.at(low, v), a.at(high, v)})
	aside := ledAside(stations, places)
	for i, s := range stations {
		elbow := v + extensionOver
		if s.u != u0 {
			p.extension(a, s.u, s.v, v)
			p.add(arrow(a.at(s.u, v), direction(a.at(u0, v), a.at(s.u, v))))
		}
		if aside {
			p.add(Line{Dimension, a.at(s.u, elbow), a.at(places[i], elbow+jogLength)})
		}
	}
}

func direction(from, to Point) Point { return Point{to.X - from.X, to.Y - from.Y} }

// spread moves the sorted places apart until neighbours are at least pitch from each other, with the
// least sum of squared moves: places that crowd each other form a block around their mean, and blocks
// that touch are merged (pool adjacent violators).
func spread(places []float64, pitch float64) []float64 {
	type block struct {
		sum   float64 // of place minus its offset in the row
		count int
	}
	var blocks []block
	mean := func(b block) float64 { return b.sum / float64(b.count) }
	for i, u := range places {
		blocks = append(blocks, block{u - float64(i)*pitch, 1})
		for n := len(blocks); n > 1 && mean(blocks[n-2]) > mean(blocks[n-1]); n = len(blocks) {
			blocks[n-2].sum += blocks[n-1].sum
			blocks[n-2].count += blocks[n-1].count
			blocks = blocks[:n-1]
		}
	}
	var out []float64
	for _, b := range blocks {
		for range b.count {
			i := len(out)
			if b.count == 1 {
				out = append(out, places[i])
				continue
			}
			out = append(out, mean(b)+float64(i)*pitch)
		}
	}
	return out
}

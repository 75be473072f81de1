package scene

// landing is the short level piece at the end of a leader, in millimetres.
const landing = 2.0

// leaderAngles are the directions a leader tries, in degrees, the usual ones first.
var leaderAngles = []float64{45, 135, 315, 225, 60, 120, 300, 240, 30, 150, 330, 210, 75, 105, 285, 255, 15, 165, 345, 195}

// Costs that weigh the ways to place a leader against each other. A leader through a text makes the
// text unreadable; a label over a line only makes both ugly; a long leader is easy to follow.
const (
	costThroughText = 60
	costLabelOnLine = 6
	costCrossing    = 1
	costPerStep     = 2
)

// leaderSteps is how many lengths of leader are compared before longer ones are tried.
const leaderSteps = 7

// leader places a note with its leader line.
func (p *placer) leader(n note) {
	for from := 0; ; from += leaderSteps {
		if p.bestLeader(n, from) {
			return
		}
	}
}

// bestLeader places the cheapest of the leaders whose length lies in one range of steps, and reports
// whether any label was free.
func (p *placer) bestLeader(n note, firstStep int) bool {
	var text Text
	var line []Point
	best := -1
	for step := firstStep; step < firstStep+leaderSteps; step++ {
		for rank, angle := range leaderAngles {
			t, l := p.leaderAt(n, angle, p.height*(2.4+1.6*float64(step)))
			if !p.free(t) {
				continue
			}
			cost := p.leaderCost(t, l) + costPerStep*step + rank/4
			if best < 0 || cost < best {
				best, text, line = cost, t, l
			}
		}
	}
	if best < 0 {
		return false
	}
	p.add(Polyline{Dimension, line}, arrow(line[0], direction(line[1], line[0])), text)
	return true
}

// leaderAt returns the label and the line of a leader in one direction.
func (p *placer) leaderAt(n note, angle, length float64) (Text, []Point) {
	tip := polar(n.at, n.radius, angle)
	elbow := polar(n.at, n.radius+length, angle)
	t := p.words(n.label)
	t.Rise = MidHeight
	end := elbow.Plus(landing, 0)
	t.At = end.Plus(textGap, 0)
	if elbow.X < n.at.X {
		end = elbow.Plus(-landing, 0)
		t.At, t.Align = end.Plus(-textGap, 0), Right
	}
	return t, []Point{tip, elbow, end}
}

// leaderCost weighs what the label and the line run into.
func (p *placer) leaderCost(t Text, line []Point) int {
	cost := costLabelOnLine * p.crossings(t)
	for i := 1; i < len(line); i++ {
		for _, q := range p.texts {
			if q.Crosses(line[i-1], line[i]) {
				cost += costThroughText
			}
		}
		for _, l := range p.lines {
			if _, ok := meet(line[i-1], line[i], l.From, l.To); ok {
				cost += costCrossing
			}
		}
	}
	return cost
}

// label writes words inside an area and reports whether there was room. On hatching the words stand on
// a patch of paper.
func (p *placer) label(l areaLabel) bool {
	t, ok := p.insideArea(l)
	if !ok {
		return false
	}
	for _, h := range p.hatched {
		t.Backed = t.Backed || h.contains(t.Quad().Bounds())
	}
	p.add(t)
	return true
}

// Costs that weigh the ways to write a label inside its area.
const (
	costAreaCrossing = 10
	costAreaSmall    = 6
	costAreaStanding = 4
)

// insideArea returns the cheapest way to write the label inside its area: lying in the middle if it
// can, else aside, standing or small.
func (p *placer) insideArea(l areaLabel) (Text, bool) {
	var best Text
	least := -1
	for _, t := range p.areaTexts(l) {
		if !l.area.contains(t.text.Quad().Bounds()) || !p.free(t.text) {
			continue
		}
		cost := t.cost + costAreaCrossing*p.crossings(t.text)
		if least < 0 || cost < least {
			best, least = t.text, cost
		}
	}
	return best, least >= 0
}

// areaTexts lists the ways to write a label in an area, fitting or not.
func (p *placer) areaTexts(l areaLabel) []choice {
	var out []choice
	for _, height := range []float64{p.height, min(p.height, SmallHeight)} {
		for _, rotation := range []float64{0, 90} {
			for i, x := range labelShares {
				for j, y := range labelShares {
					t := Text{Style: Words, Text: l.label, Height: height, Align: Middle, Rise: MidHeight, Rotation: rotation}
					cost := i + j
					if rotation != 0 {
						cost += costAreaStanding
					}
					if height < p.height {
						cost += costAreaSmall
					}
					t.At = Point{
						l.area.Min.X + x*l.area.Width(),
						l.area.Min.Y + y*l.area.Height(),
					}
					out = append(out, choice{text: t, cost: cost})
				}
			}
		}
	}
	return out
}

// areaMargin is the free paper between a label and the border of its area, in millimetres. It is
// small because the box of a text already has room for letters that hang below the line.
const areaMargin = 0.25

// contains reports whether the other box lies inside with a margin for text.
func (b Box) contains(c Box) bool {
	c = c.Grown(areaMargin)
	return b.Min.X <= c.Min.X && b.Min.Y <= c.Min.Y && c.Max.X <= b.Max.X && c.Max.Y <= b.Max.Y
}

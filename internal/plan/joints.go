package plan

import (
	"cmp"
	"slices"

	"longgrain/internal/check/testlog"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/cost"
)

// means says what a shop can make joints with: its tools, and dowels of the diameters in its drawer in every length that
// is sold. A shop that lists no dowels can buy any.
func means(s shop.Shop) joint.Means {
	m := joint.Means{Can: s.Can, Mark: s.SmallestMark, Family: s.Family, Price: func(item string) unit.Money { each, _ := cost.HardwarePrice(item, s); return each }}
	m.Has = func(item string) bool { _, has := cost.HardwarePrice(item, s); return has }
	diameters := s.DowelDiameters()
	for _, d := range hardware.Dowels() {
		known := slices.ContainsFunc(diameters, func(x unit.Length) bool { return (x - d.Diameter).Abs() < unit.Millimetre/5 })
		if (len(diameters) == 0 && d.Family == s.Family) || known {
			m.Dowels = append(m.Dowels, d)
		}
	}
	return m
}

// chooseJoints chooses a joint for every group of connections alike, works the frame out for it, and looks again under
// the forces that it found.
func (p *Plan) chooseJoints(in Input) problem.List {
	sites, err := joint.Sites(p.Assembly, moisture(in.Shop))
	if err != nil {
		var problems problem.List
		problems.Add(problem.Problem{Code: problem.UnknownName, At: in.Piece.At("wood.species"), What: err.Error(), Mend: "use a species of the North American table, such as eastern white pine"})
		return problems
	}
	p.groupSites(sites)
	p.Tests = testlog.Calibrate(in.Tests)
	possible := p.possible(sites, means(in.Shop))
	p.choose(possible, nil)
	for range rounds {
		p.choose(possible, forcesIn(p.Assembly, p.jointList(), moisture(in.Shop)))
	}
	return nil
}

// groupSites makes one group of connections alike. A joint that the maker fixed for some of them makes a group of its own,
// and so do those that lie near an end of the part that they meet, where pins keep further from the end.
func (p *Plan) groupSites(sites []joint.Site) {
	var first []joint.Site // of each group
	for _, s := range sites {
		index := slices.IndexFunc(p.Assembly.Connections, func(c assembly.Connection) bool { return c.Name == s.Connection.Name })
		k := slices.IndexFunc(first, func(f joint.Site) bool {
			return f.Connection.Group == s.Connection.Group && sameWish(f.Connection, s.Connection) && sameEnds(f, s)
		})
		if k < 0 {
			k = len(p.Joints)
			p.Joints, first = append(p.Joints, JointGroup{}), append(first, s)
		}
		p.Joints[k].Connections = append(p.Joints[k].Connections, index)
	}
}

// sameEnds tells whether two sites lie near the ends of what they meet in the same way, or turned round.
func sameEnds(a, b joint.Site) bool {
	return (a.NearLow == b.NearLow && a.NearHigh == b.NearHigh) || (a.NearLow == b.NearHigh && a.NearHigh == b.NearLow)
}

func sameWish(a, b assembly.Connection) bool {
	if a.Wish == nil || b.Wish == nil {
		return a.Wish == b.Wish
	}
	return *a.Wish == *b.Wish
}

// candidates are the joints that can be made at the tightest site of a group.
type candidates struct {
	site   joint.Site
	joints []joint.Joint
}

// possible works out, by group, every joint that can be made, as strong as book and shop together say.
func (p *Plan) possible(sites []joint.Site, m joint.Means) []candidates {
	out, shifts := make([]candidates, len(p.Joints)), p.Tests.Shifts()
	for i, g := range p.Joints {
		s := p.siteOf(sites, g)
		joints := joint.Possible(s, m)
		for k := range joints {
			joints[k] = shifts.Apply(s, joints[k])
		}
		out[i] = candidates{s, joints}
	}
	return out
}

// choose compares the joints of every group under the forces of all its connections.
func (p *Plan) choose(possible []candidates, forces [][]joint.Forces) {
	for i := range p.Joints {
		g := &p.Joints[i]
		var mine []joint.Forces
		for _, c := range g.Connections {
			if forces != nil {
				mine = append(mine, forces[c]...)
			}
		}
		g.Choice = joint.ChooseFrom(possible[i].site, possible[i].joints, mine, p.Wanted)
	}
}

// siteOf returns the site of a group with the least room, so that the joint fits all of them.
func (p *Plan) siteOf(sites []joint.Site, g JointGroup) joint.Site {
	var mine []joint.Site
	for _, s := range sites {
		if slices.ContainsFunc(g.Connections, func(c int) bool { return p.Assembly.Connections[c].Name == s.Connection.Name }) {
			mine = append(mine, s)
		}
	}
	return slices.MinFunc(mine, func(a, b joint.Site) int { return cmp.Compare(a.Room, b.Room) })
}

// jointList returns the chosen joint of every connection, nil where there is none.
func (p *Plan) jointList() []*joint.Joint {
	out := make([]*joint.Joint, len(p.Assembly.Connections))
	for _, g := range p.Joints {
		if r, ok := g.Choice.Pick(); ok {
			j := r.Joint
			for _, c := range g.Connections {
				out[c] = &j
			}
		}
	}
	return out
}

// verify checks the chosen joints under the forces of the last analysis, and notes where and when they work hardest.
func (p *Plan) verify() {
	for i := range p.Joints {
		g := &p.Joints[i]
		r, ok := g.Choice.Pick()
		if !ok {
			continue
		}
		g.Made, g.Final = true, joint.Check(r.Joint, nil, p.Wanted)
		for _, c := range g.Connections {
			checked := joint.Check(r.Joint, p.Structure.Forces[c], p.Wanted)
			if checked.Worst >= 0 && (g.Final.Worst < 0 || checked.Reserve < g.Final.Reserve) {
				g.Final, g.Where = checked, p.Assembly.Connections[c].Name
				g.Forces, g.Case = p.Structure.Forces[c][checked.Worst], p.Structure.Cases[checked.Worst].Name
			}
		}
	}
}

// rules works out what the rules of the trade that the chosen joints break cost or give, under the forces of the last
// analysis.
func (p *Plan) rules() {
	for i, g := range p.Joints {
		found := ruleFindings(g.Choice, p.groupName(g), func(j joint.Joint) joint.Reserve {
			least := joint.Check(j, nil, p.Wanted).Reserve
			for _, c := range g.Connections {
				least = min(least, joint.Check(j, p.Structure.Forces[c], p.Wanted).Reserve)
			}
			return least
		})
		for k := range found {
			found[k].Group = i
		}
		p.Rules = append(p.Rules, found...)
	}
}

// cutJoints cuts the chosen joints into their parts: each connection's own copy of the features.
func (p *Plan) cutJoints() {
	sites, _ := joint.Sites(p.Assembly, moisture(p.Shop))
	added := map[int][]assembly.Feature{}
	for _, g := range p.Joints {
		picked, ok := g.Choice.Pick()
		if !ok {
			continue
		}
		for _, c := range g.Connections {
			connection := p.Assembly.Connections[c]
			k := slices.IndexFunc(sites, func(s joint.Site) bool { return s.Connection.Name == connection.Name })
			onA, onB := joint.Cut(sites[k], picked.Joint)
			added[connection.A.Part] = append(added[connection.A.Part], onA...)
			added[connection.B.Part] = append(added[connection.B.Part], onB...)
		}
	}
	p.Assembly = p.Assembly.WithFeatures(added)
}

// enters returns how deep what is inserted goes into the two parts of a connection, zero where nothing is.
func (p *Plan) enters(connection int) (a, b unit.Length) {
	if j := p.jointList()[connection]; j != nil {
		return j.Sizes.DepthA, j.Sizes.DepthB
	}
	return 0, 0
}

package shop

import (
	"fmt"
	"slices"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/lumber"
	"longgrain/internal/trade/wood"
)

func (r *reader) species(path, name string) wood.Species {
	s, ok := wood.Find(name)
	if !ok {
		r.unknown(path, "species", name, wood.Names())
	}
	return s
}

func (r *reader) timber(h Habits) []Timber {
	out := []Timber{}
	for i, f := range r.file.Timber {
		path := fmt.Sprintf("timber[%d]", i)
		section := r.section(path, f)
		species := r.species(path+".species", f.Species)
		t := Timber{
			Name: section.Name + " " + species.Name, Size: section.Name, Species: species.ID,
			Condition: h.Condition, Moisture: h.TimberMoisture,
			Thickness: section.Thickness, Width: section.Width,
			Rough: f.Rough, Panel: f.Panel, Count: f.Count,
			Pieces: r.pieces(path, f, section),
		}
		if f.Condition != "" {
			t.Condition = wood.Condition(f.Condition)
		}
		if f.Moisture != 0 {
			t.Moisture = wood.Moisture(f.Moisture)
		}
		out = append(out, t)
	}
	return out
}

// section reads the size of timber: nominal, or thickness and width.
func (r *reader) section(path string, f TimberFile) lumber.Section {
	measured := r.given(path+".thickness") || r.given(path+".width")
	switch {
	case r.given(path+".size") && measured:
		r.report(problem.UnknownKey, path, "gives both a nominal and a measured size", "", "take size out, or thickness and width")
	case r.given(path + ".size"):
		s, ok := lumber.Nominal(f.Size)
		if !ok && f.Size != "" {
			r.unknown(path+".size", "nominal size", f.Size, lumber.NominalNames())
		}
		return s
	case !r.given(path+".thickness") || !r.given(path+".width"):
		r.report(problem.MissingKey, path, "does not say how big it is", "", "add size: with a nominal size, or thickness: and width:")
	case f.Thickness.Length > f.Width.Length && f.Width.Length > 0:
		r.report(problem.BadGeometry, path+".thickness", fmt.Sprintf("the thickness %s is above the width %s", f.Thickness, f.Width), "", "swap them")
	}
	t, w := f.Thickness, f.Width
	return lumber.Section{Name: t.Length.Number(t.Family) + " x " + w.String(), Thickness: t.Length, Width: w.Length}
}

// pieces reads the lengths of timber and what each costs, shortest first.
func (r *reader) pieces(path string, f TimberFile, section lumber.Section) []Piece {
	byLength := r.given(path + ".lengths")
	switch {
	case byLength && r.given(path+".pieces"):
		r.report(problem.UnknownKey, path, "gives both lengths and pieces", "", "take one of them out")
	case len(f.Lengths) == 0 && len(f.Pieces) == 0:
		r.report(problem.MissingKey, path, "does not say what lengths it is sold in", "", "add lengths: [6 ft, 8 ft] or pieces: with a price each")
	case byLength && r.given(path+".price") != r.given(path+".per"):
		r.report(problem.MissingKey, path, "gives price without per, or per without price", "", "write for example price: 0.85 and per: foot")
	case !byLength && (r.given(path+".price") || r.given(path+".per")):
		r.report(problem.UnknownKey, path, "gives a price for all pieces and for each", "", "take price and per out")
	}
	out := []Piece{}
	for _, l := range f.Lengths {
		out = append(out, Piece{l.Length, priceOf(f.Price, PriceUnit(f.Per), section, l.Length), r.given(path + ".price")})
	}
	for _, p := range f.Pieces {
		out = append(out, Piece{p.Length.Length, money(p.Price), true})
	}
	slices.SortStableFunc(out, func(a, b Piece) int { return int((a.Length - b.Length) / unit.Micrometre) })
	for i := 1; i < len(out); i++ {
		if out[i].Length == out[i-1].Length && out[i].Length > 0 {
			r.report(problem.DuplicateName, path, fmt.Sprintf("the length %s stands twice", out[i].Length.Show(unit.Metric)), "", "take one of them out")
		}
	}
	return out
}

// priceOf returns the price of a length that is sold by a measure, rounded to whole cents.
func priceOf(price float64, per PriceUnit, s lumber.Section, l unit.Length) unit.Money {
	switch per {
	case PerFoot:
		return money(price * float64(l) / float64(unit.Foot))
	case PerMetre:
		return money(price * l.Metres())
	case PerBoardFoot:
		return money(price * s.BoardFeet(l))
	case PerCubicMetre:
		return money(price * float64(unit.Volume(s.Thickness, s.Width, l)))
	}
	return 0
}

// boards reads what is on hand. A board without a meter reading is taken to have settled in the air of
// the shop, in the middle of its year.
func (r *reader) boards(h Habits, workshop Climate) (boards, offcuts []Board) {
	low, high := workshop.MoistureRange()
	seen := map[string]string{}
	return r.boardList("boards", "board", r.file.Boards, h.Condition, (low+high)/2, seen),
		r.boardList("offcuts", "offcut", r.file.Offcuts, h.Condition, (low+high)/2, seen)
}

func (r *reader) boardList(key, word string, files []BoardFile, usual wood.Condition, settled wood.Moisture, seen map[string]string) []Board {
	out := []Board{}
	for i, f := range files {
		path := fmt.Sprintf("%s[%d]", key, i)
		b := Board{
			Name: f.Name, Species: r.species(path+".species", f.Species).ID, Condition: usual, Moisture: settled,
			Thickness: f.Thickness.Length, Width: f.Width.Length, Length: f.Length.Length,
			Rough: f.Rough, Panel: f.Panel, Count: max(1, f.Count),
		}
		if b.Name == "" {
			b.Name = fmt.Sprintf("%s %d", word, i+1)
		}
		if first, double := seen[b.Name]; double {
			at := r.places.At(first)
			r.problems.Add(problem.Problem{Code: problem.DuplicateName, At: r.places.At(path), Also: &at,
				What: fmt.Sprintf("there are two boards named %q", b.Name), Mend: "give each board a name of its own"})
		}
		seen[b.Name] = path
		if f.Condition != "" {
			b.Condition = wood.Condition(f.Condition)
		}
		if f.Moisture != 0 {
			b.Moisture = wood.Moisture(f.Moisture)
		} else {
			r.defaults = append(r.defaults, Default{path + ".moisture", fmt.Sprintf("%.1f", float64(settled)),
				"settled in the air of the shop", source.Assumption()})
		}
		if b.Thickness > b.Width && b.Width > 0 {
			r.report(problem.BadGeometry, path+".thickness", fmt.Sprintf("the thickness %s is above the width %s", f.Thickness, f.Width), "", "swap them")
		}
		b.Defects = r.defects(path, f, b)
		out = append(out, b)
	}
	return out
}

func (r *reader) defects(path string, f BoardFile, b Board) []Defect {
	var out []Defect
	for i, d := range f.Defects {
		at := fmt.Sprintf("%s.defects[%d]", path, i)
		defect := Defect{d.Kind, d.From.Length, d.To.Length, d.Left.Length, d.Right.Length}
		if !r.given(at + ".right") {
			defect.Right = b.Width
		}
		if defect.From >= defect.To && r.given(at+".from") && r.given(at+".to") {
			r.report(problem.BadGeometry, at, fmt.Sprintf("ends at %s, not after it begins at %s", d.To, d.From), "", "write from before to")
		}
		if defect.Left >= defect.Right && b.Width > 0 {
			r.report(problem.BadGeometry, at, "has no width", "", "write left before right")
		}
		if b.Length > 0 && defect.To > b.Length {
			r.report(problem.OutOfRange, at+".to", fmt.Sprintf("%s is beyond the end of the board", d.To), "at most "+f.Length.String(), "measure from the marked end")
		}
		if b.Width > 0 && defect.Right > b.Width {
			r.report(problem.OutOfRange, at+".right", fmt.Sprintf("%s is beyond the edge of the board", d.Right), "at most "+f.Width.String(), "measure from the left edge")
		}
		out = append(out, defect)
	}
	return out
}

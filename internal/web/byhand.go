package web

import (
	"context"
	"math"
	"net/http"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
	"longgrain/internal/plan"
	"longgrain/internal/trade/wood"
)

// This file is about changing a piece part by part on the page: what a file says in its lists, what was changed by hand, and edits of
// the text.

func (s *Server) addByHand() {
	add(s, operation(http.MethodGet, "/api/edit/words", "editWords", "List the words that parts and joints may have"), s.editWords)
	add(s, operation(http.MethodPost, "/api/edit", "editPiece", "Change the text of a piece file at some places and leave the rest as it is",
		http.StatusUnprocessableEntity), s.editPiece)
}

// ByHand is what a piece file says part by part, and what was changed by hand.
type ByHand struct {
	Written map[string]any      `json:"written" doc:"the lists and mappings of the piece file as they stand: parts, connections, repeats, changes, dimensions and so on"`
	Parts   List[string]        `json:"parts" doc:"for each part of the scene the place in the file that it comes from: pattern, parts[2], changes[0], repeats[1]"`
	Changed List[HandChange]    `json:"changed" doc:"what was changed by hand, in the order of the file"`
	Joints  List[ConnectedPair] `json:"joints" doc:"every connection with its joint"`
	Named   List[NamedValue]    `json:"named" doc:"the named dimensions that could be worked out, in the order of the file"`
	Mark    float64             `json:"mark" doc:"the smallest mark of the shop, mm"`
}

// NamedValue is a named dimension as it was worked out.
type NamedValue struct {
	Name string `json:"name"`
	Text string `json:"text" doc:"as written"`
	Is   string `json:"is" doc:"what it comes to"`
}

// HandChange is one thing that was changed by hand.
type HandChange struct {
	Index  int    `json:"index" doc:"place in the list of changes of the file"`
	Of     string `json:"of" doc:"the part, or the two parts of a joint"`
	What   string `json:"what"`
	Was    string `json:"was"`
	Now    string `json:"now"`
	Misfit string `json:"misfit,omitempty" doc:"why a joint cannot be made as asked"`
}

// ConnectedPair is a connection as the page lets a person change it.
type ConnectedPair struct {
	Name    string       `json:"name"`
	Between [2]string    `json:"between" nullable:"false"`
	Purpose string       `json:"purpose"`
	Kind    string       `json:"kind" doc:"the joint that is planned; empty when there is none"`
	Kinds   List[string] `json:"kinds" doc:"the kinds that can be made there"`
	Fixed   bool         `json:"fixed" doc:"whether the maker decided"`
}

// EditWords are the words to choose from when parts and joints are changed.
type EditWords struct {
	Species List[string] `json:"species"`
	Roles   List[string] `json:"roles"`
	Builds  List[string] `json:"builds"`
	Joints  List[string] `json:"joints" doc:"kinds of joint"`
}

// EditBody asks for edits of a text.
type EditBody struct {
	Text  string            `json:"text" doc:"the piece file"`
	Sizes map[string]string `json:"sizes,omitempty" doc:"sizes to put in first, by name, as they were typed"`
	Edits List[Edit]        `json:"edits" doc:"edits in their order; all are made or none"`
}

// Edit is a change of the text of a piece file.
type Edit struct {
	In     string         `json:"in,omitempty" doc:"the list or mapping that is changed: parts, connections, repeats, changes, joints, loads, dimensions, sizes, wood; empty for the file itself"`
	Index  int            `json:"index,omitempty" doc:"item of a list; -1 adds one at the end"`
	Set    map[string]any `json:"set,omitempty" doc:"keys to write anew or to add: texts, numbers, yes and no, lists and mappings"`
	Unset  []string       `json:"unset,omitempty" nullable:"false" doc:"keys to take out"`
	Remove bool           `json:"remove,omitempty" doc:"take the item out"`
	Move   *Point         `json:"move,omitempty" doc:"move the part of an item of parts or changes, mm, where it is placed: its corner, or beside another part"`
}

// EditedText is the text after edits.
type EditedText struct {
	Text string `json:"text"`
}

func (s *Server) editWords(context.Context, *struct{}) (*body[EditWords], error) {
	return &body[EditWords]{EditWords{
		Species: wood.Names(), Roles: strict.Words(piece.Part{}, "role"), Builds: strict.Words(piece.Part{}, "build"), Joints: strict.Words(piece.Joint{}, "kind"),
	}}, nil
}

func (s *Server) editPiece(_ context.Context, in *body[EditBody]) (*body[EditedText], error) {
	text := piece.WithSizes([]byte(in.Body.Text), in.Body.Sizes)
	family := unit.Metric
	if strings.Contains(in.Body.Text, "\nunits: in") {
		family = unit.Imperial
	}
	for _, e := range in.Body.Edits {
		var ok bool
		if text, ok = e.apply(text, family); !ok {
			return nil, huma.Error422UnprocessableEntity("this place of the piece file cannot be changed here: change it under Text")
		}
	}
	return &body[EditedText]{EditedText{string(text)}}, nil
}

// apply carries an edit out.
func (e Edit) apply(text []byte, family unit.Family) ([]byte, bool) {
	ok := true
	if e.Move == nil || len(e.Set) > 0 {
		text, ok = piece.Apply(text, piece.Edit{In: e.In, Index: e.Index, Set: e.Set, Unset: e.Unset, Remove: e.Remove})
	}
	if !ok || e.Move == nil {
		return text, ok
	}
	index := e.Index
	if index < 0 { // the item that was just added
		items, _ := piece.Written(text)[e.In].([]any)
		index = len(items) - 1
	}
	var by [3]unit.Length
	for i, mm := range e.Move {
		if !(math.Abs(mm) <= unit.MaxLength.MM()) {
			return text, false
		}
		by[i] = unit.MM(mm)
	}
	return piece.Move(text, e.In, index, by, family)
}

// byHandOf tells what a piece file says part by part.
func byHandOf(made plan.Plan, text string) *ByHand {
	out := &ByHand{Written: piece.Written([]byte(text)), Parts: List[string](made.PartsFrom), Mark: made.Shop.SmallestMark.MM()}
	for _, d := range made.Dimensions {
		is := d.Value.String()
		if d.Value.IsLength {
			is = d.Value.Measure().Length.Show(made.Family)
		}
		out.Named = append(out.Named, NamedValue{d.Name, d.Text, is})
	}
	for _, c := range made.Changed {
		out.Changed = append(out.Changed, HandChange{c.Index, c.Of, c.What, c.Was, c.Now, c.Misfit})
	}
	name := func(p assembly.Place) string { return made.Assembly.Parts[p.Part].Name }
	for i, c := range made.Assembly.Connections {
		pair := ConnectedPair{Name: c.Name, Between: [2]string{name(c.A), name(c.B)}, Purpose: c.Purpose}
		for _, g := range made.Joints {
			if !slices.Contains(g.Connections, i) {
				continue
			}
			pair.Fixed = g.Choice.Fixed
			if g.Made {
				pair.Kind = string(g.Final.Joint.Kind)
			}
			for _, r := range g.Choice.Ranked {
				if kind := string(r.Joint.Kind); !slices.Contains(pair.Kinds, kind) {
					pair.Kinds = append(pair.Kinds, kind)
				}
			}
		}
		out.Joints = append(out.Joints, pair)
	}
	return out
}

package workbook

import (
	"longgrain/internal/paper/scene"
	"longgrain/internal/plan"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/markout"
)

func (b *book) viewsOf()                            {}
func (b *book) seasonChart()                        {}
func (b *book) boardDrawing(i int, c cutting.Board) {}
func (b *book) partDrawing(i int, s markout.Sheet)  {}

// Picture draws the whole piece, small, for the shelf.
func Picture(p plan.Plan) scene.Scene { return *scene.New(p.Name) }

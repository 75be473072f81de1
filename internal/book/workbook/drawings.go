package workbook

import (
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/markout"
)

func (b *book) viewsOf()                            {}
func (b *book) seasonChart()                        {}
func (b *book) boardDrawing(i int, c cutting.Board) {}
func (b *book) partDrawing(i int, s markout.Sheet)  {}

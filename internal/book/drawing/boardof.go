package drawing

import (
	"fmt"
	"slices"

	"longgrain/internal/work/cutting"
)

// BoardOf returns what a diagram shows of a board of a cutting plan, by its number in the plan.
func BoardOf(c cutting.Board, number int) Board {
	board := Board{Name: fmt.Sprintf("board %d", number), Length: c.Length, Width: c.Width}
	for _, a := range c.Areas {
		if a.Kind == cutting.OffcutArea && !slices.ContainsFunc(c.Areas, func(d cutting.Area) bool { return d.Kind == cutting.DefectArea && d.Overlaps(a) }) {
			a.Label = "offcut"
		}
		board.Pieces = append(board.Pieces, BoardPiece{X: a.X, Y: a.Y, Length: a.L, Width: a.W, Label: a.Label, Kind: pieceKinds[a.Kind]})
	}
	for _, k := range c.Cuts {
		cut := BoardCut{Number: k.Number, X0: k.At, X1: k.At, Y0: k.From, Y1: k.To}
		if k.Rip {
			cut = BoardCut{Number: k.Number, X0: k.From, X1: k.To, Y0: k.At, Y1: k.At}
		}
		board.Cuts = append(board.Cuts, cut)
	}
	return board
}

var pieceKinds = map[cutting.AreaKind]PieceKind{
	cutting.PartArea: PartPiece, cutting.OffcutArea: OffcutPiece, cutting.WasteArea: WastePiece, cutting.DefectArea: FaultPiece,
}

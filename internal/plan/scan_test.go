package plan

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"longgrain/internal/design/piece"
)

func TestScan(t *testing.T) {
	in := demo(t, "play-table.yaml")
	text, _ := os.ReadFile("../../examples/play-table.yaml")
	for _, v := range [][]string{
		{"leg: 48 mm", "leg: 48 mm"},
		{"leg: 48 mm", "leg: 54 mm"},
		{"leg: 48 mm", "leg: 54 mm", "apron_thickness: 22", "apron_thickness: 23"},
		{"leg: 48 mm", "leg: 54 mm", "apron_thickness: 22", "apron_thickness: 23", "apron_width: 95", "apron_width: 110"},
		{"leg: 48 mm", "leg: 57 mm", "apron_thickness: 22", "apron_thickness: 23", "apron_width: 95", "apron_width: 110", "rail_width: 60", "rail_width: 70"},
		{"leg: 48 mm", "leg: 54 mm", "apron_thickness: 22", "apron_thickness: 23", "apron_width: 95", "apron_width: 120"},
	} {
		s := string(text)
		for i := 0; i < len(v); i += 2 {
			s = strings.Replace(s, v[i], v[i+1], 1)
		}
		p, _ := piece.Parse("x", []byte(s))
		in.Piece = p
		pl, problems := Make(context.Background(), in)
		fmt.Println(v, problems, pl.Verdict, pl.Cutting.Cost)
		for _, g := range pl.Joints {
			fmt.Println("   ", pl.GroupName(g), g.Final.Joint.Describe(), g.Final.Reserve, g.Final.Governs, g.Case)
		}
	}
}

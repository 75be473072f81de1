package structure

import (
	"fmt"
	"strings"
)

// pieceOf writes a piece of pine from parts and connections, one a line.
func pieceOf(use string, parts, connections []string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "longgrain: 1\nname: Test\nuse: %s\nwood: {species: eastern white pine, condition: clear}\nparts:\n", use)
	for _, p := range parts {
		fmt.Fprintf(&b, "  - {%s}\n", p)
	}
	if len(connections) > 0 {
		b.WriteString("connections:\n")
	}
	for _, c := range connections {
		fmt.Fprintf(&b, "  - {%s}\n", c)
	}
	return b.String()
}

// frameOf writes four legs with aprons between them, as parts and connections; all in mm. x and y are the distances of
// the legs' middles; the aprons stand inset behind the outer faces.
func frameOf(x, y, height, leg, thick, wide, inset float64) (parts, connections []string) {
	far := leg - thick - inset
	legs := map[string][2]float64{"front left": {0, 0}, "front right": {x, 0}, "back left": {0, y}, "back right": {x, y}}
	for _, name := range []string{"front left", "front right", "back left", "back right"} {
		at := legs[name]
		parts = append(parts, fmt.Sprintf("name: leg %s, role: leg, length: %v mm, width: %v mm, thickness: %v mm, at: [%v mm, %v mm, 0 mm], along: z, across: x", name, height, leg, leg, at[0], at[1]))
	}
	apron := func(name string, length, ax, ay float64, along string, ends ...string) {
		parts = append(parts, fmt.Sprintf("name: apron %s, role: apron, length: %v mm, width: %v mm, thickness: %v mm, at: [%v mm, %v mm, %v mm], along: %s, across: z", name, length, wide, thick, ax, ay, height-wide, along))
		for _, e := range ends {
			connections = append(connections, fmt.Sprintf("between: [apron %s, leg %s]", name, e))
		}
	}
	apron("front", x-leg, leg, inset, "x", "front left", "front right")
	apron("back", x-leg, leg, y+far, "x", "back left", "back right")
	apron("left", y-leg, inset, leg, "y", "front left", "back left")
	apron("right", y-leg, x+far, leg, "y", "front right", "back right")
	return parts, connections
}

// tableOf is frameOf with a top that stands out beyond the legs.
func tableOf(use string, x, y, height, leg, thick, wide, out float64) string {
	parts, connections := frameOf(x, y, height, leg, thick, wide, 3)
	parts = append(parts, fmt.Sprintf("name: top, role: top, length: %v mm, width: %v mm, thickness: 20 mm, at: [%v mm, %v mm, %v mm], along: x, across: y",
		x+leg+2*out, y+leg+2*out, -out, -out, height))
	for _, a := range []string{"front", "back", "left", "right"} {
		connections = append(connections, fmt.Sprintf("between: [apron %s, top], purpose: top fastening", a))
	}
	return pieceOf(use, parts, connections)
}

// stool is a seat on four legs.
var stool = strings.ReplaceAll(tableOf("seat", 260, 240, 400, 40, 20, 60, 20), "role: top", "role: seat")

// slabBench is a seat board on two boards that stand on the floor, tied by a rail.
var slabBench = pieceOf("bench", []string{
	"name: end left, role: side, length: 400 mm, width: 280 mm, thickness: 30 mm, at: [100 mm, 0 mm, 0 mm], along: z, across: y",
	"name: end right, role: side, length: 400 mm, width: 280 mm, thickness: 30 mm, at: [870 mm, 0 mm, 0 mm], along: z, across: y",
	"name: rail, role: rail, length: 740 mm, width: 120 mm, thickness: 24 mm, at: [130 mm, 128 mm, 270 mm], along: x, across: z",
	"name: seat, role: seat, length: 1000 mm, width: 300 mm, thickness: 30 mm, at: [0 mm, -10 mm, 400 mm], along: x, across: y",
}, []string{
	"between: [rail, end left]", "between: [rail, end right]",
	"between: [end left, seat], purpose: top fastening", "between: [end right, seat], purpose: top fastening",
})

// stepStool has two treads between two sides that stand on the floor.
var stepStool = pieceOf("step", []string{
	"name: side left, role: side, length: 400 mm, width: 350 mm, thickness: 24 mm, along: z, across: y",
	"name: side right, role: side, length: 400 mm, width: 350 mm, thickness: 24 mm, at: [400 mm, 0 mm, 0 mm], along: z, across: y",
	"name: tread low, role: tread, length: 376 mm, width: 170 mm, thickness: 24 mm, at: [24 mm, 5 mm, 180 mm], along: x, across: y",
	"name: tread high, role: tread, length: 376 mm, width: 170 mm, thickness: 24 mm, at: [24 mm, 175 mm, 376 mm], along: x, across: y",
	"name: brace, role: rail, length: 376 mm, width: 90 mm, thickness: 20 mm, at: [24 mm, 300 mm, 200 mm], along: x, across: z",
}, []string{
	"between: [tread low, side left]", "between: [tread low, side right]",
	"between: [tread high, side left]", "between: [tread high, side right]",
	"between: [brace, side left]", "between: [brace, side right]",
})

// bookcase is three shelves between two sides that stand on the floor.
var bookcase = pieceOf("shelf", []string{
	"name: side left, role: side, length: 900 mm, width: 250 mm, thickness: 20 mm, along: z, across: y",
	"name: side right, role: side, length: 900 mm, width: 250 mm, thickness: 20 mm, at: [620 mm, 0 mm, 0 mm], along: z, across: y",
	"name: shelf low, role: shelf, length: 600 mm, width: 240 mm, thickness: 20 mm, at: [20 mm, 5 mm, 60 mm], along: x, across: y",
	"name: shelf middle, role: shelf, length: 600 mm, width: 240 mm, thickness: 20 mm, at: [20 mm, 5 mm, 450 mm], along: x, across: y",
	"name: shelf top, role: shelf, length: 600 mm, width: 240 mm, thickness: 20 mm, at: [20 mm, 5 mm, 880 mm], along: x, across: y",
}, []string{
	"between: [shelf low, side left]", "between: [shelf low, side right]",
	"between: [shelf middle, side left]", "between: [shelf middle, side right]",
	"between: [shelf top, side left]", "between: [shelf top, side right]",
})

// frameChest is a chest as a frame of posts and rails with a lid on it.
var frameChest = strings.ReplaceAll(tableOf("chest", 800, 400, 700, 50, 22, 150, 10), "role: top", "role: lid")

// boardChest is a box of four boards on edge with a bottom and a lid that is hinged at the back and rests on the other three.
var boardChest = pieceOf("chest", []string{
	"name: front, role: side, length: 800 mm, width: 400 mm, thickness: 20 mm, along: x, across: z",
	"name: back, role: side, length: 800 mm, width: 400 mm, thickness: 20 mm, at: [0 mm, 380 mm, 0 mm], along: x, across: z",
	"name: left, role: side, length: 360 mm, width: 400 mm, thickness: 20 mm, at: [0 mm, 20 mm, 0 mm], along: y, across: z",
	"name: right, role: side, length: 360 mm, width: 400 mm, thickness: 20 mm, at: [780 mm, 20 mm, 0 mm], along: y, across: z",
	"name: bottom, role: bottom, length: 760 mm, width: 360 mm, thickness: 15 mm, at: [20 mm, 20 mm, 30 mm], along: x, across: y",
	"name: lid, role: lid, length: 820 mm, width: 420 mm, thickness: 20 mm, at: [-10 mm, -10 mm, 400 mm], along: x, across: y",
}, []string{
	"between: [left, front]", "between: [left, back]", "between: [right, front]", "between: [right, back]",
	"between: [bottom, left]", "between: [bottom, right]", "between: [bottom, front]", "between: [bottom, back]",
	"between: [lid, back], purpose: top fastening",
})

// drawerChest is a case of two sides, a back and a top with one drawer that lies on a shelf and opens to the front.
var drawerChest = pieceOf("chest", []string{
	"name: side left, role: side, length: 700 mm, width: 400 mm, thickness: 20 mm, along: z, across: y",
	"name: side right, role: side, length: 700 mm, width: 400 mm, thickness: 20 mm, at: [580 mm, 0 mm, 0 mm], along: z, across: y",
	"name: top, role: top, length: 640 mm, width: 420 mm, thickness: 20 mm, at: [-20 mm, -20 mm, 700 mm], along: x, across: y",
	"name: shelf low, role: shelf, length: 560 mm, width: 380 mm, thickness: 20 mm, at: [20 mm, 0 mm, 80 mm], along: x, across: y",
	"name: shelf high, role: shelf, length: 560 mm, width: 380 mm, thickness: 20 mm, at: [20 mm, 0 mm, 400 mm], along: x, across: y",
	"name: back, role: back, length: 700 mm, width: 600 mm, thickness: 6 mm, at: [0 mm, 400 mm, 0 mm], along: z, across: x",
	"name: drawer front, role: drawer, length: 550 mm, width: 250 mm, thickness: 18 mm, at: [25 mm, 0 mm, 100 mm], along: x, across: z",
	"name: drawer left, role: drawer, length: 350 mm, width: 250 mm, thickness: 12 mm, at: [25 mm, 18 mm, 100 mm], along: y, across: z",
	"name: drawer right, role: drawer, length: 350 mm, width: 250 mm, thickness: 12 mm, at: [563 mm, 18 mm, 100 mm], along: y, across: z",
	"name: drawer back, role: drawer, length: 550 mm, width: 250 mm, thickness: 12 mm, at: [25 mm, 368 mm, 100 mm], along: x, across: z",
}, []string{
	"between: [shelf low, side left]", "between: [shelf low, side right]", "between: [shelf high, side left]", "between: [shelf high, side right]",
	"between: [back, side left]", "between: [back, side right]", "between: [side left, top], purpose: top fastening", "between: [side right, top], purpose: top fastening",
	"between: [drawer left, drawer front]", "between: [drawer right, drawer front]", "between: [drawer left, drawer back]", "between: [drawer right, drawer back]",
})

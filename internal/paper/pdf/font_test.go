package pdf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/paper/scene"
)

// ttf gives the tables of a TrueType font by name.
type ttf map[string][]byte

// Offsets and fields after the OpenType specification 1.9, chapters "otff", "cmap", "hmtx", "hhea",
// "head", "glyf" and "loca", from memory.
func readTTF(t *testing.T, data []byte) ttf {
	t.Helper()
	tables := ttf{}
	for i := range int(be16(data[4:])) {
		r := data[12+16*i:]
		from, length := be32(r[8:]), be32(r[12:])
		tables[string(r[:4])] = data[from : from+length]
	}
	return tables
}

func be16(b []byte) uint16 { return binary.BigEndian.Uint16(b) }
func be32(b []byte) uint32 { return binary.BigEndian.Uint32(b) }

// glyphs returns the glyph of each character, from the format 4 table.
func (f ttf) glyphs(t *testing.T) map[rune]int {
	t.Helper()
	cmap := f["cmap"]
	var sub []byte
	for i := range int(be16(cmap[2:])) {
		r := cmap[4+8*i:]
		if table := cmap[be32(r[4:]):]; be16(table) == 4 {
			sub = table
		}
	}
	if sub == nil {
		t.Fatal("font has no format 4 character map")
	}
	out := map[rune]int{}
	n := int(be16(sub[6:])) / 2
	ends, starts := sub[14:], sub[16+2*n:]
	deltas, offsets := sub[16+4*n:], sub[16+6*n:]
	for s := range n {
		for c := int(be16(starts[2*s:])); c <= int(be16(ends[2*s:])) && c != 0xFFFF; c++ {
			glyph := c
			if o := int(be16(offsets[2*s:])); o != 0 {
				glyph = int(be16(offsets[2*s+o+2*(c-int(be16(starts[2*s:]))):]))
			}
			if glyph = (glyph + int(be16(deltas[2*s:]))) & 0xFFFF; glyph != 0 {
				out[rune(c)] = glyph
			}
		}
	}
	return out
}

func (f ttf) advance(glyph int) int {
	last := int(be16(f["hhea"][34:])) - 1
	return int(be16(f["hmtx"][4*min(glyph, last):]))
}

// yMax returns the top of a glyph's outline.
func (f ttf) yMax(glyph int) int {
	at := 2 * int(be16(f["loca"][2*glyph:]))
	if be16(f["head"][50:]) == 1 {
		at = int(be32(f["loca"][4*glyph:]))
	}
	return int(int16(be16(f["glyf"][at+8:])))
}

// TestMeasuresAgreeWithTheFonts compares the table package scene measures text by with the fonts that
// are embedded here. With -update it writes the table anew.
func TestMeasuresAgreeWithTheFonts(t *testing.T) {
	fonts := []ttf{readTTF(t, regularFont), readTTF(t, boldFont), readTTF(t, obliqueFont)}
	maps3 := make([]map[rune]int, len(fonts))
	for i, f := range fonts {
		if em := be16(f["head"][18:]); em != 2048 {
			t.Fatalf("font %d has %d units to the em", i, em)
		}
		maps3[i] = f.glyphs(t)
	}
	var table strings.Builder
	table.WriteString("code,regular,bold,oblique\n")
	for _, r := range slices.Sorted(maps.Keys(maps3[0])) {
		fmt.Fprintf(&table, "%04X", r)
		for i, f := range fonts {
			glyph, ok := maps3[i][r]
			if !ok {
				t.Errorf("font %d lacks %q", i, r)
			}
			fmt.Fprintf(&table, ",%d", f.advance(glyph))
			if got := scene.Advance(r, scene.Weight(i)); got != f.advance(glyph) && !*update {
				t.Errorf("advance of %q in font %d is %d, the font says %d", r, i, got, f.advance(glyph))
			}
		}
		table.WriteByte('\n')
	}
	top := fonts[0].yMax(maps3[0]['H'])
	if got := scene.CapHeight * 2048; int(got+0.5) != top {
		t.Errorf("capitals are %v high, the font says %d", got, top)
	}
	path := filepath.Join("..", "scene", "advance.csv")
	if *update {
		if err := os.WriteFile(path, []byte(table.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal([]byte(table.String()), want) {
		t.Errorf("%s differs from the fonts; run with -update", path)
	}
}

func TestFontHasTheSignsOfTheTrade(t *testing.T) {
	const signs = "½⅓⅔¼¾⅛⅜⅝⅞⅙″′×Ø⌀±°≤≥√∞≈≠√πστφΔ·–—…“”‘’•☐☑☒✓✗⚠→←↑↓↔²³€ąłßñœ"
	if got := scene.Printable(signs); got != signs {
		t.Errorf("got %q, want %q", got, signs)
	}
}

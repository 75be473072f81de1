package trial

import (
	"embed"
	"strings"
	"testing"

	"longgrain/internal/design/joint"
)

//go:embed testdata/*.yaml
var kindFiles embed.FS

// kindFile says on which small piece each kind of joint and each way to hold a top is made.
var kindFile = map[joint.Kind]string{
	joint.Dowels: "frame", joint.Tenon: "frame", joint.PocketScrews: "frame", joint.Biscuits: "bench", joint.HalfLap: "frame", joint.Bridle: "frame",
	joint.ThroughTenon: "frame", joint.HaunchedTenon: "frame", joint.LooseTenon: "frame", joint.Screws: "bookcase", joint.DowelRows: "bench", joint.TwinTenons: "bench",
	joint.RebateCorner: "bookcase", joint.Housing: "bookcase", joint.BoxJoint: "bookcase", joint.Dovetails: "bookcase",
	joint.Glued: "panel", joint.TongueAndGroove: "panel", joint.CornerBlock: "table",
}

// KindPiece returns a small piece, as the text of its file, that fixes a kind of joint. A kind without one fails the test, so
// that no kind is added without a piece that uses it.
func KindPiece(t testing.TB, k joint.Kind) string {
	t.Helper()
	name, ok := kindFile[k]
	if !ok {
		t.Fatalf("no small piece uses %s: add one to trial/kinds.go", k)
	}
	between := "leg"
	if k == joint.Housing {
		k = joint.RebateCorner // the shelf of that piece is housed
	}
	return fill(t, name, between, string(k))
}

// SomeKinds returns the kinds of joint to look at: all, or in short tests those whose cuts differ in kind from each other.
func SomeKinds() []joint.Kind {
	if testing.Short() {
		return []joint.Kind{joint.HaunchedTenon, joint.HalfLap, joint.RebateCorner, joint.Dovetails, joint.TongueAndGroove, joint.CornerBlock}
	}
	return joint.Kinds()
}

// CrossedPiece returns a small piece of two parts that cross in a lap.
func CrossedPiece(t testing.TB) string { return fill(t, "cross", "", string(joint.HalfLap)) }

// FastenedPiece returns a small table whose top is held in a way.
func FastenedPiece(t testing.TB, k joint.Kind) string { return fill(t, "table", "top", string(k)) }

func fill(t testing.TB, file, between, kind string) string {
	t.Helper()
	text, err := kindFiles.ReadFile("testdata/" + file + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return strings.NewReplacer("KIND", kind, "BETWEEN", between).Replace(string(text))
}

// FullShop returns a shop file with one of every tool that is known, on top of a shop file.
func FullShop(text string, tools []string) string {
	var lines []string
	for _, tool := range tools {
		lines = append(lines, "  - "+tool)
	}
	before, rest, _ := strings.Cut(text, "\ntools:\n")
	_, after, _ := strings.Cut(rest, "\n\n")
	return before + "\ntools:\n" + strings.Join(lines, "\n") + "\n\n" + after
}

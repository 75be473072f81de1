package plan

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/joint"
)

// freePiece reads a piece that is written out part by part.
func freePiece(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "free", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Pieces of boards, without legs and aprons, get an answer to every question, and the answers a maker would give: the light bench tips
// when somebody sits on its very end, the tall shelf must be fixed to the wall, the lid that carries a person across its grain is too thin.
func TestBoardPiecesAreJudged(t *testing.T) {
	for name, want := range map[string]map[string]joint.Verdict{
		"bench": {"tipping under a load on the edge": joint.DoesNotHold, "part seat": joint.Holds, "part rail": joint.Holds, "sag of the seat": joint.Holds, "sway": joint.Holds,
			"wobble": joint.Holds, "giving way sideways": joint.Holds},
		"shelves": {"tipping under a pull at the top": joint.DoesNotHold, "part shelf": joint.Holds, "part side": joint.Holds, "part back": joint.Holds, "sag of the shelf 2": joint.Holds,
			"sag of the shelf 2 after years": joint.Holds, "sway": joint.Holds, "joint shelf to side": joint.Holds},
		"chest": {"part top": joint.DoesNotHold, "sag of the lid": joint.DoesNotHold, "part side": joint.Holds, "tipping with a child on the edge": joint.Holds, "sag of the bottom": joint.Holds},
	} {
		p := made(t, input(t, freePiece(t, name), examples.Shop()))
		consistent(t, p)
		if len(p.Structure.Findings) > 0 {
			t.Errorf("%s: %+v", name, p.Structure.Findings)
		}
		got := p.judgement()
		for key, verdict := range want {
			if got[key].verdict != verdict {
				t.Errorf("%s: %s is %q with reserve %v, wanted %q", name, key, got[key].verdict, got[key].reserve, verdict)
			}
		}
	}
}

// Fixed to the wall the shelf no longer tips, and the plan says what the fixing must hold: 44.5 N at the top, with the reserve, less what the
// weight rights. Without the wish it is the mend.
func TestATallShelfIsFixedToTheWall(t *testing.T) {
	in := input(t, freePiece(t, "shelves"), examples.Shop())
	p := WithMends(context.Background(), in, made(t, in))
	found := false
	for _, m := range p.Mends {
		found = found || (strings.HasPrefix(m.Change, "fixed to the wall") && m.Word == "holds")
	}
	if !found {
		t.Errorf("%+v", p.Mends)
	}
	fixed := made(t, input(t, strings.Replace(freePiece(t, "shelves"), "use: shelf", "use: shelf\nfixed: wall", 1), examples.Shop()))
	if len(fixed.Structure.Tipping) > 0 || fixed.Chapters[1].Word != "holds" {
		t.Errorf("%+v, %+v", fixed.Structure.Tipping, fixed.Chapters[1])
	}
	if len(fixed.Structure.Notes) == 0 || !strings.Contains(fixed.Structure.Notes[0], "it must hold 50 N") {
		t.Errorf("%q", fixed.Structure.Notes)
	}
}

// A load of the maker's own is tried as it stands: a vice of 60 kg on one corner of the bench tips it.
func TestOwnLoadsAreTried(t *testing.T) {
	with := func(load string) Plan {
		return made(t, input(t, freePiece(t, "bench")+"loads:\n  - "+load+"\n", examples.Shop()))
	}
	p := with("{name: a sewing machine, on: seat, force: 150}")
	found := false
	for _, c := range p.Structure.Cases {
		found = found || (c.Action == "own" && c.Name == "a sewing machine" && c.Force == 150)
	}
	if !found || len(p.Structure.Findings) > 0 {
		t.Errorf("%v", p.Structure.Findings)
	}
	p = with("{name: a vice, on: seat, force: 600, at: [20 mm, 20 mm, 448 mm]}")
	if p.Verdict.Word != "does not hold" || len(p.Structure.Findings) == 0 || !strings.Contains(p.Structure.Findings[0].What, "a vice") {
		t.Errorf("%+v: %+v", p.Verdict, p.Structure.Findings)
	}
	p = with("{name: a child leaning, on: seat, force: 40, toward: right, at: [1100 mm, 150 mm, 430 mm]}")
	if len(p.Structure.Findings) > 0 {
		t.Errorf("%+v", p.Structure.Findings)
	}
	_, problems := Make(context.Background(), input(t, freePiece(t, "bench")+"loads:\n  - {name: lost, on: seet, force: 10}\n", examples.Shop()))
	if len(problems) != 1 || !strings.Contains(problems[0].Error(), "seet") {
		t.Errorf("%v", problems)
	}
}

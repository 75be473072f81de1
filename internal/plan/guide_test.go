package plan

import (
	"os"
	"strings"
	"testing"

	"longgrain/examples"
)

// Every piece in the guide can be planned.
func TestThePiecesOfTheGuideArePlanned(t *testing.T) {
	guide, err := os.ReadFile("../../docs/pieces.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(string(guide), "```yaml\n")[1:]
	if len(blocks) != 3 {
		t.Errorf("the guide has %d pieces", len(blocks))
	}
	for _, block := range blocks {
		text, _, _ := strings.Cut(block, "```")
		p := made(t, input(t, text, examples.Shop()))
		if p.Verdict.Word == "" {
			t.Errorf("%s: no verdict", p.Name)
		}
		t.Log(p.Name, p.Verdict, p.Chapters[0].Answer)
	}
}

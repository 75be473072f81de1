package workbook

import (
	"context"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/check/testlog"
	"longgrain/internal/design/piece"
	"longgrain/internal/plan"
	"longgrain/internal/trade/shop"
	"longgrain/patterns"
)

const ownTests = `joint,species,count,lever,direction,load,tested,sizes.rail width,sizes.rail thickness,sizes.diameter,sizes.depth in rail,sizes.depth in leg,sizes.spacing
dowels,eastern white pine,2,300 mm,open,500 N,3 May,89 mm,19 mm,8 mm,20 mm,20 mm,50 mm
dowels,eastern white pine,2,300 mm,open,520 N,4 May,89 mm,19 mm,8 mm,20 mm,20 mm,50 mm
dowels,pine,2,300 mm,open,520 N,4 May,89 mm,19 mm,8 mm,20 mm,20 mm,50 mm
`

func TestTheJointsChapterSaysWhatIsFromTheBookAndWhatFromTheShop(t *testing.T) {
	tests, problems := testlog.Read("log.csv", []byte(ownTests))
	described, more := piece.Parse("example.yaml", []byte(examples.PlayTable()))
	s, others := shop.Parse("shop.yaml", []byte(examples.Shop()))
	if problems = append(append(problems, more...), others...); len(problems) > 0 {
		t.Fatal(problems)
	}
	p, problems := plan.Make(context.Background(), plan.Input{Piece: described, Shop: s, Patterns: patterns.All(), Tests: tests})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	chapter, _ := Chapter(p, plan.JointsChapter, A4Room)
	text := plainText(chapter)
	for _, want := range []string{"| From |", "| Shop |", "| Book |", "If all you know is the species, the book gives", "With your own test log it is", "shop, 2 tests in 2 batches, which weigh 39 % beside the book",
		"Bending of the joint, strong way, as the shop's tests shift it", "What your own tests say of the book", "dowels in softwood, pulled or bent: by 2 tests in 2 batches", `Left out: Test 3, dowels in pine: missing a wood of the catalogue instead of "pine"`} {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(want)) {
			t.Errorf("the chapter has no %q", want)
		}
	}
}

package drawing

import (
	"image"
	"image/color"
	"strings"
	"testing"

	qr "github.com/piglig/go-qr"

	"longgrain/internal/paper/scene"
)

// dots fills the dark strips of a scene into a picture of 10 dots a millimetre.
func dots(items []scene.Item, into *image.Gray, top float64) {
	for _, item := range items {
		switch x := item.(type) {
		case scene.Group:
			dots(x.Items, into, top)
		case scene.Polygon:
			if x.Fill != scene.InkFill || len(x.Points) != 4 {
				continue
			}
			for px := int(x.Points[0].X*10 + 0.5); px < int(x.Points[2].X*10+0.5); px++ {
				for py := int((top-x.Points[0].Y)*10 + 0.5); py < int((top-x.Points[2].Y)*10+0.5); py++ {
					into.SetGray(px, py, color.Gray{})
				}
			}
		}
	}
}

func TestTheCodeOfALabelIsReadBack(t *testing.T) {
	for _, link := range []string{"http://workshop:7474/piece/7#part-A1", "Play table · B12 · apron front · 712 × 110 × 23 mm"} {
		s := Labels([]Label{{Mark: "B12", Name: "apron front", Size: "712 × 110 × 23 mm", Piece: "Play table", Face: "the front face", Link: link}})
		picture := image.NewGray(image.Rect(0, 0, 800, 320))
		for i := range picture.Pix {
			picture.Pix[i] = 255
		}
		dots(s.Items, picture, 0)
		if got, err := qr.Decode(picture); err != nil || got != link {
			t.Errorf("read %q, %v; want %q", got, err, link)
		}
	}
}

func TestLabelsKeepInsideTheirBorders(t *testing.T) {
	long := strings.Repeat("long name ", 12)
	labels := make([]Label, 5)
	for i := range labels {
		labels[i] = Label{Mark: "24.AA12", Name: long, Size: "2000 × 1000 × 100 mm", Piece: long, Face: "the front face (top)", Top: "edge", EndAtLeft: i%2 == 0, Link: long}
	}
	s := Labels(labels)
	if w, h := s.Size(); w > 2*labelWidth+labelGap+1 || h > 3*labelHeight+2*labelGap+1 {
		t.Errorf("%v × %v", w, h)
	}
	if n := LabelsPerPage(235); n != 12 {
		t.Errorf("%d on a page", n)
	}
	for _, pair := range s.TextClashes() {
		t.Errorf("%q covers %q", pair[0].Text, pair[1].Text)
	}
}

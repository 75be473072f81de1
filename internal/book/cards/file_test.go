package cards

import (
	"encoding/xml"
	"html"
	"io"
	"regexp"
	"strings"
	"testing"

	"longgrain/examples"
)

func TestTheFileOfCardsAsksForNothingOutside(t *testing.T) {
	text := string(File(Make(planOf(t, examples.PlayTable()), Options{}), "abc"))
	for _, bad := range []string{"http:", "https:", "//fonts", "@import", "url(", "<link", "src=", "style=", "onclick"} {
		for _, at := range regexp.MustCompile(regexp.QuoteMeta(bad)).FindAllStringIndex(text, -1) {
			if around := text[max(0, at[0]-30):min(len(text), at[1]+40)]; !strings.Contains(around, `xmlns="http://www.w3.org/2000/svg"`) {
				t.Errorf("the file holds %q: %s", bad, around)
			}
		}
	}
	if !strings.Contains(html.UnescapeString(text), "default-src 'none'") {
		t.Error("the file does not forbid requests")
	}
	for _, id := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(text, -1) {
		if n := strings.Count(text, ` id="`+id[1]+`"`); n != 1 {
			t.Errorf("the id %s stands %d times", id[1], n)
		}
	}
}

// Words of a piece cannot become tags of the file.
func TestWordsInTheFileOfCardsStayWords(t *testing.T) {
	bad := `<script>alert("1")</script> & 'x'`
	d := Deck{Piece: bad, Shop: bad, Cards: []Card{{Number: 1, Tasks: []Task{{ID: bad, Name: bad}}, Title: bad, Day: bad, At: bad, Then: bad, Steps: []string{bad}, Notes: []string{bad}, After: []string{bad},
		Settings: []Setting{{bad, bad}}, Cautions: []Caution{{bad, bad, bad}}, Timers: []Timer{{"t1", bad, 5, bad, bad}}, Parts: []Part{{bad, bad}}}}}
	text := string(File(d, bad))
	if n := strings.Count(text, "<script>"); n != 1 {
		t.Errorf("%d scripts", n)
	}
	body := text[strings.Index(text, "<body"):strings.Index(text, "<script>")]
	body = strings.NewReplacer(" hidden", ` hidden=""`, " readonly", ` readonly=""`).Replace(body)
	body = regexp.MustCompile(`<(input[^>]*)>`).ReplaceAllString(body, "<$1/>")
	for r := xml.NewDecoder(strings.NewReader(body + "</body>")); ; {
		if _, err := r.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("the file is not well formed: %v", err)
		}
	}
}

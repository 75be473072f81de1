package source

import "testing"

func TestCitesPrintWorkPlaceAndConfidence(t *testing.T) {
	cases := map[string]Cite{
		"[wood-handbook] table 13-5, read": At("wood-handbook", "table 13-5", Read),
		"common practice":                  Practice(),
		"assumed":                          Assumption(),
	}
	for want, c := range cases {
		if got := c.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestUnknownWorkPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("an unknown key was accepted")
		}
	}()
	At("no-such-work", "", Read)
}

func TestTheLessSureConfidenceWins(t *testing.T) {
	if Weaker(Read, Assumed) != Assumed || Weaker(Memory, Read) != Memory {
		t.Error("the surer confidence was kept")
	}
}

func TestEveryWorkHasATitle(t *testing.T) {
	for key, w := range works {
		if key == "" || w.Title == "" {
			t.Errorf("row %+v is incomplete", w)
		}
	}
}

func TestTableRowsWithoutSourceArePanics(t *testing.T) {
	for name, text := range map[string]string{
		"no source":   "id,value,source,place,confidence\na,1,,,read\n",
		"odd word":    "id,value,source,place,confidence\na,1,wood-handbook,,sure\n",
		"unknown key": "id,value,source,place,confidence\na,1,nobody,,read\n",
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: accepted", name)
				}
			}()
			Table(name, text)
		}()
	}
	rows := Table("good", "id,value,source,place,confidence\na,1.5,wood-handbook,table 1,read\nb,2,,,assumed\n")
	if rows[0].Number("value") != 1.5 || rows[0].Cite().Place != "table 1" || rows[1].Cite().Confidence != Assumed {
		t.Errorf("rows are read wrongly: %+v", rows)
	}
}

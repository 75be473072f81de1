package shop

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/wood"
)

func example(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../../examples/shop.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestExampleShopHasNoProblems(t *testing.T) {
	s, problems := Parse("shop.yaml", []byte(example(t)))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if len(s.Timber) != 11 || len(s.Boards) != 3 || len(s.Offcuts) != 3 || len(s.Clamps) != 4 || s.Workers() != 4 {
		t.Errorf("%d timber, %d boards, %d offcuts, %d clamps, %d people",
			len(s.Timber), len(s.Boards), len(s.Offcuts), len(s.Clamps), s.Workers())
	}
	if !s.Can(hardware.BoreEnd) || s.Can(hardware.CutLooseTenon) || !s.Has("planer") {
		t.Error("the tools do not do what they should")
	}
	if d := s.DowelDiameters(); !slices.Equal(d, []unit.Length{8 * unit.Millimetre, 10 * unit.Millimetre}) {
		t.Errorf("dowels of %v", d)
	}
	six := s.Timber[3]
	if six.Size != "1x6" || six.Width != unit.Inch*11/2 || six.Thickness != unit.Inch*3/4 || six.Species != "eastern-white-pine" {
		t.Errorf("1x6: %+v", six)
	}
	if p := six.Pieces[1]; p.Length != 8*unit.Foot || p.Price != 1160 || !p.Priced {
		t.Errorf("8 ft of 1x6: %+v", p)
	}
	if s.Habits.Glue.ID != "yellow-pva" || s.Habits.Finish.ID != "dye-and-oil" || s.Habits.Kerf != unit.MM(3.2) {
		t.Errorf("habits %+v", s.Habits)
	}
	if c := s.Clamps[2]; c.Kind.ID != "pipe" || c.Force != 4000 || c.Opening != 1200*unit.Millimetre {
		t.Errorf("pipe clamps %+v", c)
	}
	if d := s.Boards[0].Defects; len(d) != 2 || d[1].Right != 184*unit.Millimetre {
		t.Errorf("defects %+v", d)
	}
	if w := s.Calendar.Windows; len(w) != 3 || w[0] != (Window{time.Tuesday, 18*60 + 30, 21 * 60}) || w[2].Day != time.Saturday {
		t.Errorf("windows %+v", w)
	}
	if s.Calendar.Starts != time.Date(2026, 10, 6, 0, 0, 0, 0, time.UTC) || len(s.Calendar.Holidays) != 4 {
		t.Errorf("calendar %+v", s.Calendar)
	}
}

func TestClimateGivesMoistureOfTheYear(t *testing.T) {
	s, _ := Parse("shop.yaml", []byte(example(t)))
	low, high := s.Use.MoistureRange()
	// [wood-handbook] table 4-2 at 21 °C: 25 % gives 5.4 and 60 % lies between 10.1 (55 %) and 12.0 (65 %).
	if math.Abs(float64(low)-5.6) > 0.2 || math.Abs(float64(high)-11.1) > 0.2 {
		t.Errorf("moisture from %.2f to %.2f", low, high)
	}
	if math.Abs(float64(s.Habits.TargetMoisture-(low+high)/2)) > 1e-9 {
		t.Errorf("target moisture %v", s.Habits.TargetMoisture)
	}
	if d, ok := s.DefaultOf("habits.target_moisture"); !ok || d.Text == "" {
		t.Error("the target moisture is not marked as a default")
	}
}

func TestShopKnowsWhichValuesAreDefaults(t *testing.T) {
	s, problems := Parse("s.yaml", []byte("longgrain-shop: 1\nname: Shed\nbenches: 0\ntools: []\nhabits: {kerf: 2.4 mm}\nboards: [{species: red pine, thickness: 20 mm, width: 90 mm, length: 1 m}]\n"))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	for path, isDefault := range map[string]bool{"habits.kerf": false, "benches": false, "tools": false, "name": false,
		"habits.snipe": true, "hours": true, "boards[0].moisture": true, "people": true, "climate.use.winter": true, "smallest_mark": true} {
		if _, ok := s.DefaultOf(path); ok != isDefault {
			t.Errorf("%s is a default: %v", path, ok)
		}
	}
	if b := s.Boards[0]; b.Moisture < 6 || b.Moisture > 10 {
		t.Errorf("a board without a reading has %v %% moisture", b.Moisture)
	}
	for _, d := range s.Defaults {
		if d.Cite.Confidence == "" {
			t.Errorf("default of %s has no origin", d.Path)
		}
	}
	if s.Habits.Kerf != unit.MM(2.4) || s.Habits.Snipe != unit.MM(65) || len(s.Tools) != 0 || s.Benches != 0 {
		t.Errorf("%+v", s)
	}
}

func TestNothingButANameIsAShop(t *testing.T) {
	s := Unknown()
	if len(s.Clamps) != 0 || len(s.Timber) != 0 || len(s.Tools) == 0 || len(s.Calendar.Windows) != 3 || s.Workers() != 1 {
		t.Errorf("%+v", s)
	}
	low, high := s.Use.MoistureRange()
	if math.Abs(float64(low)-6) > 0.5 || math.Abs(float64(high)-10) > 0.5 {
		t.Errorf("default moisture from %v to %v", low, high)
	}
	if s.Habits.Condition != wood.OrdinaryKnotty || s.Habits.Glue.ID == "" || s.Habits.Finish.ID == "" {
		t.Errorf("habits %+v", s.Habits)
	}
}

// Each row damages one line of the example; exactly the wanted problem must come out.
func TestDamagedShopsSayWhatIsWrong(t *testing.T) {
	for name, c := range map[string]struct{ old, new, path, want string }{
		"version":        {"longgrain-shop: 1", "longgrain-shop: 7", "longgrain-shop", "version 7 of the format is not known"},
		"units":          {"units: mm", "units: cm", "units", `there is no units "cm"`},
		"tool":           {"- table saw", "- tabel saw", "tools[0]", `did you mean "table saw"?`},
		"doubled tool":   {"- mitre saw", "- Table-Saw", "tools[1]", "the table saw stands twice"},
		"clamp":          {"pipe clamp", "pip clamp", "clamps[2].kind", `did you mean "pipe clamp"?`},
		"bare length":    {"opening: 600 mm", "opening: 600", "clamps[0].opening", "has no unit"},
		"nominal":        {"size: 1x3", "size: 1x33", "timber[0].size", `there is no nominal size "1x33"`},
		"species":        {"size: 1x3, species: eastern white pine", "size: 1x3, species: eastern white pin", "timber[0].species", `did you mean "eastern white pine"?`},
		"price alone":    {"price: 0.72, per: foot", "price: 0.72", "timber[0]", "price without per"},
		"per":            {"price: 0.72, per: foot", "price: 0.72, per: yard", "timber[0].per", `there is no per "yard"`},
		"no lengths":     {"lengths: [6 ft, 8 ft, 10 ft], price: 0.72, per: foot", "count: 3", "timber[0]", "does not say what lengths"},
		"doubled length": {"lengths: [6 ft, 8 ft, 10 ft], price: 0.72", "lengths: [6 ft, 6 ft], price: 0.72", "timber[0]", "stands twice"},
		"no size":        {"- {size: 1x3, species", "- {species", "timber[0]", "does not say how big"},
		"two sizes":      {"- {size: 1x3, species", "- {size: 1x3, width: 60 mm, species", "timber[0]", "both a nominal and a measured size"},
		"board name":     {"name: A2", "name: A1", "boards[1]", `two boards named "A1"`},
		"upright board":  {"thickness: 38 mm\n    width: 140 mm", "thickness: 380 mm\n    width: 140 mm", "boards[2].thickness", "above the width"},
		"defect":         {"from: 610 mm, to: 660 mm", "from: 660 mm, to: 610 mm", "boards[0].defects[0]", "not after it begins"},
		"defect beyond":  {"to: 2440 mm", "to: 2540 mm", "boards[0].defects[1].to", "beyond the end"},
		"month":          {"      - {humidity: 29, temperature: 20}\n", "", "climate.use.months", "has 11 months"},
		"humidity":       {"humidity: 26", "humidity: 126", "climate.use.months[0].humidity", "126 is out of range"},
		"season":         {"    winter: {humidity: 42, temperature: 14}\n", "", "climate.shop", "both ends of the year"},
		"time":           {"from: 18:30", "from: 1830", "hours[0].from", "not a time of day"},
		"backwards":      {"from: 18:30", "from: 22:30", "hours[0]", "before it begins"},
		"day":            {"[saturday]", "[satuday]", "hours[1].days[0]", `did you mean "saturday"?`},
		"overlap":        {"[saturday], from: 9:00", "[saturday, tuesday], from: 9:00, to: 19:00}\n  - {days: [sunday], from: 9:00", "hours[1].days[1]", "overlap on tuesday"},
		"holiday":        {"2026-12-24", "24.12.2026", "holidays[1]", "not a date"},
		"finish":         {"finish: water dye and hardening oil", "finish: water die and hardening oil", "habits.finish", "did you mean"},
		"glue":           {"glue: yellow PVA", "glue: yelow PVA", "habits.glue", `did you mean "yellow PVA"?`},
		"product":        {"product: water dye", "product: water dy", "finishes[0].product", `did you mean "water dye"?`},
		"barred":         {"barred: [table saw", "barred: [table", "people[1].barred[0]", `there is no tool "table"`},
		"key":            {"benches: 2", "bench: 2", "bench", `did you mean "benches"?`},
		"dowel":          {"diameter: 8 mm, length: 40 mm", "diameter: 40 mm, length: 12 mm", "dowels[0].length", "below the diameter"},
	} {
		text := example(t)
		damaged := strings.Replace(text, c.old, c.new, 1)
		if damaged == text {
			t.Errorf("%s: nothing was damaged", name)
			continue
		}
		_, problems := Parse("shop.yaml", []byte(damaged))
		if len(problems) != 1 || problems[0].At.Path != c.path || !strings.Contains(problems[0].Error(), c.want) || problems[0].At.Line == 0 {
			t.Errorf("%s: want one problem at %s with %q, got:\n%v", name, c.path, c.want, problems.Error())
		}
	}
}

func TestEveryProblemComesOutAtOnce(t *testing.T) {
	_, problems := Parse("s.yaml", []byte("longgrain-shop: 1\ntools: [lathe, table saw]\nclamps: [{kind: pipe clamp, opening: 1 m}]\nhabits: {kerf: 3, glue: paste}\n"))
	var codes []string
	for _, p := range problems {
		codes = append(codes, string(p.Code))
	}
	want := "missing-key unknown-name missing-key bad-length unknown-name"
	if got := strings.Join(codes, " "); got != want {
		t.Errorf("got  %s\nwant %s\n%v", got, want, problems.Error())
	}
}

func TestPricesByMeasure(t *testing.T) {
	text := "longgrain-shop: 1\nname: A\ntimber:\n" +
		"  - {size: 1x6, species: red pine, lengths: [8 ft], price: 3, per: board foot}\n" +
		"  - {thickness: 27 mm, width: 100 mm, species: scots pine, lengths: [2 m], price: 4.5, per: metre}\n" +
		"  - {thickness: 50 mm, width: 100 mm, species: scots pine, lengths: [2 m], price: 600, per: cubic metre}\n" +
		"  - {thickness: 18 mm, width: 400 mm, species: scots pine, panel: yes, lengths: [1200 mm, 800 mm]}\n" +
		"dowels: [{diameter: 6 mm}, {diameter: 8 mm, length: 40 mm, price: 0.09}]\n"
	s, problems := Parse("s.yaml", []byte(text))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	for i, want := range []unit.Money{1200, 900, 600} {
		if p := s.Timber[i].Pieces[0]; p.Price != want || !p.Priced {
			t.Errorf("timber %d costs %v, want %v", i, p.Price, want)
		}
	}
	if d := s.Dowels; d[0].Priced || !d[1].Priced || d[1].Price != 9 {
		t.Errorf("dowels %+v", d)
	}
	if p := s.Timber[3].Pieces; p[0].Priced || p[0].Length != 800*unit.Millimetre || s.Timber[3].Size != "18 x 400 mm" {
		t.Errorf("panel %+v", s.Timber[3])
	}
}

func TestShopSurvivesJSON(t *testing.T) {
	s, _ := Parse("shop.yaml", []byte(example(t)))
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var back Shop
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	again, _ := json.Marshal(back)
	if string(again) != string(text) {
		t.Error("a shop changes on its way through JSON")
	}
}

func TestSchemaNamesTheKeys(t *testing.T) {
	text := string(Schema())
	for _, key := range []string{"longgrain-shop", "drying_places", "habits", "additionalProperties"} {
		if !strings.Contains(text, `"`+key+`"`) {
			t.Errorf("the schema lacks %s", key)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(example(f)))
	f.Add([]byte("longgrain-shop: 1\nname: A\n"))
	f.Add([]byte("longgrain-shop: 1\nname: A\nclimate: {use: {months: []}}\nhours: [{days: [monday], from: 1:00, to: 24:00}]\n"))
	f.Add([]byte("longgrain-shop: 1\nname: A\nboards: [{species: red pine, defects: [{kind: knot}]}]\ntimber: [{}]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, problems := Parse("s.yaml", text)
		if len(problems) > 0 {
			for _, p := range problems {
				if p.Code == "" || p.What == "" {
					t.Errorf("problem says nothing: %+v", p)
				}
			}
			return
		}
		if s.Name == "" || s.SmallestMark <= 0 || len(s.Use.Weather) == 0 || s.Pace <= 0 {
			t.Errorf("shop without problems is not whole: %+v", s)
		}
		for _, b := range append(s.Boards, s.Offcuts...) {
			if b.Length <= 0 || b.Width <= 0 || b.Thickness <= 0 || b.Species == "" {
				t.Errorf("board %+v", b)
			}
		}
	})
}

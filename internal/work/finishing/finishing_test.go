package finishing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trial"
)

var room = shop.Weather{Name: "room", Humidity: 50, Temperature: 20}

// built places a piece and cuts the strongest hidden joint at each of its sites.
func built(t testing.TB, text string, s shop.Shop) assembly.Assembly {
	t.Helper()
	a := trial.Assembly(t, text)
	return trial.Cut(t, a, trial.Joints(t, a, trial.Means(s)))
}

func demo(t testing.TB, finish string) (assembly.Assembly, Plan) {
	t.Helper()
	s := trial.Shop(t, examples.Shop())
	a := built(t, examples.PlayTable(), s)
	f, ok := coating.LookupSchedule(finish)
	if !ok {
		t.Fatalf("no finish %s", finish)
	}
	return a, Make(a, s, f, room)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

func TestSurfaceOfThePlayTable(t *testing.T) {
	_, p := demo(t, "dye-and-oil")
	// By hand, in m²: legs 4(4·0.478·0.054 + 2·0.054²); aprons and rails 2(L W + L T + W T); the top likewise. Each of the 8
	// apron ends hides 110 x 23 mm twice, each of the 8 rail ends 60 x 23 mm twice.
	box := func(l, w, h float64) float64 { return 2 * (l*w + l*h + w*h) }
	total := 4*box(.478, .054, .054) + 2*box(.712, .110, .023) + 2*box(.372, .110, .023) + 2*box(.712, .06, .023) + 2*box(.372, .06, .023) + box(.9, .56, .022)
	hidden := 16 * (.110 + .06) * .023
	near(t, "total", float64(p.Total), total, 1e-9)
	near(t, "exposed", float64(p.Exposed), total-hidden, 1e-9)
	near(t, "end grain", float64(p.EndGrain), 8*.054*.054+2*.56*.022, 1e-9)
}

func TestTaperTakesItsShareOfTheSurface(t *testing.T) {
	mm := unit.Millimetre
	p := assembly.Part{Length: 400 * mm, Width: 40 * mm, Thickness: 40 * mm,
		Features: []assembly.Feature{{Kind: assembly.TaperCut, Side: assembly.FaceHigh, Length: 300 * mm, Depth: 10 * mm, Rising: true}}}
	s := Surface(p)
	near(t, "tapered face", float64(s[assembly.FaceHigh]), 0.04*(0.1+math.Hypot(0.3, 0.01)), 1e-9)
	near(t, "edge", float64(s[assembly.EdgeLow]), 0.4*0.04-0.3*0.01/2, 1e-9)
	near(t, "thin end", float64(s[assembly.EndHigh]), 0.04*0.03, 1e-9)
	near(t, "thick end", float64(s[assembly.EndLow]), 0.04*0.04, 1e-9)
}

func TestPlayTableIsDyedAndOiledOnceBeforeAssembly(t *testing.T) {
	_, p := demo(t, "dye-and-oil")
	var before, after []string
	for _, s := range p.Steps {
		text := string(s.Action) + " " + s.Product + s.Grit
		if s.Before {
			before = append(before, text)
		} else {
			after = append(after, text)
		}
	}
	if got := strings.Join(before, "; "); got != "sand P120; sand P180; raise grain wet sponge; sand P180; colour water dye; oil hardening wax oil; rub lint-free rag" {
		t.Errorf("before assembly: %s", got)
	}
	if got := strings.Join(after, "; "); got != "oil hardening wax oil; rub lint-free rag; wait " {
		t.Errorf("after assembly: %s", got)
	}
}

func TestOilStepsWarnOfRags(t *testing.T) {
	for _, f := range coating.ScheduleIDs() {
		_, p := demo(t, f)
		finish, _ := coating.LookupSchedule(f)
		for i, s := range p.Steps {
			product, wet := coating.LookupProduct(finish.Steps[i].Product)
			warned := slices.ContainsFunc(s.Hazards, func(h coating.Hazard) bool { return h.ID == "rags" })
			if wet && product.SelfHeats && (!s.Rags || !warned) {
				t.Errorf("%s step %d: rags %v, warned %v", f, s.Number, s.Rags, warned)
			}
			if s.Action == coating.Sand && !slices.ContainsFunc(s.Hazards, func(h coating.Hazard) bool { return h.ID == "dust" }) {
				t.Errorf("%s step %d sands without a word on dust", f, s.Number)
			}
		}
		if f == "paint" && !slices.ContainsFunc(p.Steps[5].Hazards, func(h coating.Hazard) bool { return h.ID == "child-lead" }) {
			t.Error("paint for a school says nothing of lead")
		}
	}
}

func TestLitresAndTins(t *testing.T) {
	_, p := demo(t, "dye-and-oil")
	effective := float64(p.Exposed) + 1.5*float64(p.EndGrain)
	near(t, "dye", float64(p.Products[0].Litres), 1.3*effective/8*1.15, 1e-9)
	near(t, "oil", float64(p.Products[1].Litres), 2*effective/24*1.15, 1e-9)
	dye, oil := p.Products[0], p.Products[1]
	if dye.Tins != int(math.Ceil(float64(dye.Litres)/0.25)) || oil.Tins != 1 || oil.Coats != 2 || oil.Price != 3800 {
		t.Errorf("dye %+v, oil %+v", dye, oil)
	}
	// An ounce of powder to two US quarts: 28.35 g to 1.89 L.
	near(t, "powder", float64(dye.Powder), 15*float64(dye.Litres), 1e-9)
	if dye.Note == "" || oil.Powder != 0 || oil.Note != "" {
		t.Errorf("dye %+v, oil %+v", dye, oil)
	}
}

func TestMaskingListsEveryJointTwice(t *testing.T) {
	a, p := demo(t, "dye-and-oil")
	if len(p.Masks) != 32 {
		t.Fatalf("%d masks", len(p.Masks))
	}
	m := p.Masks[0]
	if m.Mark != a.Parts[0].Mark || !strings.Contains(m.What, "holes") || !strings.HasPrefix(m.Where, "the ") {
		t.Errorf("%+v", m)
	}
}

func TestColdRoomDoublesWaitsAndIsAFinding(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	a := built(t, examples.PlayTable(), s)
	f, _ := coating.LookupSchedule("dye-and-oil")
	warm, cold := Make(a, s, f, room), Make(a, s, f, shop.Weather{Temperature: 8, Humidity: 50})
	if cold.Steps[4].Wait != 2*warm.Steps[4].Wait || warm.Steps[4].Wait != 12*60 {
		t.Errorf("dye waits %v min warm and %v cold", warm.Steps[4].Wait, cold.Steps[4].Wait)
	}
	if len(warm.Findings) != 0 || len(cold.Findings) != 1 || !strings.Contains(cold.Findings[0].What, "too cold") {
		t.Errorf("findings %v and %v", warm.Findings, cold.Findings)
	}
}

func TestProductThatTheShopLacksIsAFinding(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	s.Finishes = nil
	f, _ := coating.LookupSchedule("wax-oil")
	p := Make(built(t, examples.PlayTable(), s), s, f, room)
	if len(p.Findings) != 1 || p.Products[0].Tins != 0 || p.Products[0].Litres <= 0 {
		t.Errorf("%+v %+v", p.Findings, p.Products)
	}
}

func TestBlotchFollowsTheColour(t *testing.T) {
	for finish, want := range map[string]Risk{"dye-and-oil": LowRisk, "condition-stain-varnish": SomeRisk, "wax-oil": NoRisk, "none": NoRisk} {
		if _, p := demo(t, finish); p.Blotch.Risk != want || p.Blotch.Why == "" {
			t.Errorf("%s: %+v", finish, p.Blotch)
		}
	}
	bare, _ := coating.LookupSchedule("condition-stain-varnish")
	bare.Steps = slices.DeleteFunc(slices.Clone(bare.Steps), func(s coating.Step) bool { return s.Action == coating.Condition })
	a, _ := demo(t, "none")
	if b := blotch(a, bare); b.Risk != HighRisk {
		t.Errorf("stain on bare pine: %+v", b)
	}
	for i := range a.Parts {
		a.Parts[i].Species = "red-oak"
	}
	if b := blotch(a, bare); b.Risk != UnknownRisk && b.Risk != HighRisk {
		t.Errorf("hardwood: %+v", b)
	}
}

func TestSharesNameSteps(t *testing.T) {
	for k := range shareOf {
		f, ok := coating.LookupSchedule(k.schedule)
		if !ok || k.step < 1 || k.step > len(f.Steps) {
			t.Errorf("shares.csv names step %d of %s", k.step, k.schedule)
		}
	}
	_, p := demo(t, "paint")
	if p.Steps[2].Area > p.Exposed/10 || p.Steps[3].Area != p.Exposed {
		t.Error("the sealer is not limited to knots")
	}
}

func TestAreasStayWithinTheWholeSurface(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	f, _ := coating.LookupSchedule("water-clear")
	r := rand.New(rand.NewPCG(4, 2))
	pieces := 40
	if testing.Short() {
		pieces = 8
	}
	for range pieces {
		text := strings.NewReplacer("length: 900 mm", fmt.Sprintf("length: %d mm", 600+r.IntN(900)), "width: 560 mm", fmt.Sprintf("width: %d mm", 420+r.IntN(500)),
			"leg: 48 mm", fmt.Sprintf("leg: %d mm", 36+r.IntN(40)), "apron_width: 95 mm", fmt.Sprintf("apron_width: %d mm", 60+r.IntN(60))).Replace(examples.PlayTable())
		p := Make(built(t, text, s), s, f, room)
		for _, x := range p.Areas {
			if x.Exposed <= 0 || x.Exposed > x.Total || x.EndGrain < 0 || x.EndGrain > x.Exposed {
				t.Errorf("%+v", x)
			}
			near(t, "exposed and hidden", float64(x.Exposed+x.Masked), float64(x.Total), float64(x.Total)*0.02)
		}
	}
}

func TestEmptyPieceTakesNothing(t *testing.T) {
	f, _ := coating.LookupSchedule("dye-and-oil")
	p := Make(assembly.Assembly{}, shop.Unknown(), f, room)
	if p.Exposed != 0 || p.Products[0].Litres != 0 {
		t.Errorf("%+v", p)
	}
	if p := Make(assembly.Assembly{}, shop.Shop{}, coating.Schedule{}, room); len(p.Steps) != 0 || p.TestPiece != "" {
		t.Errorf("%+v", p)
	}
}

func BenchmarkMake(b *testing.B) {
	s := trial.Shop(b, examples.Shop())
	a := built(b, examples.PlayTable(), s)
	f, _ := coating.LookupSchedule("dye-and-oil")
	for b.Loop() {
		Make(a, s, f, room)
	}
}
